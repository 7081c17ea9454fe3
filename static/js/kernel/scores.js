/**
 * Completeness, originality and calibration, each as low, likely, high in 0..100 (contract §2).
 * Twin of webapp/appraisal/scores.py.
 */

/** The checks on crystal and book where the part is there (state 1) and belongs to another set. */
export function foreignChecks(prepared, { matches, chosen }) {
  return [[prepared.crystalCheck, matches.crystal], [prepared.bookCheck, matches.serial]]
    .filter(([index, fits]) => fits === false && index >= 0 && chosen[index] >= 0
      && prepared.checks[index].options[chosen[index]].state === 1)
    .map(([index]) => index);
}

/** The scores of a set; an unanswered check gives its worst, expected and best. */
export function scores(prepared, standing) {
  const foreign = foreignChecks(prepared, standing);
  const all = { weight: 0, low: 0, likely: 0, high: 0 };
  const calibration = { weight: 0, low: 0, likely: 0, high: 0 };
  for (const part of prepared.parts) {
    const check = prepared.checks[part.check];
    const chosen = standing.chosen[part.check];
    const found = chosen >= 0 ? check.options[chosen].state : -1;
    const low = chosen >= 0 ? found : check.worstState;
    const likely = chosen >= 0 ? found : check.state;
    const high = chosen >= 0 ? found : check.bestState;
    add(all, part.weight, low, likely, high);
    if (!part.calibration) continue;
    if (foreign.includes(part.check)) add(calibration, part.weight, 0, 0, 0);
    else add(calibration, part.weight, low, likely, high);
  }
  return {
    completeness: percent(all),
    originality: originality(prepared, standing),
    calibration: percent(calibration),
  };
}

function add(total, weight, low, likely, high) {
  total.weight += weight;
  total.low += weight * low;
  total.likely += weight * likely;
  total.high += weight * high;
}

function percent({ weight, low, likely, high }) {
  return { low: (100 * low) / weight, likely: (100 * likely) / weight, high: (100 * high) / weight };
}

function originality(prepared, standing) {
  let low = 100;
  let likely = 100;
  let high = 100;
  for (let index = 0; index < prepared.checks.length; index += 1) {
    if (!standing.shown[index]) continue;
    const check = prepared.checks[index];
    const chosen = standing.chosen[index];
    const option = chosen >= 0 ? check.options[chosen] : null;
    low *= option ? option.kept : check.worstKept;
    likely *= option ? option.kept : check.kept;
    high *= option ? option.kept : check.bestKept;
  }
  return { low, likely, high };
}
