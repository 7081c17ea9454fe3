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
 * @property {string | null} nameplate
 * @property {string | null} serial
 * @property {string | null} book_serial
 * @property {string | null} order
 * @property {{volts: number, amps: number}[][][]} heater_strings
 * @property {string | null} finish
 * @property {string | null} service
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
  const keep = (known, name) => {
    if (!known) setAside.push(name);
    return known;
  };
  const holes = (raw.holes ?? []).filter((hole) => keep(
    places.has(hole.place) && answers[holeCheck] !== 'none', `hole of ${hole.diameter_mm} mm in ${hole.place}`));
  const unseen = (raw.unseen ?? []).filter((check) => keep(
    prepared.checkIndex.has(check) && !(check in answers), `${check}: cannot be looked at`));
  const aim = raw.aim ?? prepared.pack.default_aim;
  const own = prepared.pack.reference.currency;
  const currency = raw.currency ?? own;
  const rated = keep(currency === own || raw.rate > 0, `currency: ${currency} without its rate`);
  return {
    findings: {
      answers,
      unseen: new Set(unseen),
      holes,
      coverage_khz: raw.coverage_khz ?? null,
      crystal_khz: raw.crystal_khz ?? null,
      asking: raw.asking ?? null,
      currency: rated ? currency : own,
      rate: rated ? raw.rate ?? 1 : 1,
      hour_rate: raw.hour_rate ?? 0,
      aim: keep(prepared.aims.has(aim), `aim: ${aim}`) ? aim : prepared.pack.default_aim,
      region: raw.region ?? null,
      nameplate: raw.nameplate ?? null,
      serial: raw.serial ?? null,
      book_serial: raw.book_serial ?? null,
      order: raw.order ?? null,
      heater_strings: (raw.heater_strings ?? []).map((string) => string.map((place) => [place].flat())),
      finish: raw.finish ?? null,
      service: raw.service ?? null,
      comparables: (raw.comparables ?? []).filter((row) => keep(raw.today && row.date <= raw.today, `sale of ${row.date}`))
        .map(({ price, date, currency: given, state = null, kind, rate: perOwn = null, log_offset: offset = null }) =>
          ({ price, date, currency: given ?? own, state, kind: kind ?? 'sold', rate: perOwn, log_offset: offset })),
      today: raw.today ?? null,
    },
    setAside,
  };
}
