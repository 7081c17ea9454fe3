/** Whether the app works without a signal, in words. */

import { _ } from '../language.js';
import { h, setText } from './element.js';

const words = () => ({
  asking: _('Getting ready to work without a signal …'),
  ready: _('Ready to work without a signal.'),
  insecure: _('This address is neither https nor localhost, so the browser will not keep the app for use without a signal.'),
  unsupported: _('This browser cannot keep the app for use without a signal.'),
  failed: _('The app could not be kept for use without a signal. Load the page again while you have one.'),
})[state];

/** @typedef {'asking' | 'ready' | 'insecure' | 'unsupported' | 'failed'} State */
/** @type {State} */
let state = 'asking';

/** Changes the words wherever they stand now. @param {State} next */
export function setOfflineState(next) {
  state = next;
  for (const line of document.querySelectorAll('[data-offline]')) setText(line, words());
}

/** A line that says it, now and when it changes. */
export function offlineLine() {
  return h('p', { 'data-offline': true, class: 'fine' }, words());
}
