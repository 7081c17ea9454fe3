/** Taking part in a notebook whose key was scanned. */
import { _ } from '../language.js';
import { isKey } from '../sync/key.js';
import { h } from '../ui/element.js';
import { joinParts } from '../ui/join_parts.js';

/** @param {HTMLElement} main @param {string} key which the address no longer shows */
export async function showJoin(main, key) {
  document.title = `${_('Second device')} · Underchassis`;
  const parts = isKey(key) ? await joinParts(key) : [h('p', {}, _('There is no key here; it is taken off the address as soon as it was read. Point the camera at the symbol again, or type the twelve words.'))];
  main.replaceChildren(h('header', { class: 'top' }, h('a', { class: 'back', href: '#/backup', 'aria-label': _('Second device and backup') }, '‹'), h('h1', {}, _('A notebook to share'))),
    h('div', { class: 'page' }, h('section', { class: 'card' }, ...parts, h('p', { class: 'links' }, h('a', { class: 'button quiet', href: '#/backup' }, _('Back'))))));
  return { refresh: async () => {} };
}
