/** The plan on paper, on the clipboard, or passed on. */
import { _ } from '../language.js';
import { h } from './element.js';
import { notice } from './notices.js';
import { planText } from './plan_text.js';

/** @param {any} appraised what pages/appraised.js gives */
export function planWays(appraised) {
  const place = h('div', { role: 'status' });
  return h('div', { class: 'plan-ways' }, h('div', { class: 'links' },
    h('button', { class: 'button', onclick: () => window.print() }, _('Print')),
    h('button', { class: 'button', onclick: () => copy(planText(appraised), place) }, _('Copy as text')),
    'share' in navigator && h('button', { class: 'button', onclick: () => share(appraised) }, _('Share'))), place);
}

/** Where the browser does not copy, the text stands there, selected, for the hand to do it. */
async function copy(text, place) {
  try {
    await navigator.clipboard.writeText(text);
    place.replaceChildren(h('p', {}, _('Copied.')));
  } catch {
    const field = /** @type {HTMLTextAreaElement} */ (h('textarea', { rows: 8, readonly: true, 'aria-label': _('The plan as text') }));
    field.value = text;
    place.replaceChildren(h('p', {}, _('This browser does not copy by itself. The text is selected: copy it from here.')), field);
    field.focus();
    field.select();
  }
}

async function share(appraised) {
  try {
    await navigator.share({ title: document.title, text: planText(appraised) });
  } catch (problem) {
    // Somebody who thought better of it knows it already.
    if (problem.name !== 'AbortError') notice('share', _('It could not be shared ({why}). Copy it as text instead.', { why: problem.message || problem.name }), { kind: 'bad' });
  }
}
