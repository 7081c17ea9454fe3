/**
 * Which looks would change the plan of a lot most: by the expected absolute change of its worth. Twin of webapp/appraisal/lot/looks.py.
 *
 * One look at a time, the other sets as they stand now. A part costs what it would fetch where a set of the lot
 * that is better broken has it, else what it costs to buy.
 *
 * @typedef {{set: number, check: string, change: number, seconds: number}} LotLook
 */
import { taskEstimate } from '../effort.js';
import { expectedState, withoutPart } from './sets.js';

/** What a part of each stock costs a set of the lot. */
export class Prices {
  /** @param {import('./problem.js').Problem} problem */
  constructor(problem) {
    this.problem = problem;
    this.had = new Map();
    this.offered = new Map();
    const add = (map, stock, entry) => map.set(stock, [...map.get(stock) ?? [], entry]);
    problem.sets.forEach((lotSet, index) => {
      const spare = lotSet.broken - problem.hourRate * lotSet.breakHours > lotSet.asIs;
      for (const { stock, worth } of lotSet.gives) {
        add(this.had, stock, { worth, index });
        if (spare) add(this.offered, stock, { worth, index });
      }
    });
  }

  /** The price of one part for a set (by its place in the lot); 0 where nobody is known to have it. */
  of(stock, taker) {
    const least = (list) => Math.min(...(list ?? []).filter(({ index }) => index !== taker).map(({ worth }) => worth));
    const offered = least(this.offered.get(stock));
    if (offered < Infinity) return offered;
    const { buy } = this.problem.stocks[stock];
    if (buy !== null) return buy;
    const had = least(this.had.get(stock));
    return had < Infinity ? had : 0;
  }
}

/**
 * The open checks of one set, the greatest change per second first.
 * @param {import('./problem.js').Problem} problem @param {number} index @param {Prices} prices @returns {LotLook[]}
 */
export function allLooks(problem, index, prices) {
  const { seen: one } = problem.figures[index];
  const { prepared, findings } = one.entry;
  const now = waysNow(problem, index, prices);
  const stocks = new Map(problem.stocks.flatMap((stock, at) => (stock.group === problem.sets[index].group ? [[stock.part, at]] : [])));
  const partOf = new Map(one.kinds.parts.map((kind, at) => [kind.check, at]));
  const looks = [];
  prepared.checks.forEach((check, at) => {
    if (!one.standing.shown[at] || one.standing.chosen[at] >= 0 || findings.unseen.has(check.id)) return;
    const part = partOf.get(at) ?? -1;
    const stock = part < 0 ? -1 : stocks.get(one.kinds.parts[part].id);
    const price = stock < 0 ? 0 : prices.of(stock, index);
    const change = check.options.reduce((sum, option, number) => sum + option.prior * Math.abs(best(waysIf(one, now, at, number, part, stock, price)) - best(now)), 0);
    looks.push({ set: index, check: check.id, change, seconds: check.seconds });
  });
  return looks.sort((a, b) => b.change / b.seconds - a.change / a.seconds);
}

/** Those worth asking in a quick round: what would change little is left out, and the list ends early. @param {import('./problem.js').Problem} problem */
export function setLooks(problem, index, prices = new Prices(problem)) {
  const { seen: one } = problem.figures[index];
  const { model } = one.entry.prepared.pack;
  const least = model.lot_look_share * best(waysNow(problem, index, prices));
  const given = one.standing.chosen.filter((option) => option >= 0).length + one.entry.findings.unseen.size;
  return allLooks(problem, index, prices).filter((look) => look.change >= least).slice(0, Math.max(0, model.lot_looks - given));
}

const best = ({ asIs, mean, cost, broken }) => Math.max(asIs, mean - cost, broken);

/** One set's ways now: the mean as it stands, a way to complete it, its cost, and broken. */
function waysNow(problem, index, prices) {
  const lotSet = problem.sets[index];
  const broken = lotSet.broken - problem.hourRate * lotSet.breakHours;
  let found = { asIs: lotSet.asIs, mean: lotSet.asIs, cost: 0, takes: [], broken };
  lotSet.completes.forEach(({ takes }, number) => {
    const then = problem.figures[index].completed[number];
    const cost = then.materials + problem.hourRate * then.hours + takes.reduce((sum, { stock }) => sum + prices.of(stock, index), 0);
    if (number === 0 || then.mean - cost > found.mean - found.cost) found = { ...found, mean: then.mean, cost, takes: takes.map(({ stock }) => stock) };
  });
  return found;
}

/** The ways with option `number` of check `at` as the answer, its follow-ups open. */
function waysIf(one, now, at, number, part, stock, price) {
  const check = one.entry.prepared.checks[at];
  const option = check.options[number];
  const open = one.found.factor[at];
  const asIs = now.asIs * option.factor / open;
  if (part < 0) return { ...now, asIs, mean: now.mean * option.factor / open };
  const kind = one.kinds.parts[part];
  const whole = check.options[kind.best].factor;
  const broken = now.broken + kind.worth * one.entry.findings.rate * (option.state - expectedState(one, part));
  const taken = now.takes.includes(stock);
  const lacking = option.state < 1;
  if (taken && !lacking) return { ...now, asIs, broken, mean: now.mean * option.factor / whole, cost: now.cost - price - usualWork(one, check) };
  if (taken) return { ...now, asIs, broken, cost: now.cost + work(one, option) - usualWork(one, check) };
  if (lacking && kind.buy !== null) return { ...now, asIs, broken, mean: now.mean * whole / open, cost: now.cost + price + work(one, option) };
  return { ...now, asIs, broken, mean: now.mean * option.factor / open };
}

/** What the tasks of an option cost this user, as if nothing else called them. */
function work(one, option) {
  const { prepared, findings } = one.entry;
  return option.tasks.reduce((total, task) => {
    const { hours, materials } = taskEstimate(prepared.tasks[task], 0);
    return total + withoutPart(one.kinds, task, materials)[0] * findings.rate + hours[0] * findings.hour_rate;
  }, 0);
}

const usualWork = (one, check) => check.options.reduce((total, option) => total + option.prior * work(one, option), 0);
