/**
 * A lot as a choice of ways: for each set its ways, for each kind of part who can give and who needs it.
 * Twin of webapp/appraisal/lot/problem.py.
 *
 * @typedef {{group: string, part: string, buy: number | null, buyVariance: number}} Stock one kind of part of one model
 * @typedef {{stock: number, counted: number}} Need a part that a set lacks, and the state that a better one has to beat
 * @typedef {{stock: number, counted: number, worth: number, unchecked: boolean}} Give a part that a broken set has
 * @typedef {{value: number, hours: number, takes: Need[]}} Complete what a set is worth then less materials
 * @typedef {{group: string, owned: boolean, asIs: number, broken: number, breakHours: number, gives: Give[], completes: Complete[]}} LotSet
 * @typedef {{kind: string, family: string, model_sheet: string | null, part: string, state?: number, count?: number, worth?: number | null}} ShelfRow
 * @typedef {{row: number, stock: number, counted: number, count: number, worth: number}} Shelved
 * @typedef {{seen: any, completed: import('./sets.js').Completed[]}} Figures
 * @typedef {{sets: LotSet[], stocks: Stock[], spares: Shelved[], wants: Shelved[], hourRate: number, figures: Figures[]}} Problem
 */
import { kindsOf } from './parts.js';
import { completed, partWorth, seen } from './sets.js';

/** Ways to complete double with each part that nobody sells; of more than these the dearest count. */
const MOST_UNSOLD = 6;

/** Sets of one family and model exchange parts, and those without a model sheet among themselves. */
export const groupOf = (family, modelSheet) => `${family}/${modelSheet ?? ''}`;

/**
 * The lot's sets with the ways that each has, and the stocks that tie them together.
 * @param {import('./sets.js').Entry[]} entries
 * @param {ShelfRow[]} shelf
 * @param {number} hourRate
 * @returns {Problem}
 */
export function lotProblem(entries, shelf, hourRate) {
  const kinds = new Map();
  const rates = new Map();
  const found = entries.map((entry) => {
    const group = groupOf(entry.prepared.pack.family, entry.modelSheet);
    if (!kinds.has(group)) kinds.set(group, kindsOf(entry.prepared));
    rates.set(group, entry.findings.rate);
    return { group, one: seen(entry, kinds.get(group)) };
  });
  const { stocks, at } = stocksOf(kinds, rates);
  const { spares, wants } = shelved(shelf, kinds, rates, at);
  const gives = found.map(({ one, group }) => givesOf(one, at.get(group)));
  const better = onOffer(gives, spares);
  const figures = [];
  const sets = found.map(({ group, one }, index) => {
    const stockOf = at.get(group);
    const ways = fillings(one, stockOf, better).map((parts) => ({ then: completed(one, parts), parts }));
    figures.push({ seen: one, completed: ways.map(({ then }) => then) });
    return {
      group,
      owned: Boolean(one.entry.owned),
      asIs: one.market.mean,
      broken: one.parts.mean,
      breakHours: one.entry.prepared.breakHoursMean,
      gives: gives[index],
      completes: ways.map(({ then, parts }) => ({
        value: then.mean - then.materials,
        hours: then.hours,
        takes: parts.map((part) => ({ stock: stockOf[part], counted: one.counted[part] })),
      })),
    };
  });
  return { sets, stocks, spares, wants, hourRate, figures };
}

/** The stocks, and per group the stock of each of its parts. */
function stocksOf(kinds, rates) {
  const stocks = [];
  const at = new Map();
  for (const [group, { parts }] of kinds) {
    const rate = rates.get(group);
    at.set(group, parts.map((part) => stocks.push({
      group, part: part.id, buy: part.buy === null ? null : part.buy * rate, buyVariance: part.buyVariance * rate * rate,
    }) - 1));
  }
  return { stocks, at };
}

function givesOf(one, stockOf) {
  return one.kinds.parts.flatMap((kind, index) => (!kind.moves || one.counted[index] <= 0 ? [] : [{
    stock: stockOf[index], counted: one.counted[index], worth: partWorth(one, index)[0], unchecked: one.standing.chosen[kind.check] < 0,
  }]));
}

/** Per stock the best state that any set or spare has. */
function onOffer(gives, spares) {
  const better = new Map();
  for (const { stock, counted } of [...gives.flat(), ...spares]) better.set(stock, Math.max(better.get(stock) ?? 0, counted));
  return better;
}

/** All ways to complete a set: every part that is sold, and any of those that only others have. */
function fillings(one, stockOf, better) {
  const lacking = one.counted.flatMap((state, index) => (state < 1 ? [index] : []));
  const kind = (index) => one.kinds.parts[index];
  const sold = lacking.filter((index) => kind(index).buy !== null);
  const gain = (index) => one.entry.prepared.checks[kind(index).check].options[kind(index).best].mean - one.found.mean[kind(index).check];
  const unsold = lacking
    .filter((index) => kind(index).buy === null && kind(index).moves && (better.get(stockOf[index]) ?? 0) > one.counted[index])
    .sort((a, b) => gain(b) - gain(a) || a - b).slice(0, MOST_UNSOLD).sort((a, b) => a - b);
  const ways = [];
  for (let count = unsold.length; count >= 0; count -= 1) {
    for (const chosen of combinations(unsold, count)) {
      const parts = [...sold, ...chosen].sort((a, b) => a - b);
      if (parts.length > 0) ways.push(parts);
    }
  }
  return ways;
}

/** All choices of so many, in the order of the list. @param {number[]} list @param {number} count @returns {number[][]} */
function combinations(list, count) {
  if (count === 0) return [[]];
  return list.flatMap((first, at) => combinations(list.slice(at + 1), count - 1).map((rest) => [first, ...rest]));
}

/** The spares and wants that concern a kind of set in this lot. */
function shelved(shelf, kinds, rates, at) {
  const spares = [];
  const wants = [];
  shelf.forEach((row, index) => {
    const group = groupOf(row.family, row.model_sheet);
    const part = kinds.get(group)?.parts.findIndex(({ id }) => id === row.part) ?? -1;
    const count = row.count ?? 1;
    if (part < 0 || count < 1) return;
    const kind = kinds.get(group).parts[part];
    const rate = rates.get(group);
    const stock = at.get(group)[part];
    const state = row.state ?? 1;
    if (row.kind === 'spare') spares.push({ row: index, stock, counted: state, count, worth: kind.worth * state * rate });
    else if (kind.moves) wants.push({ row: index, stock, counted: 0, count, worth: row.worth ?? (kind.buy ?? kind.worth) * rate });
  });
  return { spares, wants };
}

/** What the user has already: own sets and shelf, as if there were no lot. @param {Problem} problem @returns {Problem} */
export function withoutLot(problem) {
  return { ...problem, sets: problem.sets.filter((lotSet) => lotSet.owned), figures: [] };
}

/** What the server needs to find the best ways. @param {Problem} problem */
export function problemDocument({ sets, stocks, spares, wants, hourRate }) {
  return {
    hour_rate: hourRate,
    stocks: stocks.map(({ buy }) => buy),
    sets: sets.map((lotSet) => ({
      owned: lotSet.owned,
      as_is: lotSet.asIs,
      broken: lotSet.broken,
      break_hours: lotSet.breakHours,
      gives: lotSet.gives.map(({ stock, counted, worth }) => [stock, counted, worth]),
      completes: lotSet.completes.map(({ value, hours, takes }) => ({ value, hours, takes: takes.map(({ stock, counted }) => [stock, counted]) })),
    })),
    spares: spares.map(({ stock, counted, count, worth }) => [stock, counted, count, worth]),
    wants: wants.map(({ stock, count, worth }) => [stock, count, worth]),
  };
}
