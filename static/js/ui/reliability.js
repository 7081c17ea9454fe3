/** How often what the app stated held, counted over outcomes. */
import { _ } from '../language.js';

/** Standard normal 97.5 % point: both ends together leave out 5 %. */
const Z = 1.959963984540054;

/**
 * @typedef {Object} Row
 * @property {'price' | 'hours'} of
 * @property {string} what was counted
 * @property {number} level stated share, 0 to 1
 * @property {boolean} point whether it belongs into the diagram; the share inside a range does not
 * @property {number} held
 * @property {number} count
 * @property {number} observed share that held, 0 where nothing was counted
 * @property {number} low of the 95 % interval
 * @property {number} high
 */

/**
 * The 95 % score interval of a share. Source: Wilson 1927, "Probable inference, the law of succession, and
 * statistical inference", Journal of the American Statistical Association 22.
 * @param {number} held @param {number} count
 */
export function wilson(held, count) {
  if (count === 0) return { low: 0, high: 1 };
  const share = held / count;
  const square = Z * Z / count;
  const middle = (share + square / 2) / (1 + square);
  const reach = Math.sqrt(square * share * (1 - share) + square * square / 4) / (1 + square);
  // At either end the interval ends there too; rounding would leave a hair.
  return { low: held === 0 ? 0 : middle - reach, high: held === count ? 1 : middle + reach };
}

/**
 * Counts prices against the stated range, and hours really spent against the stated ones. A gift tells nothing of
 * prices, and no hours nothing of work.
 * @param {import('../store/outcomes.js').Outcome[]} outcomes of sets bought or sold
 * @returns {Row[]}
 */
export function reliability(outcomes) {
  const priced = outcomes.filter(({ price }) => price > 0);
  const worked = outcomes.filter(({ hours, stated }) => hours > 0 && stated.hours.p50 > 0);
  const row = (of, what, level, from, held, point = true) => {
    const count = from.filter(held).length;
    return { of, what, level, point, held: count, count: from.length, observed: count / (from.length || 1), ...wilson(count, from.length) };
  };
  return [
    row('price', _('Price inside the range'), 0.8, priced, ({ price, stated }) => price >= stated.low && price <= stated.high, false),
    row('price', _('Price at or below the low'), 0.1, priced, ({ price, stated }) => price <= stated.low),
    row('price', _('Price at or below the middle'), 0.5, priced, ({ price, stated }) => price <= stated.mid),
    row('price', _('Price at or below the high'), 0.9, priced, ({ price, stated }) => price <= stated.high),
    row('hours', _('Hours at or below the lower figure'), 0.5, worked, ({ hours, stated }) => hours <= stated.hours.p50),
    row('hours', _('Hours at or below the upper figure'), 0.9, worked, ({ hours, stated }) => hours <= stated.hours.p90),
  ];
}

/** What the share inside the range proves so far. @param {Row} inside */
export function reliabilityWords({ held, count, level, low, high }) {
  const promised = 10 * level;
  if (count === 0) return _('No price is recorded yet. Say at the end of a verdict what became of the set; then this page counts how often the stated range held.');
  if (count === 1) return [held ? _('The one price recorded so far fell inside the stated range.') : _('The one price recorded so far fell outside the stated range.'), _('One proves nothing; {promised} in 10 is what the ranges promise.', { promised })].join(' ');
  if (count === 2) return [twoWords(held), _('Two prove nothing; {promised} in 10 is what the ranges promise.', { promised })].join(' ');
  return [_('{held} of {count} prices fell inside the stated range; {promised} in 10 is what the ranges promise.', { held, count, promised }), proofWords(level, low, high)].join(' ');
}

function twoWords(held) {
  if (held === 0) return _('Neither of the two prices recorded so far fell inside the stated range.');
  return held === 1 ? _('One of the two prices recorded so far fell inside the stated range.') : _('Both of the two prices recorded so far fell inside the stated range.');
}

function proofWords(level, low, high) {
  if (high < level) return _('Chance alone hardly does that: the ranges are too narrow for what you meet.');
  if (low > level) return _('Chance alone hardly does that: the ranges are wider than they need be.');
  return high - low > 0.2 ? _('With so few nothing is proved.') : _('That agrees.');
}
