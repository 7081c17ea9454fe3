/**
 * The added holes that a seller told of beside those that a buyer found. Twin of webapp/appraisal/claimed_holes.py.
 *
 * @typedef {Object} Links what the buyer said of single holes told of
 * @property {(number | null)[]} answers for each hole found the number of the told one that it answers
 * @property {number[]} gone those told ones that are not there
 *
 * @typedef {Object} Pairs
 * @property {(number | null)[]} found for each told hole the found one; null: not looked at
 * @property {Set<number>} agreeing told holes whose found ones are as told
 * @property {Set<number>} gone
 * @property {number[]} untold
 */
import { logarithmicMean } from './money.js';
import { holeSeverity, holeSize } from './standing.js';

/** @typedef {import('./findings.js').Hole} Hole */

/**
 * The holes told of and found, pair by pair. What the buyer linked is a pair, and agrees when nothing differs. What he
 * listed by himself is a pair where place, state and row of size are alike: more than that, two who judge by eye cannot tell.
 * @param {any} pack
 * @param {Hole[]} told
 * @param {Hole[]} found
 * @param {Links} links
 * @param {boolean} noneFound the buyer says that there are none
 * @returns {Pairs}
 */
export function pairHoles(pack, told, found, { answers, gone: saidGone }, noneFound) {
  /** @type {(number | null)[]} */
  const pairs = told.map(() => null);
  const free = new Set(found.keys());
  answers.slice(0, found.length).forEach((answered, number) => {
    if (answered !== null && pairs[answered] === null) {
      pairs[answered] = number;
      free.delete(number);
    }
  });
  const agreeing = new Set([...told.keys()].filter((at) => pairs[at] !== null && equal(told[at], found[pairs[at]])));
  const gone = new Set([...told.keys()].filter((at) => pairs[at] === null && (noneFound || saidGone.includes(at))));
  for (const alike of [equal, (one, other) => likely(pack, one, other)]) {
    told.forEach((hole, at) => {
      if (pairs[at] !== null || gone.has(at)) return;
      const same = [...free].find((number) => alike(hole, found[number]));
      if (same === undefined) return;
      pairs[at] = same;
      agreeing.add(at);
      free.delete(same);
    });
  }
  return { found: pairs, agreeing, gone, untold: [...free] };
}

const left = ({ as_found: found }) => found ?? 'open';
const placed = (one, other) => one.place === other.place && left(one) === left(other);
const equal = (one, other) => placed(one, other) && one.diameter_mm === other.diameter_mm;
const likely = (pack, one, other) => placed(one, other) && holeSize(pack, one) === holeSize(pack, other);

/**
 * What each difference adds to the severity: `hole/<told>` in order, then `untold/<found>`.
 * @param {any} pack @param {Hole[]} told @param {Hole[]} found @param {Pairs} pairs
 * @returns {Map<string, number>}
 */
export function severityChanges(pack, told, found, pairs) {
  const changes = new Map();
  told.forEach((hole, at) => {
    const number = pairs.found[at];
    if (pairs.gone.has(at)) changes.set(`hole/${at}`, -holeSeverity(pack, hole));
    else if (number !== null && !pairs.agreeing.has(at)) changes.set(`hole/${at}`, holeSeverity(pack, found[number]) - holeSeverity(pack, hole));
  });
  for (const number of pairs.untold) changes.set(`untold/${number}`, holeSeverity(pack, found[number]));
  return changes;
}

/**
 * The log effect of each change of severity; they add up to that of all on the curve −a·ln(1 + S/b). Each has its part of
 * the severity, by the logarithmic mean of the curve's two ends (as in contract §11).
 * @param {any} pack @param {Hole[]} told @param {Map<string, number>} changes
 * @returns {Map<string, number>}
 */
export function curveEffects(pack, told, changes) {
  const { a, b } = pack.holes;
  const before = b + told.reduce((sum, hole) => sum + holeSeverity(pack, hole), 0);
  const after = before + [...changes.values()].reduce((sum, change) => sum + change, 0);
  const slope = -a / logarithmicMean(after, before);
  return new Map([...changes].map(([name, change]) => [name, slope * change]));
}
