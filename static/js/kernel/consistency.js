/** What can be computed from findings that ought to agree (contract §6). Twin of consistency.py. */
import { ampsAgree, designationOf, finishOf, harmonicsInside, heating, voltsSuit } from './matching.js';
import { coverageEffect, misfits } from './price.js';

const FINE = 'fine';
const MISFIT = 'does not fit';
const UNKNOWN = 'cannot tell yet';

/** All comparisons that mean something for this family, and those the findings give figures for. */
export function consistency(prepared, standing, findings) {
  const { pack } = prepared;
  const { effects } = pack;
  const bands = [...effects.coverage_in_band, ...effects.coverage_out_of_band].some((figure) => figure !== 0);
  const comparisons = [
    ['designation', 'designation_misfit' in effects, designation],
    ['coverage', bands || standing.coverage !== null, coverage],
    ['crystal', prepared.crystalCheck >= 0 || findings.crystal_khz !== null, crystal],
    ['serial', prepared.bookCheck >= 0 || findings.book_serial !== null, serial],
    ['heaters', pack.supply_volts || findings.heater_strings.length > 0, heaters],
    ['finish', 'finish_misfit' in effects, finish],
  ];
  const found = new Map(misfits(prepared, standing).map(([, check, effect]) => [check, effect.mean]));
  return comparisons.filter(([, wanted]) => wanted).map(([check, , compare]) => {
    const [result, words, blanks = {}] = compare(pack, standing, findings);
    const known = check === 'coverage' && result !== UNKNOWN;
    const logEffect = known ? coverageEffect(prepared, standing).mean : found.get(check) ?? 0;
    return { check, result, words, blanks, logEffect };
  });
}

function coverage(pack, standing, { region }) {
  if (standing.coverage === null) return [UNKNOWN, 'coverage-unknown'];
  const [from, to] = standing.coverage;
  const { overlap } = standing;
  if (overlap === null) return [UNKNOWN, 'coverage-no-region', { from, to }];
  if (overlap < pack.model.overlap_khz) return [MISFIT, 'coverage-misfit', { from, to, region }];
  return [FINE, 'coverage-fine', { from, to, region, overlap }];
}

function crystal(pack, standing, { crystal_khz: khz }) {
  if (standing.coverage === null || khz === null) return [UNKNOWN, 'crystal-unknown'];
  const [harmonic] = harmonicsInside(pack, standing.coverage, khz);
  const [from, to] = standing.coverage;
  if (harmonic === undefined) return [MISFIT, 'crystal-misfit', { crystal: khz, from, to }];
  return [FINE, 'crystal-fine', { crystal: khz, harmonic, points: harmonic * khz }];
}

function serial(pack, { matches }, { serial: own, book_serial: book }) {
  if (pack.sheet?.book === 'by model') return [FINE, 'serial-by-model'];
  if (matches.serial === null) return [UNKNOWN, 'serial-unknown'];
  return matches.serial ? [FINE, 'serial-fine', { serial: own }] : [MISFIT, 'serial-misfit', { serial: own, book }];
}

function heaters(pack, { matches }, { heater_strings: strings }) {
  if (strings.length === 0) return [UNKNOWN, 'heaters-unknown'];
  if (matches.heaters === null) return [UNKNOWN, 'heaters-no-supply'];
  const [low, high] = pack.supply_volts;
  for (const [index, string] of strings.entries()) {
    const found = heating(index + 1, string);
    const { volts, least, most } = found;
    if (!voltsSuit(pack, found)) return [MISFIT, 'heaters-volts', { string: index + 1, volts, low, high }];
    if (!ampsAgree(pack, found)) return [MISFIT, 'heaters-amps', { string: index + 1, least, most }];
  }
  return [FINE, 'heaters-fine', { low, high }];
}

function designation(pack, { matches }, { nameplate }) {
  const reading = designationOf(pack, nameplate);
  if (reading === null) return [UNKNOWN, 'designation-unknown'];
  if (matches.designation === null) return [UNKNOWN, 'designation-unread'];
  if (matches.designation) return [FINE, 'designation-fine', { designation: reading.written }];
  const families = reading.families.map((family) => pack.nomenclature.families[family].name).join('; ');
  return [MISFIT, 'designation-misfit', { designation: reading.written, families }];
}

function finish(pack, { said, matches }, findings) {
  const { found, service, expected, bySheet } = finishOf(pack, findings, said);
  if (matches.finish === null) return [UNKNOWN, 'finish-unknown'];
  const label = (id) => pack.finishes.find((row) => row.id === id).label;
  const blanks = { finish: found.label, ...(bySheet ? {} : { service: service.label }) };
  const words = bySheet ? 'finish-sheet' : 'finish';
  if (matches.finish) return [FINE, `${words}-fine`, blanks];
  return [MISFIT, `${words}-misfit`, { ...blanks, expected: expected.map(label).join(pack.words.or) }];
}
