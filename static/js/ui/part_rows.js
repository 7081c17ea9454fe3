/** The parts of a family as people read them. Twin of webapp/pages/part_rows.py. */
import { _ } from '../language.js';
import { figure } from './money.js';
import { estimate } from './rule_figures.js';
import { row } from './rule_row.js';

/** The parts of a family. @param {any} pack */
export function partRows(pack) {
  return pack.parts.map((part) => row(`part.${part.id}`, part.label, [
    weight(part),
    ...trade(part, pack.reference.currency),
    find(part),
    part.calibration && _('The set needs it to read true.'),
    part.fits_family && _('Fits other types of the family.'),
  ], part));
}

const find = (part) => ({
  easy: _('To find: easy.'), 'takes patience': _('To find: takes patience.'), hard: _('To find: hard.'), 'not to be had': _('To find: not to be had.'),
})[part.find];

/** The sentence for a part's weight. @param {any} part */
export const weight = (part) => _('Weight {weight} in completeness.', { weight: figure(part.weight) });

/** What a part fetches and costs, as far as the row says so. */
export function trade({ salvage, buy }, currency) {
  return [
    salvage && _('Fetches {money}.', { money: estimate(salvage, currency) }),
    buy ? _('Costs {money}.', { money: estimate(buy, currency) }) : buy === null && _('Nobody sells it.'),
  ];
}
