/** The head of a page of a lot. */
import { _ } from '../language.js';
import { h } from './element.js';

/**
 * @param {import('../store/lots.js').Lot} lot
 * @param {string} back address
 * @param {Node | string} title
 * @param {string} sub
 * @param {...HTMLElement} more beside them
 */
export function lotHead(lot, back, title, sub, ...more) {
  const named = typeof title === 'string' ? title : lot.name || _('Lot');
  document.title = `${named} · Underchassis`;
  return h('header', { class: 'top' }, h('a', { class: 'back', href: back, 'aria-label': back === '#/' ? _('Notebook') : _('The lot') }, '‹'),
    h('div', {}, h('h1', { tabindex: -1 }, title), h('p', { class: 'sub' }, sub)), ...more);
}

/** What a lot is called. @param {import('../store/lots.js').Lot} lot */
export const lotName = (lot) => lot.name || _('A lot without a name');
