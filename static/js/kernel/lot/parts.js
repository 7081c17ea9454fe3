/** What the parts of one kind of set mean to a lot. Twin of webapp/appraisal/lot/parts.py. */
import { threePoint } from '../prepared.js';

/** A plate, a serial number or a book of one serial names one set; in another it would be a forgery. */
const NAMING = ['nameplate', 'serial'];

/**
 * @typedef {Object} LotPart
 * @property {string} id
 * @property {number} check
 * @property {number} best the best option of its check
 * @property {boolean} moves whether it can go from one set to another
 * @property {number | null} buy what one costs (three-point mean), null where nobody sells it
 * @property {number} buyVariance
 * @property {number} worth what a part in state 1 is expected to fetch
 *
 * @typedef {{parts: LotPart[], contained: [number, number][]}} Kinds the parts, and per task the price of the
 *   part that its materials contain: in a lot that part is paid, or given, by itself
 */

/** What the parts of a pack mean to a lot. @returns {Kinds} */
export function kindsOf(prepared) {
  const parts = prepared.parts.map((_, index) => lotPart(prepared, index));
  const prices = new Map(parts.map((part) => [part.id, [part.buy ?? 0, part.buyVariance]]));
  return { parts, contained: prepared.pack.tasks.map((task) => prices.get(task.part) ?? [0, 0]) };
}

function lotPart(prepared, index) {
  const part = prepared.parts[index];
  const raw = prepared.pack.parts[index];
  const [buy, buyVariance] = raw.buy === null ? [null, 0] : threePoint(raw.buy);
  return {
    id: part.id,
    check: part.check,
    best: bestOption(prepared.checks[part.check]),
    moves: moves(prepared.pack, raw, part.check, part.salvageMean),
    buy,
    buyVariance,
    worth: prepared.pack.sell_through * part.salvageMean,
  };
}

/** The option with the highest state, then the highest mean effect, then the first. */
function bestOption({ options }) {
  let best = 0;
  options.forEach((option, at) => {
    const { state, mean } = options[best];
    if (option.state > state || (option.state === state && option.mean > mean)) best = at;
  });
  return best;
}

/** Whether a part can be handed to another set of its kind: it fits, comes out whole and names nothing. */
function moves(pack, raw, check, salvage) {
  const { sheet } = pack;
  if (NAMING.includes(pack.checks[check].asks) || salvage <= 0) return false;
  if (raw.id === pack.effects.book_part && sheet?.book !== 'by model') return false;
  return Boolean(sheet) || raw.fits_family;
}
