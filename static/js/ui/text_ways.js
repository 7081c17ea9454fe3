/** A page on paper, as text on the clipboard, or passed on. */
import { _ } from '../language.js';
import { h } from './element.js';
import { notice } from './notices.js';

/** @param {() => string} textOf the page as text @param {string} label of the field that holds it where the browser does not copy */
export function textWays(textOf, label) {
  const place = h('div', { role: 'status' });
  return h('div', { class: 'plan-ways' }, h('div', { class: 'links' },
    h('button', { class: 'button', onclick: () => window.print() }, _('Print')),
    h('button', { class: 'button', onclick: () => copy(textOf(), place, label) }, _('Copy as text')),
    'share' in navigator && h('button', { class: 'button', onclick: () => share(textOf()) }, _('Share'))), place);
}

/** Where the browser does not copy, the text stands there, selected, for the hand to do it. */
async function copy(text, place, label) {
  try {
    await navigator.clipboard.writeText(text);
    place.replaceChildren(h('p', {}, _('Copied.')));
  } catch {
    const field = /** @type {HTMLTextAreaElement} */ (h('textarea', { rows: 8, readonly: true, 'aria-label': label }));
    field.value = text;
    place.replaceChildren(h('p', {}, _('This browser does not copy by itself. The text is selected: copy it from here.')), field);
    field.focus();
    field.select();
  }
}

async function share(text) {
  try {
    await navigator.share({ title: document.title, text });
  } catch (problem) {
    // Somebody who thought better of it knows it already.
    if (problem.name !== 'AbortError') notice('share', _('It could not be shared ({why}). Copy it as text instead.', { why: problem.message || problem.name }), { kind: 'bad' });
  }
}
