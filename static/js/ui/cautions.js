/** Cautions with their signs: always in the open, never behind a tap. */
import { _ } from '../language.js';
import { assetUrl, loadReasons } from '../store/packs.js';
import { basisWords } from './basis_words.js';
import { h, svg } from './element.js';

/** @param {any} pack @param {string[]} ids */
export function cautionBlocks(pack, ids) {
  return pack.cautions.filter((row) => ids.includes(row.id)).map((row) => h('aside', { class: 'caution', 'aria-label': _('Caution') },
    svg('svg', { class: 'sign', role: 'img', 'aria-label': pack.signs?.[row.sign]?.name ?? row.sign }, svg('use', { href: `${assetUrl('icons/signs.svg')}#${row.sign}` })),
    body(pack, row)));
}

/** Its words. On a first visit all but the title, and the source's name, may still be on their way. */
function body(pack, row) {
  const place = h('div', {});
  const source = () => pack.sources?.[row.source]?.title;
  const fill = () => place.replaceChildren(...[
    h('p', {}, h('strong', {}, `${row.title}.`)),
    row.look && h('p', { class: 'look' }, _('Look for: {signs}', { signs: row.look })),
    row.text && h('p', {}, row.text),
    row.who && h('p', { class: 'who' }, row.who),
    row.basis && h('p', { class: 'grounds' }, grounds(basisWords(row.basis), source())),
  ].filter(Boolean));
  fill();
  if (!row.text || (row.source && !source())) loadReasons(pack.family).then(fill, () => undefined);
  return place;
}

const grounds = (basis, source) => (source ? _('Rests on: {basis} ({source}).', { basis, source }) : _('Rests on: {basis}.', { basis }));
