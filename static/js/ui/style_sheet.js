/** Styles that only some pages need, fetched when the first of them opens. */
import { assetUrl } from '../store/packs.js';

/** @type {Map<string, Promise<void>>} */
const asked = new Map();

/** Adds a style sheet once. @param {string} name of a file in `css/`, without its ending @returns {Promise<void>} once it counts; without it the page still works */
export function useStyle(name) {
  if (!asked.has(name)) {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = assetUrl(`css/${name}.css`);
    asked.set(name, new Promise((resolve) => {
      link.onload = () => resolve();
      link.onerror = () => resolve();
    }));
    document.head.append(link);
  }
  return asked.get(name);
}
