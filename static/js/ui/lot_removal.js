/** Removing a lot: its sets stay as single sets, or go along. One tap undoes either. */
import { _, _n } from '../language.js';
import { binLot, bringBackLot, openLot, setsOfLot } from '../store/lots.js';
import { h } from './element.js';
import { lotName } from './lot_head.js';
import { clearNotice, notice } from './notices.js';
import { sayUnsaved } from './sale_words.js';

/** @param {import('../store/lots.js').Lot} lot */
export function lotRemoval(lot) {
  const place = h('div', { class: 'confirm' });
  const first = h('button', { class: 'button', onclick: () => ask().catch(sayUnsaved) }, _('Remove this lot'));
  const rest = () => place.replaceChildren(first);
  const ask = async () => {
    const count = (await setsOfLot(lot.id)).length;
    const keep = h('button', { class: 'button', onclick: () => {
      rest();
      first.focus();
    } }, _('Leave it as it is'));
    const ways = count === 0 ? [choice(lot, false, _('Remove it'))]
      : [choice(lot, false, _n('Keep the {count} set as single sets', 'Keep the {count} sets as single sets', count)), choice(lot, true, _n('Remove the {count} set too', 'Remove the {count} sets too', count))];
    place.replaceChildren(h('p', { role: 'alert' }, count === 0 ? _('The lot holds no sets.') : _n('What becomes of its {count} set? All of it comes back with one tap.', 'What becomes of its {count} sets? All of it comes back with one tap.', count)),
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
      notice('removed', _('{lot} removed.', { lot: lotName(await openLot(lot.id)) }), { actions: [[_('Undo'), () => {
        clearNotice('removed');
        bringBackLot(lot.id).then(() => window.dispatchEvent(new Event('underchassis-changed')), sayUnsaved);
      }]] });
    } catch (problem) {
      sayUnsaved(problem);
    }
  } }, words);
}
