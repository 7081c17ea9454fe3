/** Removing a lot: its sets stay as single sets, or go along. One tap undoes either. */
import { binLot, bringBackLot, openLot, setsOfLot } from '../store/lots.js';
import { h } from './element.js';
import { lotName } from './lot_head.js';
import { countSets } from './lot_rows.js';
import { clearNotice, notice } from './notices.js';
import { sayUnsaved } from './sale_words.js';

/** @param {import('../store/lots.js').Lot} lot */
export function lotRemoval(lot) {
  const place = h('div', { class: 'confirm' });
  const first = h('button', { class: 'button', onclick: () => ask().catch(sayUnsaved) }, 'Remove this lot');
  const rest = () => place.replaceChildren(first);
  const ask = async () => {
    const count = (await setsOfLot(lot.id)).length;
    const keep = h('button', { class: 'button', onclick: () => {
      rest();
      first.focus();
    } }, 'Leave it as it is');
    const ways = count === 0 ? [choice(lot, false, 'Remove it')]
      : [choice(lot, false, `Keep the ${countSets(count)} as single sets`), choice(lot, true, `Remove the ${countSets(count)} too`)];
    place.replaceChildren(h('p', { role: 'alert' }, count === 0 ? 'The lot holds no sets.' : `What becomes of its ${countSets(count)}? All of it comes back with one tap.`),
      h('div', { class: 'links' }, ...ways, keep));
    keep.focus();
  };
  rest();
  return place;
}

function choice(lot, withSets, words) {
  return h('button', { class: 'button danger', onclick: async () => {
    try {
      await binLot(lot.id, withSets);
      location.hash = '#/';
      notice('removed', `${lotName(await openLot(lot.id))} removed.`, { actions: [['Undo', () => {
        clearNotice('removed');
        bringBackLot(lot.id).then(() => window.dispatchEvent(new Event('underchassis-changed')), sayUnsaved);
      }]] });
    } catch (problem) {
      sayUnsaved(problem);
    }
  } }, words);
}
