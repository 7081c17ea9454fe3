/** Cautions: always in the open, never behind a tap. */
import { h } from './element.js';

/** @param {any} pack @param {string[]} ids */
export function cautionBlocks(pack, ids) {
  return pack.cautions.filter((row) => ids.includes(row.id)).map((row) => h('aside', { class: 'caution', 'aria-label': 'Caution' },
    h('p', {}, h('strong', {}, `${row.title}. `), row.text),
    h('p', { class: 'who' }, row.who)));
}
