/** How wide the range is, and from what: the variance of the log price taken apart. Twin of spread.py. */
import { coverageEffect, misfits } from './price.js';
import { holeEffect } from './standing.js';

/**
 * The parts add up to σ²; `found` ones stay, a look may settle the others. `settled` takes off what the looks
 * ahead are expected to settle.
 */
export function spread(prepared, standing, market, ahead) {
  const { reference, model } = prepared.pack;
  const scatter = reference.market_log_sd * reference.market_log_sd;
  const rows = [['reference', market.referenceVariance - scatter, true], ['scatter', scatter, true]];
  prepared.checks.forEach((check, index) => {
    if (!standing.shown[index]) return;
    const chosen = standing.chosen[index];
    if (chosen < 0) rows.push([check.id, check.variance, false]);
    else if (index === prepared.holeCheck && standing.drilled) {
      rows.push([check.id, holeEffect(prepared.pack, standing.drilled.severity)[1], true]);
    } else rows.push([check.id, check.options[chosen].ownVariance, true]);
  });
  rows.push(['coverage', coverageEffect(prepared, standing).variance, standing.overlap !== null]);
  for (const [name, , effect] of misfits(prepared, standing)) rows.push([name, effect.variance, true]);
  rows.sort((a, b) => b[1] - a[1]);
  const left = ahead.looks.reduce((sum, look) => sum + prepared.checks[look.check].spread, 0);
  const reach = model.z90 * Math.sqrt(Math.max(0, market.variance - left));
  return {
    log_sd: Math.sqrt(market.variance),
    parts: rows.filter((row) => row[1] > 0)
      .map(([what, variance, found]) => ({ what, variance, share: variance / market.variance, found })),
    settled: { p10: Math.exp(market.logMedian - reach), p90: Math.exp(market.logMedian + reach) },
  };
}
