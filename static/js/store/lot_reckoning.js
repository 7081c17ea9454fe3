/** What a plan of a lot starts from: its sets and the donors as the tables understand them, the shelf, and the problem they make. */
import { readFindings } from '../kernel/findings.js';
import { Prices, setLooks } from '../kernel/lot/looks.js';
import { lotProblem } from '../kernel/lot/problem.js';
import { setsOfLot } from './lots.js';
import { allSets, comparablesOf, salesLog } from './notebook.js';
import { loadReasons, prepareFor } from './packs.js';
import { listShelf } from './shelf.js';

/**
 * @typedef {import('./found_set.js').FoundSet} FoundSet
 * @typedef {{foundSet: FoundSet, prepared: any, sales: any[], owned: boolean}} Member a set that joins the plan
 */

export class LotReckoning {
  /**
   * @param {import('./lots.js').Lot} lot
   * @param {Member[]} members the sets of the lot by number, then donors of one's own
   * @param {import('./shelf.js').Thing[]} things spares and wants
   * @param {FoundSet[]} left sets of the lot whose tables are not on this phone
   */
  constructor(lot, members, things, left) {
    Object.assign(this, { lot, members, things, left });
    this.entries = members.map((member) => this.entryOf(member));
  }

  /** @param {import('./lots.js').Lot} lot @returns {Promise<LotReckoning>} */
  static async of(lot) {
    const [sets, shelf, all] = await Promise.all([setsOfLot(lot.id), listShelf(), allSets()]);
    const inLot = new Set(sets.map(({ base }) => base.id));
    const donors = shelf.filter(({ kind }) => kind === 'donor').map((thing) => all.find(({ base }) => base.id === thing.set && !inLot.has(base.id))).filter(Boolean);
    const log = salesLog();
    const read = async (foundSet, owned) => memberOf(foundSet, owned, log);
    const members = await Promise.all([...sets.map((foundSet) => read(foundSet, false)), ...donors.map((foundSet) => read(foundSet, true))]);
    const left = sets.filter((_, index) => !members[index]);
    return new LotReckoning(lot, members.filter(Boolean), shelf.filter(({ kind }) => kind !== 'donor'), left);
  }

  /** What the tables understand of a set, in the lot's money. @param {Member} member */
  entryOf({ foundSet, prepared, sales, owned }) {
    const { currency, hour_rate: hourRate } = this.lot;
    const money = { currency: currency?.code ?? prepared.pack.reference.currency, rate: currency?.rate ?? null, hour_rate: hourRate, asking: null };
    return { prepared, modelSheet: foundSet.base.model_sheet, owned, findings: readFindings({ ...foundSet.findings(prepared, sales), ...money }, prepared).findings };
  }

  /** Reckons one set anew after something was found of it. @param {number} index */
  update(index) {
    this.entries[index] = this.entryOf(this.members[index]);
    this.known = null;
  }

  /** The problem as it stands. */
  get problem() {
    this.known ??= lotProblem(this.entries, this.shelf(), this.lot.hour_rate);
    return this.known;
  }

  /** What is left to ask of a set in a quick round, best first. @param {number} index */
  looksOf(index) {
    // What parts cost a set does not hang on what is found of itself.
    if (this.pricedFor !== index) Object.assign(this, { pricedFor: index, prices: new Prices(this.problem) });
    return setLooks(this.problem, index, this.prices);
  }

  /** Spares and wants in the lot's money. */
  shelf() {
    const rate = this.lot.currency?.rate ?? 1;
    return this.things.map(({ kind, family, model_sheet: sheet = null, part, state = 1, count = 1, worth = null }) => ({ kind, family, model_sheet: sheet, part, state, count, worth: worth === null ? null : worth * rate }));
  }

  /** How many of the members are of the lot itself. */
  get size() {
    return this.members.filter(({ owned }) => !owned).length;
  }
}

/** @returns {Promise<Member | null>} null for one whose tables are not on this phone */
async function memberOf(foundSet, owned, log) {
  try {
    const { base } = foundSet;
    const prepared = await prepareFor(base.family, base.model_sheet);
    const sales = await comparablesOf(base, log);
    // Sales are reckoned in today's money, and the price index is among the late tables.
    if (sales.length > 0) await loadReasons(base.family).catch(() => undefined);
    return { foundSet, prepared, sales, owned };
  } catch {
    return null;
  }
}
