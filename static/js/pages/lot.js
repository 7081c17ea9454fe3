/** The pages of one lot: which of them the address names. */
import { _ } from '../language.js';
import { bringBackLot, openLot } from '../store/lots.js';
import { h } from '../ui/element.js';
import { clearNotice, notice } from '../ui/notices.js';
import { useStyle } from '../ui/style_sheet.js';

/** Pages by the word after the lot's id. */
const PAGES = {
  round: async () => (await import('./lot_round.js')).showRound,
  plan: async () => (await import('./lot_plan.js')).showLotPlan,
  pick: async () => (await import('./lot_pick.js')).showPick,
  add: async () => (await import('./lot_add.js')).showAdd,
};

/**
 * @param {HTMLElement} main
 * @param {string[]} words of the address: id of the lot, perhaps a page, perhaps more
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showLot(main, [id, part = '', more = '']) {
  const [lot] = await Promise.all([openLot(id), useStyle('lot')]);
  if (!lot || lot.removed) return gone(main, id, lot);
  if (part) window.scrollTo(0, 0);
  const show = await PAGES[part]?.() ?? (await import('./lot_sets.js')).showSets;
  const page = await show(main, lot, more);
  // Another tab or device may remove it meanwhile.
  return { refresh: async () => ((await openLot(id)).removed ? again() : page.refresh()) };
}

const again = () => window.dispatchEvent(new Event('hashchange'));

/** In the place of a lot that is not in the notebook. */
function gone(main, id, lot) {
  const back = h('button', { class: 'button strong', onclick: () => {
    clearNotice('removed');
    bringBackLot(id).then(again, (problem) => notice('save', problem.message, { kind: 'bad' }));
  } }, _('Bring it back'));
  main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, lot ? _('This lot was removed') : _('This lot is not on this device')),
    h('p', {}, lot ? _('Its sets are in the notebook, unless they were removed with it.') : _('It may be on another device that this one shares no notebook with.')),
    h('div', { class: 'links' }, lot && back, h('a', { class: 'button', href: '#/' }, _('To the notebook')))));
  return { refresh: async () => {
    const now = await openLot(id);
    if (now && !now.removed) again();
  } };
}
