/**
 * Who gives what to whom, once it is chosen which sets are completed and which broken. Twin of webapp/appraisal/lot/settling.py.
 *
 * @typedef {{holder: number, counted: number, worth: number, unchecked: boolean}} Piece who has it: a set, or −1 − shelf row
 * @typedef {{who: number, counted: number, otherwise: number}} Taker the state to beat, and what going without costs
 * @typedef {{takers: Taker[], pieces: Piece[]}} Sides
 * @typedef {{moves: [Taker, Piece][], without: Taker[], cost: number}} Settled
 */

export const [AS_IS, BREAK] = [0, 1];

/**
 * What one set takes and gives under a way (0 keep, 1 break, 2… complete), by stock.
 * @param {import('./problem.js').Problem} problem @param {number} index @param {number} way
 * @returns {Map<number, Sides>}
 */
export function sidesOf(problem, index, way) {
  const lotSet = problem.sets[index];
  if (way === AS_IS) return new Map();
  if (way === BREAK) {
    return new Map(lotSet.gives.map(({ stock, counted, worth, unchecked }) => [stock, { takers: [], pieces: [{ holder: index, counted, worth, unchecked }] }]));
  }
  return new Map(lotSet.completes[way - 2].takes.map(({ stock, counted }) => [stock, {
    takers: [{ who: index, counted, otherwise: problem.stocks[stock].buy ?? Infinity }], pieces: [],
  }]));
}

/** @param {Map<number, Sides>} sides @param {number} stock */
export function sidesAt(sides, stock) {
  if (!sides.has(stock)) sides.set(stock, { takers: [], pieces: [] });
  return sides.get(stock);
}

/** What the shelf gives and takes, by stock. @param {import('./problem.js').Problem} problem @returns {Map<number, Sides>} */
export function shelfSides(problem) {
  const sides = new Map();
  for (const { row, stock, counted, count, worth } of problem.spares) {
    sidesAt(sides, stock).pieces.push(...Array(count).fill({ holder: -1 - row, counted, worth, unchecked: false }));
  }
  for (const { row, stock, counted, count, worth } of problem.wants) {
    sidesAt(sides, stock).takers.push(...Array(count).fill({ who: -1 - row, counted, otherwise: worth }));
  }
  return sides;
}

/** Who takes and who gives, by stock, under a choice of ways. @param {import('./problem.js').Problem} problem @param {number[]} choice */
export function allSides(problem, choice) {
  const sides = shelfSides(problem);
  choice.forEach((way, index) => {
    for (const [stock, { takers, pieces }] of sidesOf(problem, index, way)) {
      sidesAt(sides, stock).takers.push(...takers);
      sidesAt(sides, stock).pieces.push(...pieces);
    }
  });
  return sides;
}

/**
 * The exchange within one stock that costs least: whoever asks for the best state chooses first, and a later
 * taker who gains more may step into an earlier one's place.
 * @param {Sides} sides
 * @returns {Settled}
 */
export function settle({ takers, pieces }) {
  const free = pieces.toSorted((a, b) => a.worth - b.worth || a.holder - b.holder);
  /** @type {[Taker, Piece][]} */
  const held = [];
  const without = [];
  // Two that cannot be bought differ by no number.
  const most = (a, b) => (a.otherwise === b.otherwise ? 0 : b.otherwise - a.otherwise);
  for (const taker of takers.toSorted((a, b) => b.counted - a.counted || most(a, b) || a.who - b.who)) {
    const at = free.findIndex((piece) => piece.counted > taker.counted);
    let weakest = -1;
    held.forEach(([other], place) => {
      if (weakest < 0 || other.otherwise < held[weakest][0].otherwise) weakest = place;
    });
    // What a piece costs, and what it costs to send away the one who misses his least.
    const fromFree = at >= 0 ? free[at].worth : Infinity;
    const fromHeld = weakest >= 0 ? held[weakest][0].otherwise : Infinity;
    if (fromFree <= fromHeld && fromFree < taker.otherwise) held.push([taker, free.splice(at, 1)[0]]);
    else if (fromHeld < taker.otherwise) {
      without.push(held[weakest][0]);
      held[weakest] = [taker, held[weakest][1]];
    } else without.push(taker);
  }
  let cost = 0;
  for (const [, piece] of held) cost += piece.worth;
  for (const taker of without) cost += taker.otherwise;
  return { moves: held, without, cost };
}
