/** Whether the app works without a signal, in words. */

import { h, setText } from './element.js';

const WORDS = {
  asking: 'Getting ready to work without a signal …',
  ready: 'Ready to work without a signal.',
  insecure: 'This address is neither https nor localhost, so the browser will not keep the app for use without a signal.',
  unsupported: 'This browser cannot keep the app for use without a signal.',
  failed: 'The app could not be kept for use without a signal. Load the page again while you have one.',
};

/** @type {keyof typeof WORDS} */
let state = 'asking';

/** Changes the words wherever they stand now. @param {keyof typeof WORDS} next */
export function setOfflineState(next) {
  state = next;
  for (const line of document.querySelectorAll('[data-offline]')) setText(line, WORDS[state]);
}

/** A line that says it, now and when it changes. */
export function offlineLine() {
  return h('p', { 'data-offline': true, class: 'fine' }, WORDS[state]);
}
