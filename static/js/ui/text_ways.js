/** A text on the clipboard, or passed on to another app. */
import { _ } from '../language.js';
import { h } from './element.js';
import { notice } from './notices.js';

/** A page on paper, its text on the clipboard, or passed on. @param {() => string} text */
export function textWays(text) {
  const place = h('div', { role: 'status' });
  return h('div', { class: 'plan-ways' }, h('div', { class: 'links' },
    h('button', { class: 'button', onclick: () => window.print() }, _('Print')),
    copyButton(_('Copy as text'), text, place), shareButton(() => ({ title: document.title, text: text() }))), place);
}

/** A button that copies a text; where the browser does not copy, the text stands in `place`, selected, for the hand to do it. @param {string} label @param {() => string} text @param {HTMLElement} place */
export const copyButton = (label, text, place) => h('button', { class: 'button', onclick: () => copy(text(), label, place) }, label);

async function copy(text, label, place) {
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

/** A button that hands something to another app; nothing where the browser cannot. @param {() => ShareData} what */
export const shareButton = (what) => 'share' in navigator && h('button', { class: 'button', onclick: async () => {
  try {
    await navigator.share(what());
  } catch (problem) {
    // Somebody who thought better of it knows it already.
    if (problem.name !== 'AbortError') notice('share', _('It could not be shared ({reason}). Copy it as text instead.', { reason: problem.message || problem.name }), { kind: 'bad' });
  }
} }, _('Share'));
