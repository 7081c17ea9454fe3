/** In the place of a set that is not in the notebook: where it may be, and the way back for one that was removed. */
import { _ } from '../language.js';
import { openDatabase } from '../store/database.js';
import { binSets } from '../store/notebook.js';
import { h } from './element.js';
import { notice } from './notices.js';

/** @param {HTMLElement} main @param {string} id @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showMissing(main, id) {
  const base = await (await openDatabase()).get('sets', id);
  const again = () => window.dispatchEvent(new Event('hashchange'));
  const back = h('button', { class: 'button strong', onclick: () => binSets([base], false).then(again, (problem) => notice('save', problem.message, { kind: 'bad' })) }, _('Bring it back'));
  main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, base ? _('This set was removed') : _('This set is not on this device')),
    h('p', {}, base ? _('What was found of it is still here.') : _('It may be on another device that this one shares no notebook with.')),
    h('div', { class: 'links' }, base && back, base && h('a', { class: 'button', href: `#/history/${id}` }, _('History')), h('a', { class: 'button', href: '#/' }, _('To the notebook')))));
  return { refresh: async () => {
    if (base && !(await (await openDatabase()).get('sets', id))?.removed) again();
  } };
}
