/** Which findings moved the price, and what each is worth in money (contract §11). Twin of reasons.py. */
import { logarithmicMean } from './money.js';
import { coverageEffect, marketQuantile, misfits } from './price.js';
import { holeSize } from './standing.js';

const WEAKEST_FIRST = ['invented', 'from memory', 'common practice', 'published'];

/** The weakest basis among some rows. */
export function weakest(rows) {
  return WEAKEST_FIRST.find((basis) => rows.some((row) => row.basis === basis));
}

/** All rows, the largest effect first and what is not checked last; the amounts add up to P50 − R. */
export function reasons(prepared, standing, findings, found, price) {
  const rows = [];
  let openEffect = 0;
  const openRows = [];
  prepared.checks.forEach((check, index) => {
    const raw = prepared.pack.checks[index];
    const chosen = standing.chosen[index];
    if (!standing.shown[index]) return;
    if (chosen < 0) {
      openEffect += check.mean;
      openRows.push(raw, ...raw.options);
    } else if (index === prepared.holeCheck && standing.drilled) {
      rows.push(row('holes', 'some', found.mean[index], holeGrounds(prepared, findings)));
    } else {
      const option = raw.options[chosen];
      const grounds = { basis: option.basis, source: option.source, why: option.why ?? raw.why };
      rows.push(row(check.id, option.id, check.options[chosen].ownMean, grounds));
    }
  });
  const { effects } = prepared.pack;
  const coverage = coverageEffect(prepared, standing);
  if (standing.overlap === null) {
    openEffect += coverage.mean;
    openRows.push(effects.coverage);
  } else rows.push(row('coverage', null, coverage.mean, effects.coverage));
  for (const [name, check, effect] of misfits(prepared, standing)) rows.push(row(name, null, effect.mean, effects[check]));
  rows.sort((a, b) => Math.abs(b.logEffect) - Math.abs(a.logEffect));
  if (openRows.length > 0) {
    const why = 'What is still open, at what is usual for the family.';
    rows.push(row('not checked', null, openEffect, { basis: weakest(openRows), why }));
  }
  const scale = moneyScale(price);
  for (const reason of rows) reason.amount = reason.logEffect * scale;
  return rows;
}

/** What a log effect of 1 is worth in money: L(P50, R) of contract §11. */
export const moneyScale = (price) => logarithmicMean(marketQuantile(price, 0), Math.exp(price.logReference));

function row(what, option, logEffect, { basis, source = null, why }) {
  return { what, option, logEffect, amount: 0, basis, source, why };
}

function holeGrounds(prepared, findings) {
  const law = prepared.pack.holes;
  const sizes = findings.holes.map((hole) => holeSize(prepared.pack, hole));
  return { basis: weakest([law, ...sizes]), source: law.source, why: law.why };
}
