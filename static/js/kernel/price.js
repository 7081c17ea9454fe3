/**
 * The price as it stands and restored: a semi-log hedonic model (contract §3, §4).
 * Twin of webapp/appraisal/price.py. Sources: Rosen 1974; Halvorsen and Palmquist 1980.
 *
 * @typedef {{mean: number, variance: number, factor: number}} Effect
 */
import { referencePrice } from './reference.js';
import { foreignChecks } from './scores.js';
import { holeEffect } from './standing.js';

/** The effect of a [mean, sd] row that certainly holds. @returns {Effect} */
export function knownEffect([mean, sd]) {
  return { mean, variance: sd * sd, factor: Math.exp(mean + (sd * sd) / 2) };
}

/** In band, out of band, or, while coverage or region are unknown, the mixture of the two. @returns {Effect} */
export function coverageEffect(prepared, standing) {
  const { effects, model } = prepared.pack;
  const inside = knownEffect(effects.coverage_in_band);
  const outside = knownEffect(effects.coverage_out_of_band);
  if (standing.overlap !== null) return standing.overlap >= model.overlap_khz ? inside : outside;
  const p = effects.in_band_prior;
  const mean = p * inside.mean + (1 - p) * outside.mean;
  const square = p * (inside.variance + inside.mean * inside.mean)
    + (1 - p) * (outside.variance + outside.mean * outside.mean);
  return { mean, variance: square - mean * mean, factor: p * inside.factor + (1 - p) * outside.factor };
}

/**
 * What does not fit (contract §6): name of the effect, of the comparison, and the effect itself. A crystal
 * or book of another set counts only while its check says that one is there (contract §3). A family without
 * grounds for an effect has none: a supply may come with a model sheet alone.
 * @returns {[string, string, Effect][]}
 */
export function misfits(prepared, standing) {
  const { effects } = prepared.pack;
  const found = standing.matches;
  const foreign = foreignChecks(prepared, standing);
  return [
    ['crystal_foreign', 'crystal', foreign.includes(prepared.crystalCheck)],
    ['book_foreign', 'serial', foreign.includes(prepared.bookCheck)],
    ['heaters_misfit', 'heaters', found.heaters === false],
    ['designation_misfit', 'designation', found.designation === false],
    ['finish_misfit', 'finish', found.finish === false],
  ].filter(([, check, bad]) => bad && effects[check]).map(([name, check]) => [name, check, knownEffect(effects[name])]);
}

/** Each check's share in price and restored price, deepest follow-ups first. */
export function shares(prepared, standing, aim) {
  const { checks } = prepared;
  const mean = new Float64Array(checks.length);
  const variance = new Float64Array(checks.length);
  const factor = new Float64Array(checks.length);
  const restored = new Float64Array(checks.length);
  const view = prepared.aims.get(aim);
  for (const index of prepared.parentsLast) {
    const check = checks[index];
    const chosen = standing.chosen[index];
    if (chosen < 0) {
      mean[index] = check.mean;
      variance[index] = check.variance;
      factor[index] = check.factor;
      restored[index] = view.factors[index];
      continue;
    }
    const option = check.options[chosen];
    mean[index] = option.ownMean;
    variance[index] = option.ownVariance;
    factor[index] = option.ownFactor;
    restored[index] = view.ownFactors[index][chosen];
    for (const child of option.opens) {
      mean[index] += mean[child];
      variance[index] += variance[child];
      factor[index] *= factor[child];
      restored[index] *= restored[child];
    }
  }
  if (standing.drilled) {
    const index = prepared.holeCheck;
    [mean[index], variance[index]] = holeEffect(prepared.pack, standing.drilled.severity);
    factor[index] = Math.exp(mean[index] + variance[index] / 2);
    const [mended, spread] = holeEffect(prepared.pack, standing.drilled.restoredSeverity);
    restored[index] = Math.exp(mended + spread / 2);
  }
  return { mean, variance, factor, restored };
}

/** The price law of the set in the appraisal's currency. */
export function market(prepared, standing, found, findings) {
  const { market_log_sd: scatter } = prepared.pack.reference;
  const reference = referencePrice(prepared.pack, findings);
  const logReference = reference.logMedian + Math.log(findings.rate);
  const referenceVariance = reference.variance + scatter * scatter;
  let logMedian = logReference;
  let variance = referenceVariance;
  let factor = 1;
  let restored = 1;
  for (const index of prepared.alwaysShown) {
    logMedian += found.mean[index];
    variance += found.variance[index];
    factor *= found.factor[index];
    restored *= found.restored[index];
  }
  for (const effect of [coverageEffect(prepared, standing), ...misfits(prepared, standing).map((row) => row[2])]) {
    logMedian += effect.mean;
    variance += effect.variance;
    factor *= effect.factor;
    restored *= effect.factor;
  }
  const base = Math.exp(logReference + referenceVariance / 2);
  return {
    logReference,
    referenceVariance,
    logMedian,
    variance,
    mean: base * factor,
    restoredMean: base * restored,
    comparables: reference.comparables,
  };
}

/** exp(μ + z·σ), in the appraisal's currency. */
export function marketQuantile({ logMedian, variance }, z) {
  return Math.exp(logMedian + z * Math.sqrt(variance));
}
