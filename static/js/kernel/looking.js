/**
 * What to look at next, and when to stop: expected value of information (contract §8).
 * Twin of webapp/appraisal/looking.py. Sources: Raiffa and Schlaifer 1961; Howard 1966; Black 1976.
 */
import { probability } from './effort.js';
import { normalCdf } from './normal.js';
import { fair } from './worth.js';

/**
 * The looks in order of expected value per second, and whether they are worth the time.
 * @param {any} prepared
 * @param {import('./findings.js').Findings} findings
 * @param {any} now what `numbers` gave
 */
export function looking(prepared, findings, now) {
  const { asking } = findings;
  const { model } = prepared.pack;
  const looks = [];
  let spread = 0;
  const money = model.look_share * Math.max(asking ?? 0, now.worth.value);
  const floor = model.evi_floor * money;
  for (let index = 0; index < prepared.checks.length; index += 1) {
    const check = prepared.checks[index];
    if (!now.standing.shown[index] || now.standing.chosen[index] >= 0) continue;
    if (findings.unseen.has(check.id)) continue;
    spread += check.spread;
    const evi = asking === null
      ? widthGain(prepared, findings, now, index)
      : moneyGain(prepared, findings, now, index);
    const { seconds } = check;
    looks.push({ check: index, evi, seconds, first: evi >= floor ? evi / seconds : 0, then: check.spread / seconds });
  }
  looks.sort((a, b) => b.first - a.first || b.then - a.then || a.check - b.check);
  return {
    value: asking === null ? spread : valueOfAll(now.worth.value, asking, spread),
    threshold: asking === null ? model.spread_share * now.market.variance : money,
    looks,
  };
}

/** Value of looking at everything left: W·Φ(d₁) − A·Φ(d₂) − max(0, W − A), W taken as lognormal. */
export function valueOfAll(worth, asking, spread) {
  if (asking === 0 || spread <= 0 || worth <= 0) return 0;
  const s = Math.sqrt(spread);
  const d1 = (Math.log(worth / asking) + spread / 2) / s;
  return worth * normalCdf(d1) - asking * normalCdf(d1 - s) - Math.max(0, worth - asking);
}

function moneyGain(prepared, findings, now, index) {
  const { options } = prepared.checks[index];
  const baseCost = costWithout(prepared, findings, now, index);
  let gain = 0;
  for (let number = 0; number < options.length; number += 1) {
    const value = worthIf(prepared, findings, now, index, number, baseCost);
    gain += options[number].prior * Math.max(0, value - findings.asking);
  }
  return gain - Math.max(0, now.worth.value - findings.asking);
}

/**
 * W with option `number` as the answer: each sum with this check's share exchanged. The follow-ups that it
 * would open count as open, whatever was once answered there: so the answers' worths average to today's,
 * and no look is worth less than nothing.
 */
function worthIf(prepared, findings, now, index, number, baseCost) {
  const check = prepared.checks[index];
  const view = prepared.aims.get(findings.aim);
  const asIs = now.market.mean * (check.options[number].factor / now.found.factor[index]);
  const restored = view.optionFactors[index][number] / now.found.restored[index];
  const restoredMean = now.market.restoredMean * restored;
  let cost = baseCost;
  const calls = view.mendCalls[index];
  for (const [task, weight] of calls.open) {
    const q = calls.options[number].includes(task) ? 1 : 1 - productWithout(now.mending.calls, task, weight);
    cost += q * now.mending.cost[task];
  }
  return Math.max(asIs, restoredMean - cost, partsMeanIf(prepared, findings, now, check, number));
}

function partsMeanIf(prepared, findings, now, check, number) {
  if (check.part < 0) return now.parts.mean;
  const t = prepared.pack.sell_through * findings.rate;
  const part = prepared.parts[check.part];
  return now.parts.mean + t * part.salvageMean * (check.options[number].state - check.state);
}

/** Probability that no other check or hole calls the task. */
function productWithout(calls, task, weight) {
  const own = 1 - weight;
  if (own > 0) return calls.zeros[task] ? 0 : calls.product[task] / own;
  return calls.zeros[task] > 1 ? 0 : calls.product[task];
}

/** The cost of mending less that of the tasks which this check calls. */
function costWithout(prepared, findings, now, index) {
  let cost = now.mending.total;
  for (const [task] of prepared.aims.get(findings.aim).mendCalls[index].open) {
    cost -= probability(now.mending.calls, task) * now.mending.cost[task];
  }
  return cost;
}

/** Expected shrinkage of P90 − P10 of the fair price. */
function widthGain(prepared, findings, now, index) {
  const { z90 } = prepared.pack.model;
  const { options } = prepared.checks[index];
  let after = 0;
  for (let number = 0; number < options.length; number += 1) {
    after += options[number].prior * widthIf(prepared, findings, now, index, number, z90);
  }
  return fair(now.market, now.parts, z90) - fair(now.market, now.parts, -z90) - after;
}

function widthIf(prepared, findings, now, index, number, z90) {
  const check = prepared.checks[index];
  const option = check.options[number];
  const mean = option.opens.reduce((sum, child) => sum + prepared.checks[child].mean, option.mean);
  const price = {
    logMedian: now.market.logMedian - now.found.mean[index] + mean,
    variance: Math.max(0, now.market.variance - now.found.variance[index] + option.variance),
  };
  const parts = check.part < 0 ? now.parts : {
    mean: partsMeanIf(prepared, findings, now, check, number),
    variance: partsVarianceIf(prepared, findings, now, check, number),
  };
  return fair(price, parts, z90) - fair(price, parts, -z90);
}

function partsVarianceIf(prepared, findings, now, check, number) {
  const part = prepared.parts[check.part];
  const t = prepared.pack.sell_through * findings.rate;
  const { state } = check.options[number];
  const square = part.salvageVariance + part.salvageMean * part.salvageMean;
  const share = t * check.state * part.salvageMean;
  const before = t * t * check.stateSquare * square - share * share;
  return now.parts.variance - before + t * t * state * state * part.salvageVariance;
}
