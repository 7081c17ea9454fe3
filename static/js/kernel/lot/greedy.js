/**
 * A good plan without a solver: the best single change, or pair of changes, until none pays. Twin of webapp/appraisal/lot/greedy.py.
 *
 * @typedef {[number, number]} Change a set and its way
 * @typedef {import('./problem.js').Problem} Problem
 */
import { AS_IS, BREAK, allSides, settle, shelfSides, sidesAt, sidesOf } from './settling.js';

/** In a long list the sets that lose most by being broken are not worth the time. */
const MOST_DONORS = 12;

/** What a set brings under a way, its work paid; parts that it takes or gives are counted apart. @param {Problem} problem */
export function wayValue(problem, index, way) {
  const lotSet = problem.sets[index];
  const paid = problem.hourRate * wayHours(problem, index, way);
  if (way === AS_IS) return lotSet.asIs;
  return (way === BREAK ? lotSet.broken : lotSet.completes[way - 2].value) - paid;
}

/** The hours that a way takes. @param {Problem} problem */
export function wayHours(problem, index, way) {
  const lotSet = problem.sets[index];
  if (way === AS_IS) return 0;
  return way === BREAK ? lotSet.breakHours : lotSet.completes[way - 2].hours;
}

/** What the whole lot brings under a choice of ways; −∞ where a way lacks what cannot be bought. @param {Problem} problem @param {number[]} choice */
export function choiceValue(problem, choice) {
  let total = 0;
  for (const { worth, count } of problem.wants) total += worth * count;
  choice.forEach((way, index) => {
    total += wayValue(problem, index, way);
  });
  let paid = 0;
  for (const sides of allSides(problem, choice).values()) paid += settle(sides).cost;
  return total - paid;
}

/** The hours that a choice of ways takes. @param {Problem} problem @param {number[]} choice */
export const choiceHours = (problem, choice) => choice.reduce((total, way, index) => total + wayHours(problem, index, way), 0);

/** A choice of ways with the sides and the cost of every stock, kept up to date; at first all is kept as it stands. */
class Ledger {
  /** @param {Problem} problem */
  constructor(problem) {
    this.problem = problem;
    this.choice = problem.sets.map(() => AS_IS);
    this.sides = shelfSides(problem);
    this.costs = new Map([...this.sides].map(([stock, sides]) => [stock, settle(sides).cost]));
    /** @type {Map<number, Map<number, import('./settling.js').Sides>>[]} */
    this.contributions = problem.sets.map(() => new Map());
  }

  brings(index, way) {
    const known = this.contributions[index];
    if (!known.has(way)) known.set(way, sidesOf(this.problem, index, way));
    return known.get(way);
  }

  /** The stocks that changes touch, as they would be then: those that somebody takes from, or all. @param {Change[]} changes */
  after(changes, allOfThem = false) {
    const changed = new Set(changes.map(([index]) => index));
    const takes = new Set(changes.flatMap(([index, way]) => (way > BREAK ? [...this.brings(index, way).keys()] : [])));
    const stocks = new Set(takes);
    for (const index of changed) for (const stock of this.brings(index, this.choice[index]).keys()) stocks.add(stock);
    for (const [index, way] of changes) for (const stock of this.brings(index, way).keys()) stocks.add(stock);
    const then = new Map();
    for (const stock of [...stocks].sort((a, b) => a - b)) {
      const { takers = [], pieces = [] } = this.sides.get(stock) ?? {};
      // Pieces that nobody wants cost nothing, however many there are.
      if (!allOfThem && takers.length === 0 && !takes.has(stock)) continue;
      const left = { takers: takers.filter(({ who }) => !changed.has(who)), pieces: pieces.filter(({ holder }) => !changed.has(holder)) };
      for (const [index, way] of changes) {
        const more = this.brings(index, way).get(stock);
        if (!more) continue;
        left.takers.push(...more.takers);
        left.pieces.push(...more.pieces);
      }
      then.set(stock, left);
    }
    return then;
  }

  /** What changes would bring if the parts that they take cost nothing. @param {Change[]} changes */
  gainIfFree(changes) {
    return changes.reduce((total, [index, way]) => total + wayValue(this.problem, index, way) - wayValue(this.problem, index, this.choice[index]), 0);
  }

  /** What changes bring; −∞ where a way would lack what cannot be bought. @param {Change[]} changes */
  gain(changes) {
    let total = this.gainIfFree(changes);
    for (const [stock, sides] of this.after(changes)) {
      const { cost } = settle(sides);
      if (cost === Infinity) return -Infinity;
      total += (this.costs.get(stock) ?? 0) - cost;
    }
    return total;
  }

  /** @param {Change[]} changes */
  extraHours(changes) {
    return changes.reduce((total, [index, way]) => total + wayHours(this.problem, index, way) - wayHours(this.problem, index, this.choice[index]), 0);
  }

  /** @param {Change[]} changes */
  apply(changes) {
    for (const [stock, sides] of this.after(changes, true)) {
      Object.assign(sidesAt(this.sides, stock), sides);
      this.costs.set(stock, settle(sides).cost);
    }
    for (const [index, way] of changes) this.choice[index] = way;
  }
}

/**
 * Ways that no single change and no pair of a donor and a receiver betters, within the hours. Never worth less
 * than keeping all as they stand, or breaking all.
 * @param {Problem} problem
 * @param {number | null} hoursLimit
 * @returns {number[]}
 */
export function greedyChoice(problem, hoursLimit) {
  const ledger = new Ledger(problem);
  const members = new Map();
  problem.sets.forEach(({ group }, index) => members.set(group, [...members.get(group) ?? [], index]));
  let left = hoursLimit ?? Infinity;
  // Kinds of sets share nothing but the hours.
  const pools = hoursLimit === null ? [...members.values()] : [problem.sets.map((_, index) => index)];
  for (const pool of pools) {
    for (let round = 0; round < 4 * pool.length + 20; round += 1) {
      const changes = best(ledger, singles(ledger, pool), left) ?? best(ledger, pairs(ledger, pool), left);
      if (!changes) break;
      left -= ledger.extraHours(changes);
      ledger.apply(changes);
    }
  }
  const broken = problem.sets.map(() => BREAK);
  const within = hoursLimit === null || choiceHours(problem, broken) <= hoursLimit;
  return within && choiceValue(problem, broken) > choiceValue(problem, ledger.choice) ? broken : ledger.choice;
}

/** The changes that bring most (most an hour, where hours are short); null when none brings anything. @returns {Change[] | null} */
function best(ledger, candidates, left) {
  let found = null;
  let most = 0;
  for (const changes of candidates) {
    const hours = ledger.extraHours(changes);
    if (hours > left || hopeless(ledger, changes)) continue;
    const gain = ledger.gain(changes);
    if (gain <= 1e-9 * (1 + Math.abs(gain))) continue;
    const rank = left === Infinity ? gain : gain / Math.max(hours, 1e-3);
    // Engines differ in the last digits: what is as good as equal goes to the one that came first.
    if (rank > most + 1e-9 * (1 + Math.abs(rank))) [found, most] = [changes, rank];
  }
  return found;
}

/** Whether a set is to be completed that would bring nothing even with its parts for nothing. */
function hopeless(ledger, changes) {
  const begins = changes.every(([index]) => ledger.choice[index] === AS_IS);
  return begins && changes.some(([, way]) => way > BREAK) && ledger.gainIfFree(changes) <= 0;
}

function* singles(ledger, members) {
  for (const index of members) {
    for (let way = 0; way < 2 + ledger.problem.sets[index].completes.length; way += 1) {
      if (way !== ledger.choice[index]) yield [[index, way]];
    }
  }
}

/** A set completed with what another is broken for. */
function* pairs(ledger, members) {
  const { sets } = ledger.problem;
  const loss = new Map(members.filter((index) => ledger.choice[index] === AS_IS).map((index) => [index, -ledger.gainIfFree([[index, BREAK]])]));
  const donors = [...loss.keys()].sort((a, b) => loss.get(a) - loss.get(b) || a - b).slice(0, MOST_DONORS);
  for (const index of members) {
    if (ledger.choice[index] === BREAK) continue;
    for (const donor of donors) {
      if (donor === index || sets[donor].group !== sets[index].group) continue;
      for (let way = 2; way < 2 + sets[index].completes.length; way += 1) yield [[index, way], [donor, BREAK]];
    }
  }
}
