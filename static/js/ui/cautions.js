/** Cautions with their signs: always in the open, never behind a tap. */
import { assetUrl, loadReasons } from '../store/packs.js';
import { h, setText, svg } from './element.js';

/** @param {any} pack @param {string[]} ids */
export function cautionBlocks(pack, ids) {
  return pack.cautions.filter((row) => ids.includes(row.id)).map((row) => h('aside', { class: 'caution', 'aria-label': 'Caution' },
    svg('svg', { class: 'sign', role: 'img', 'aria-label': pack.signs?.[row.sign]?.name ?? row.sign }, svg('use', { href: `${assetUrl('icons/signs.svg')}#${row.sign}` })),
    h('div', {},
      h('p', {}, h('strong', {}, `${row.title}.`)),
      row.look && h('p', { class: 'look' }, `Look for: ${row.look}`),
      h('p', {}, row.text),
      h('p', { class: 'who' }, row.who),
      grounds(pack, row))));
}

/** What a caution rests on. The source's name stands with the reasons, which come from their own file. */
function grounds(pack, row) {
  const line = h('p', { class: 'grounds' });
  const say = () => {
    const source = pack.sources?.[row.source]?.title;
    setText(line, `Rests on: ${row.basis}${source ? ` (${source})` : ''}.`);
    return !row.source || source;
  };
  if (!say()) loadReasons(pack.family).then(say);
  return line;
}
