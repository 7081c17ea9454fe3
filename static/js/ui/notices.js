/** Sentences at the top of the page that stay until they are settled. */
import { _ } from '../language.js';
import { h } from './element.js';

const region = h('div', { class: 'notices', role: 'status', 'aria-live': 'polite' });

/** The region, to be put into the page once. */
export const noticeRegion = () => region;

/**
 * Shows a sentence; one with the same name is replaced.
 * @param {string} name
 * @param {string} text
 * @param {{kind?: '' | 'bad', actions?: [string, () => void][], close?: boolean, passing?: boolean}} [more] `passing` says
 *   something of this page, and goes with it
 */
export function notice(name, text, { kind = '', actions = [], close = true, passing = false } = {}) {
  clearNotice(name);
  const buttons = actions.map(([label, act]) => h('button', { class: 'button', onclick: act }, label));
  if (close) buttons.push(h('button', { class: 'button quiet', onclick: () => clearNotice(name) }, _('Close')));
  region.append(h('div', { class: `notice ${kind}`, 'data-name': name },
    h('p', {}, text), h('div', { class: 'links' }, ...buttons)));
  if (passing) window.addEventListener('hashchange', () => clearNotice(name), { once: true });
}

/** @param {string} name */
export function clearNotice(name) {
  region.querySelector(`[data-name="${name}"]`)?.remove();
}
