/** One set of a lot in figures: as it stands, completed with certain parts, broken. Twin of webapp/appraisal/lot/sets.py. */
import { taskEstimate } from '../effort.js';
import { market, misfits, shares } from '../price.js';
import { foreignChecks } from '../scores.js';
import { stand } from '../standing.js';
import { inParts } from '../worth.js';

/** A crystal or book of another set is replaced with its effect; by the check it hangs on. */
const FOREIGN = { crystal_foreign: 'crystalCheck', book_foreign: 'bookCheck' };

/**
 * @typedef {{prepared: any, findings: any, modelSheet?: string | null, owned?: boolean}} Entry one set that joins a
 *   plan; its findings carry the lot's currency, rate and hour rate
 * @typedef {Object} Completed a set completed with certain parts: its price law then, and the work
 * @property {number} mean
 * @property {number} logMedian
 * @property {number} logVariance
 * @property {number} hours
 * @property {number} materials
 * @property {number} workVariance of hours × rate and materials together, in money
 */

/** The figures of one set. `counted` per part is the state that plans go by: what was found, else 1 or 0. */
export function seen(entry, kinds) {
  const { prepared, findings } = entry;
  const standing = stand(prepared, findings);
  const found = shares(prepared, standing, findings.aim);
  const price = market(prepared, standing, found, findings);
  const parts = inParts(prepared, standing, findings);
  const foreign = foreignChecks(prepared, standing);
  const { market_log_sd: scatter } = prepared.pack.reference;
  return {
    entry,
    kinds,
    standing,
    found,
    market: price,
    logReferenceVariance: Math.max(0, price.referenceVariance - scatter * scatter),
    parts: { mean: parts.mean + findings.hour_rate * prepared.breakHoursMean, variance: parts.variance },
    counted: kinds.parts.map((kind) => counted(prepared, standing, foreign, kind)),
    foreign,
  };
}

/** The state found; a part not checked counts as there when that is at least as likely as not. */
function counted(prepared, standing, foreign, kind) {
  if (foreign.includes(kind.check)) return 0;
  const check = prepared.checks[kind.check];
  const chosen = standing.chosen[kind.check];
  if (chosen >= 0) return check.options[chosen].state;
  return check.state >= prepared.pack.model.counts_as_there ? 1 : 0;
}

/** What the part's salvage is weighed by: the state found, else the expected one. */
export function expectedState(one, part) {
  const at = one.kinds.parts[part].check;
  const check = one.entry.prepared.checks[at];
  const chosen = one.standing.chosen[at];
  return chosen >= 0 ? check.options[chosen].state : check.state;
}

/** What a part of this set is expected to fetch, and the variance of that. @returns {[number, number]} */
export function partWorth(one, part) {
  const { prepared, findings } = one.entry;
  const at = one.kinds.parts[part].check;
  const { salvageMean, salvageVariance } = prepared.parts[part];
  const t = prepared.pack.sell_through * findings.rate;
  const state = expectedState(one, part);
  const square = one.standing.chosen[at] >= 0 ? state * state : prepared.checks[at].stateSquare;
  const share = t * state * salvageMean;
  return [share, t * t * square * (salvageVariance + salvageMean * salvageMean) - share * share];
}

/** The set with these parts (by index) at their best option, their follow-ups open. @returns {Completed} */
export function completed(one, parts) {
  const { prepared } = one.entry;
  let { mean, logMedian, variance } = one.market;
  const replaced = parts.map((part) => one.kinds.parts[part]);
  for (const kind of replaced) {
    const best = prepared.checks[kind.check].options[kind.best];
    mean *= best.factor / one.found.factor[kind.check];
    logMedian += best.mean - one.found.mean[kind.check];
    variance += best.variance - one.found.variance[kind.check];
  }
  const gone = replaced.map((kind) => kind.check).filter((check) => one.foreign.includes(check));
  if (gone.length > 0) {
    for (const [name, , effect] of misfits(prepared, one.standing)) {
      if (!gone.includes(prepared[FOREIGN[name]])) continue;
      mean /= effect.factor;
      logMedian -= effect.mean;
      variance -= effect.variance;
    }
  }
  return { mean, logMedian, logVariance: Math.max(0, variance), ...work(one, replaced) };
}

/** Hours and materials of the tasks that the replaced options called, each once (contract §7). */
function work(one, replaced) {
  const { prepared, findings } = one.entry;
  let [hours, materials, spread] = [0, 0, 0];
  for (const [task, left] of [...notCalled(one, replaced)].sort(([a], [b]) => a - b)) {
    const q = 1 - left;
    const estimate = taskEstimate(prepared.tasks[task], one.standing.drilled?.tasks.get(task) ?? 0);
    const bought = withoutPart(one.kinds, task, estimate.materials);
    for (const [rate, [mean, variance]] of [[findings.hour_rate, estimate.hours], [findings.rate, bought]]) {
      spread += rate * rate * (q * (variance + mean * mean) - (q * mean) * (q * mean));
    }
    hours += q * estimate.hours[0];
    materials += q * bought[0] * findings.rate;
  }
  return { hours, materials, workVariance: Math.max(0, spread) };
}

/** The materials of a task without the part that it finds and fits: (mean, variance). @returns {[number, number]} */
export function withoutPart(kinds, task, materials) {
  const [price, variance] = kinds.contained[task];
  return [Math.max(0, materials[0] - price), Math.max(0, materials[1] - variance)];
}

/** Per task the probability that no replaced option called it. */
function notCalled(one, replaced) {
  const left = new Map();
  for (const kind of replaced) {
    const check = one.entry.prepared.checks[kind.check];
    const chosen = one.standing.chosen[kind.check];
    const calling = chosen >= 0 ? [[1, check.options[chosen]]] : check.options.map((option) => [option.prior, option]);
    const weights = new Map();
    for (const [prior, option] of calling) {
      for (const task of new Set(option.tasks)) weights.set(task, (weights.get(task) ?? 0) + prior);
    }
    for (const [task, weight] of weights) left.set(task, (left.get(task) ?? 1) * (1 - Math.min(1, weight)));
  }
  return left;
}

/** The points of a lognormal law at −z and z. @returns {[number, number]} */
export function quantiles(logMedian, logVariance, z) {
  const reach = z * Math.sqrt(logVariance);
  return [Math.exp(logMedian - reach), Math.exp(logMedian + reach)];
}
