/** What can be computed from two findings that ought to agree (contract §6). Twin of consistency.py. */
import { coverageEffect, crystalEffect } from './price.js';
import { harmonicsInside } from './standing.js';

/** Coverage against the amateur bands of the user's region, and crystal against coverage. */
export function consistency(prepared, standing, findings) {
  return [coverageMatch(prepared, standing, findings), crystalMatch(prepared, standing, findings)];
}

function coverageMatch(prepared, standing, findings) {
  const { coverage, overlap } = standing;
  if (coverage === null) return result('coverage', 'cannot tell yet', 'coverage-unknown', {}, 0);
  const span = { from: coverage[0], to: coverage[1] };
  if (overlap === null) return result('coverage', 'cannot tell yet', 'coverage-no-region', span, 0);
  const effect = coverageEffect(prepared, standing).mean;
  const { region } = findings;
  if (overlap < prepared.pack.model.overlap_khz) {
    return result('coverage', 'does not fit', 'coverage-misfit', { ...span, region }, effect);
  }
  return result('coverage', 'fine', 'coverage-fine', { ...span, region, overlap }, effect);
}

function crystalMatch(prepared, standing, findings) {
  const { coverage } = standing;
  const crystal = findings.crystal_khz;
  if (coverage === null || crystal === null) {
    return result('crystal', 'cannot tell yet', 'crystal-unknown', {}, 0);
  }
  const [harmonic] = harmonicsInside(prepared.pack, coverage, crystal);
  const effect = crystalEffect(prepared, standing).mean;
  if (harmonic === undefined) {
    const blanks = { crystal, from: coverage[0], to: coverage[1] };
    return result('crystal', 'does not fit', 'crystal-misfit', blanks, effect);
  }
  return result('crystal', 'fine', 'crystal-fine', { crystal, harmonic, points: harmonic * crystal }, effect);
}

function result(check, verdict, words, blanks, logEffect) {
  return { check, result: verdict, words, blanks, logEffect };
}
