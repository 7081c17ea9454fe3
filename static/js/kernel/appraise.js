/** One appraisal from beginning to end. Twin of webapp/appraisal/appraise.py. */
import { argued } from './arguing.js';
import { consistency } from './consistency.js';
import { p90 } from './effort.js';
import { fairRange, nextLooks, numbers } from './numbers.js';
import { marketQuantile } from './price.js';
import { moneyScale, reasons } from './reasons.js';
import { verdict } from './verdict.js';
import { partsQuantile } from './worth.js';

/**
 * The appraisal document of the contract, without its texts.
 * @param {any} prepared
 * @param {import('./findings.js').Findings} findings
 * @param {number} minorDigits decimals of the appraisal's currency
 */
export function appraise(prepared, findings, minorDigits) {
  const now = numbers(prepared, findings);
  const ahead = nextLooks(prepared, findings, now);
  const { model } = prepared.pack;
  const fairPrice = fairRange(prepared, now);
  const rows = reasons(prepared, now.standing, findings, now.found, now.market);
  const scale = moneyScale(now.market);
  const stakes = { worth: now.worth.value, ...fairPrice, asking: findings.asking };
  return {
    ...now.scores,
    holes: { count: findings.holes.length, severity: now.standing.drilled?.severity ?? 0 },
    effort: effortDocument(prepared, now.effort, model.z90),
    price: priceDocument(prepared, findings, now, fairPrice),
    worth: now.worth,
    verdict: verdictDocument(stakes, ahead, model.rounding_share, minorDigits),
    looking: { value: ahead.value, threshold: ahead.threshold },
    next_checks: ahead.looks.map(({ check, evi, seconds }) =>
      ({ check: prepared.checks[check].id, evi, seconds, ...couldChange(prepared.checks[check], scale) })),
    reasons: rows,
    ...argued(prepared, findings, now, ahead, rows, fairPrice),
    consistency: consistency(prepared, now.standing, findings),
    cautions: cautions(prepared, now.standing),
    not_checked: notChecked(prepared, now.standing),
    shown: prepared.checks.filter((_, index) => now.standing.shown[index]).map((check) => check.id),
  };
}

/** The verdict, and before looking any longer what to do if one had to decide now. */
function verdictDocument(stakes, ahead, share, minorDigits) {
  const decision = verdict(stakes, ahead.value, ahead.threshold, share, minorDigits);
  return { ...decision, meanwhile: decision.word === 'look first' ? verdict(stakes, 0, 1, share, minorDigits) : null };
}

/** Ids of the checks shown and open. */
export function notChecked(prepared, standing) {
  return prepared.checks
    .filter((_, index) => standing.shown[index] && standing.chosen[index] < 0)
    .map((check) => check.id);
}

/** What the worst and the best answer would change against what is usual, in money of contract §11. */
function couldChange(check, scale) {
  const effects = check.options.map((option) => option.mean - check.mean);
  return { worst: Math.min(...effects) * scale, best: Math.max(...effects) * scale };
}

function priceDocument(prepared, findings, { market: price, parts, mending: mend }, fairPrice) {
  const { z90 } = prepared.pack.model;
  const points = (quantile, law) => ({ p10: quantile(law, -z90), p50: quantile(law, 0), p90: quantile(law, z90) });
  return {
    reference: referenceDocument(prepared.pack.reference, findings.rate, price),
    as_is: { ...points(marketQuantile, price), mean: price.mean },
    parts: { ...points(partsQuantile, parts), mean: parts.mean },
    restored_net: { mean: price.restoredMean - mend.total },
    fair: fairPrice,
  };
}

/** Prior and comparables in the appraisal's currency; `posterior_log_sd` is without the market's scatter. */
function referenceDocument(own, rate, { logReference, referenceVariance, comparables }) {
  const posterior = referenceVariance - own.market_log_sd * own.market_log_sd;
  return {
    median: Math.exp(logReference),
    log_sd: Math.sqrt(referenceVariance),
    prior: { median: own.median * rate, log_sd: own.log_sd, share: posterior / (own.log_sd * own.log_sd) },
    posterior_log_sd: Math.sqrt(posterior),
    comparables: comparables.map((weighed) => ({ ...weighed, price: weighed.price * rate })),
  };
}

function effortDocument(prepared, found, z90) {
  const both = (estimate) => ({ p50: estimate[0], p90: p90(estimate, z90) });
  return {
    hours: both(found.hours),
    materials: both(found.materials),
    tasks: found.lines.map((line) => ({
      task: prepared.tasks[line.task].id,
      probability: line.probability,
      items: line.items,
      hours: both(line.hours),
      materials: both(line.materials),
    })),
  };
}

/** Ids of the standing cautions and of those that the answers given call, in table order. */
export function cautions(prepared, standing) {
  const called = new Set();
  standing.chosen.forEach((chosen, index) => {
    if (chosen < 0 || !standing.shown[index]) return;
    for (const id of prepared.pack.checks[index].options[chosen].cautions) called.add(id);
  });
  return prepared.pack.cautions.filter((row) => row.standing || called.has(row.id)).map((row) => row.id);
}
