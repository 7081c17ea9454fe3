/**
 * What was found on one set. Twin of webapp/appraisal/findings.py, with one difference: findings kept
 * on the phone may be older than its rule tables, so what this version does not know is set aside and
 * named, never refused.
 *
 * @typedef {{place: string, diameter_mm: number, as_found: string}} Hole
 * @typedef {Object} Findings
 * @property {Record<string, string>} answers
 * @property {Set<string>} unseen
 * @property {Hole[]} holes
 * @property {number[] | null} coverage_khz
 * @property {number | null} crystal_khz
 * @property {number | null} asking
 * @property {string} currency
 * @property {number} rate
 * @property {number} hour_rate
 * @property {string} aim
 * @property {number | null} region
 */

/**
 * The findings that this pack understands, and the names of those it does not.
 * @param {any} raw a findings document of the contract
 * @param {any} prepared
 * @returns {{findings: Findings, setAside: string[]}}
 */
export function readFindings(raw, prepared) {
  const setAside = [];
  const answers = {};
  for (const [check, option] of Object.entries(raw.answers ?? {})) {
    const index = prepared.checkIndex.get(check);
    if (index !== undefined && prepared.checks[index].indexOf.has(option)) answers[check] = option;
    else setAside.push(`${check}: ${option}`);
  }
  const holeCheck = prepared.checks[prepared.holeCheck].id;
  const places = new Set(prepared.pack.holes.places.map((place) => place.id));
  const holes = answers[holeCheck] === 'none' ? [] : (raw.holes ?? []).filter((hole) => places.has(hole.place));
  return {
    findings: {
      answers,
      unseen: new Set((raw.unseen ?? []).filter((check) => prepared.checkIndex.has(check) && !(check in answers))),
      holes,
      coverage_khz: raw.coverage_khz ?? null,
      crystal_khz: raw.crystal_khz ?? null,
      asking: raw.asking ?? null,
      currency: raw.currency ?? prepared.pack.reference.currency,
      rate: raw.rate ?? 1,
      hour_rate: raw.hour_rate ?? 0,
      aim: prepared.aims.has(raw.aim) ? raw.aim : prepared.pack.default_aim,
      region: raw.region ?? null,
    },
    setAside,
  };
}
