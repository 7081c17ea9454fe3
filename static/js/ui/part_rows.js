/** The parts of a family as people read them. Twin of webapp/pages/part_rows.py. */
import { figure } from './money.js';
import { estimate } from './rule_figures.js';
import { row } from './rule_row.js';

/** The parts of a family. @param {any} pack */
export function partRows(pack) {
  return pack.parts.map((part) => row(`part.${part.id}`, part.label, [
    weight(part),
    ...trade(part, pack.reference.currency),
    `To find: ${part.find}.`,
    part.calibration && 'The set needs it to read true.',
    part.fits_family && 'Fits other types of the family.',
  ], part));
}

/** The sentence for a part's weight. @param {any} part */
export const weight = (part) => `Weight ${figure(part.weight)} in completeness.`;

/** What a part fetches and costs, as far as the row says so. */
export function trade({ salvage, buy }, currency) {
  return [
    salvage && `Fetches ${estimate(salvage, currency)}.`,
    buy ? `Costs ${estimate(buy, currency)}.` : buy === null && 'Nobody sells it.',
  ];
}
