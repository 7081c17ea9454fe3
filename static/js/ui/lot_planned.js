/** A lot with its plan in words, for the pages that show one. */
import { _ } from '../language.js';
import { LotPlanning } from '../store/lot_planning.js';
import { LotReckoning } from '../store/lot_reckoning.js';
import { openLot } from '../store/lots.js';
import { LotView } from './lot_view.js';

/** In the place of a plan that is on its way: a long lot takes a phone some seconds. */
export const planningWords = () => _('Planning on this phone …');
/** In the place of a plan that there cannot be. */
export const nothingWords = () => _('There is nothing to plan yet: this lot has no sets, or their rule tables or model sheets are not on this phone.');

/**
 * @param {string} id of the lot
 * @returns {Promise<{planning: LotPlanning, view: LotView} | null>} null while the lot has no set that can be reckoned
 */
export async function planned(id) {
  const reckoning = await LotReckoning.of(await openLot(id));
  if (reckoning.size === 0) return null;
  const planning = new LotPlanning(reckoning);
  return { planning, view: new LotView(reckoning, await planning.plan()) };
}
