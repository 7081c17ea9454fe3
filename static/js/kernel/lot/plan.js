/** The plan of a lot as a document: what becomes of each set, who gives what to whom, the total, the bid. Twin of webapp/appraisal/lot/plan.py. */
import { choiceHours, choiceValue, greedyChoice } from './greedy.js';
import { allLooks, Prices } from './looks.js';
import { withoutLot } from './problem.js';
import { partWorth, quantiles } from './sets.js';
import { AS_IS, BREAK, allSides, settle } from './settling.js';

const WAYS = ['as_is', 'break', 'complete'];
/** More looks than anybody takes before bidding. */
const MOST_LOOKS = 20;

/**
 * The plan under a choice of ways (0 keep, 1 break, 2… complete); money unrounded.
 *
 * `total` is the sum of the sets' `value` and of `to_shelf`, less `from_shelf`, the buys' `cost`, `materials`,
 * `hours` at the hour rate, and `alone`.
 * @param {import('./problem.js').Problem} problem
 * @param {number[]} choice
 * @param {{asking: number | null, margin: number, hours_limit?: number | null, proof?: {gap: number | null, proven: boolean, alone: number}}} more
 *   `alone`: what the user's own sets and shelf would bring without the lot; without proof the plan is greedy
 */
export function lotPlan(problem, choice, { asking, margin, hours_limit: hoursLimit = null, proof = greedyProof(problem, hoursLimit) }) {
  const exchange = exchangeOf(problem, choice);
  const sets = choice.map((way, index) => setRow(problem, index, way, exchange));
  const total = withoutNoise(choiceValue(problem, choice) - proof.alone, proof.alone);
  const [low, high] = rangeOf(problem, choice, exchange, total);
  const kept = 1 - margin;
  const bid = Math.max(0, total) * kept;
  const count = problem.sets.filter(({ owned }) => !owned).length;
  return {
    total,
    range: { low, high },
    gap: proof.gap,
    exact: proof.proven,
    bid,
    bid_range: { low: Math.max(0, low) * kept, high: Math.max(0, high) * kept },
    asking,
    per_set: { bid: count ? bid / count : null, asking: count && asking !== null ? asking / count : null },
    hours: choiceHours(problem, choice),
    materials: sum(sets.map((row) => row.materials)),
    from_shelf: sum(exchange.moves.filter(({ piece }) => piece.holder < 0).map(({ piece }) => piece.worth)),
    to_shelf: sum(exchange.moves.filter(({ taker }) => taker.who < 0).map(({ taker }) => taker.otherwise)),
    alone: proof.alone,
    sets,
    moves: exchange.moves.map(({ stock, taker, piece }) => ({
      part: problem.stocks[stock].part, from: nameOf(piece.holder), to: nameOf(taker.who), unchecked: piece.unchecked,
    })),
    buys: exchange.without.filter(({ taker }) => taker.who >= 0)
      .map(({ stock, taker }) => ({ part: problem.stocks[stock].part, for: taker.who, cost: taker.otherwise })),
    salvage: salvage(problem, choice, exchange),
    looks: looksOf(problem),
  };
}

function greedyProof(problem, hoursLimit) {
  const own = withoutLot(problem);
  return { gap: null, proven: false, alone: choiceValue(own, greedyChoice(own, hoursLimit)) };
}

/** A difference of amounts that are alike to the last digits is nothing. */
const withoutNoise = (difference, size) => (Math.abs(difference) <= 1e-12 * Math.abs(size) ? 0 : difference);

const sum = (list) => list.reduce((total, one) => total + one, 0);
const nameOf = (who) => (who >= 0 ? who : `shelf ${-1 - who}`);

function exchangeOf(problem, choice) {
  const moves = [];
  const without = [];
  for (const [stock, sides] of [...allSides(problem, choice)].sort(([a], [b]) => a - b)) {
    const settled = settle(sides);
    for (const [taker, piece] of settled.moves) moves.push({ stock, taker, piece });
    for (const taker of settled.without) without.push({ stock, taker });
  }
  const order = (a, b) => a.stock - b.stock || a.taker.who - b.taker.who;
  return { moves: moves.sort(order), without: without.sort(order) };
}

/** What a part handed over is put down at between two sets: the saving is shared by halves. */
const priceOf = (taker, piece) => (taker.otherwise === Infinity ? piece.worth : (piece.worth + taker.otherwise) / 2);

/** The parts of a broken set that nobody takes, by their place in its pack. */
function leftOver(problem, index, exchange) {
  const given = exchange.moves.filter(({ piece }) => piece.holder === index).map(({ stock }) => problem.stocks[stock].part);
  return problem.figures[index].seen.kinds.parts.flatMap(({ id }, at) => (given.includes(id) ? [] : [at]));
}

function salvage(problem, choice, exchange) {
  return choice.flatMap((way, index) => (way !== BREAK ? [] : leftOver(problem, index, exchange).flatMap((at) => {
    const { seen: one } = problem.figures[index];
    const [worth] = partWorth(one, at);
    return worth > 0 ? [{ part: one.kinds.parts[at].id, from: index, worth }] : [];
  })));
}

/** What becomes of one set; `per_hour` is what its work adds an hour over keeping it as it stands. */
function setRow(problem, index, way, exchange) {
  const lotSet = problem.sets[index];
  const { seen: one } = problem.figures[index];
  const found = lawOf(problem, index, way, exchange);
  let added = found.value - found.materials - lotSet.asIs;
  for (const { taker, piece } of exchange.moves) {
    if (piece.holder === index) added += priceOf(taker, piece);
    if (taker.who === index) added -= priceOf(taker, piece);
  }
  for (const { taker } of exchange.without) if (taker.who === index) added -= taker.otherwise;
  return {
    way: WAYS[Math.min(way, 2)],
    ...found,
    per_hour: found.hours > 0 ? added / found.hours : null,
    as_is: lotSet.asIs,
    complete: lotSet.completes[0]?.value ?? null,
    parts: lotSet.broken - problem.hourRate * lotSet.breakHours,
    owned: lotSet.owned,
    open: one.standing.chosen.filter((chosen, at) => one.standing.shown[at] && chosen < 0).length,
  };
}

function lawOf(problem, index, way, exchange) {
  const { seen: one, completed } = problem.figures[index];
  const { z90 } = one.entry.prepared.pack.model;
  if (way === AS_IS) {
    const [low, high] = quantiles(one.market.logMedian, one.market.variance, z90);
    return { value: one.market.mean, low, high, hours: 0, materials: 0 };
  }
  if (way === BREAK) {
    const worths = leftOver(problem, index, exchange).map((at) => partWorth(one, at));
    const value = sum(worths.map(([mean]) => mean));
    const reach = z90 * Math.sqrt(Math.max(0, sum(worths.map(([, variance]) => variance))));
    return { value, low: Math.max(0, value - reach), high: value + reach, hours: problem.sets[index].breakHours, materials: 0 };
  }
  const { mean, logMedian, logVariance, hours, materials } = completed[way - 2];
  const [low, high] = quantiles(logMedian, logVariance, z90);
  return { value: mean, low, high, hours, materials };
}

/**
 * P10 and P90 of the total, taken as lognormal by its first two moments (Fenton 1960). Prices of one kind share
 * the doubt about their reference; all else is taken as independent.
 */
function rangeOf(problem, choice, exchange, total) {
  let variance = 0;
  const shared = new Map();
  choice.forEach((way, index) => {
    const { group, asIs } = problem.sets[index];
    const { seen: one, completed } = problem.figures[index];
    if (way === BREAK) {
      variance += sum(leftOver(problem, index, exchange).map((at) => partWorth(one, at)[1]));
      return;
    }
    const then = way > BREAK ? completed[way - 2] : { mean: asIs, logVariance: one.market.variance, workVariance: 0 };
    const common = Math.expm1(one.logReferenceVariance);
    variance += then.workVariance + then.mean * then.mean * (Math.expm1(then.logVariance) - common);
    shared.set(group, [(shared.get(group)?.[0] ?? 0) + then.mean, common]);
  });
  for (const [mean, common] of shared.values()) variance += mean * mean * common;
  for (const { stock, taker } of exchange.without) if (taker.who >= 0) variance += problem.stocks[stock].buyVariance;
  if (total <= 0 || problem.figures.length === 0) return [Math.min(0, total), Math.max(0, total)];
  const { z90 } = problem.figures[0].seen.entry.prepared.pack.model;
  const ratio = 1 + variance / (total * total);
  return quantiles(Math.log(total / Math.sqrt(ratio)), Math.log(ratio), z90);
}

/** The looks of the whole lot that would change the plan most for their time. */
function looksOf(problem) {
  const prices = new Prices(problem);
  return problem.sets.flatMap((_, index) => allLooks(problem, index, prices))
    .sort((a, b) => b.change / b.seconds - a.change / a.seconds).slice(0, MOST_LOOKS);
}
