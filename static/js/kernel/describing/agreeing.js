/** What the set says of itself: plates, numbers, coverage, and what fits together. Twin of agreeing.py. */
import { consistency } from '../consistency.js';
import { designationOf } from '../matching.js';
import { orderYear } from '../nameplate.js';
import { tell, WHAT_IS_IT } from './seen.js';
import { blank, section, spoken } from './sentences.js';

const UNKNOWN = 'cannot tell yet';
const MISFIT = 'does not fit';
/** Blanks of the sentences about what fits together that are not figures. */
const TEXTS = ['serial', 'book', 'designation'];
const WORDS = ['families', 'finish', 'service', 'expected'];

/** What it is described as, its plates and numbers, when and for whom, and what its dial covers. */
export const identity = (seen) => section(seen.pack, WHAT_IS_IT, [
  type(seen), plate(seen), seen.of(WHAT_IS_IT).map((one) => tell(seen, one)), [...serials(seen), ...notes(seen)], coverage(seen),
]);

/** The kind it is described as, and the type with what is known of such as they were built. */
function type({ pack }) {
  const family = blank('label', familyName(pack));
  if (!('sheet' in pack)) return [spoken(pack, 'tell-kind', ['family'], { family })];
  const named = spoken(pack, 'tell-type', ['model_sheet'], { type: blank('words', pack.name), family });
  return pack.about ? [named, spoken(pack, 'tell-about', ['model_sheet'], { about: blank('words', pack.about) })] : [named];
}

/** The name of the pack's family, whatever model sheet lies over it. */
export const familyName = (pack) => pack.nomenclature.families[pack.family].name;

/** What stands on the nameplate, the designation read where it is whole, and the year of order. */
function plate({ pack, findings: { nameplate, order } }) {
  const found = [];
  if (nameplate) found.push(spoken(pack, 'tell-nameplate', ['nameplate'], { text: blank('text', nameplate) }));
  const reading = designationOf(pack, nameplate);
  if (reading && ['set', 'unit'].includes(reading.kind)) found.push(spoken(pack, 'tell-as-read', ['nameplate'], { text: blank('words', reading.sentence) }));
  const years = [['order', order], ['nameplate', nameplate]].map(([where, text]) => [where, orderYear(pack.nomenclature, text ?? '').year]);
  const [where, year] = years.find(([, told]) => told !== null) ?? [];
  if (where) found.push(spoken(pack, 'tell-year', [where], { year: blank('text', String(year)) }));
  return found;
}

function serials(seen) {
  const { pack, findings } = seen;
  const match = matchOf(seen, 'serial');
  if (match && ('serial' in match.blanks || 'book' in match.blanks)) return [said(seen, match, 'book_foreign')];
  return [['serial', findings.serial], ['book', findings.book_serial]].filter(([, number]) => number)
    .map(([name, number]) => spoken(pack, `tell-${name}`, [name], { number: blank('text', number) }));
}

/** Service and finish as noted, and where designation or finish do not fit. */
function notes(seen) {
  const { pack, findings } = seen;
  const noted = ['service', 'finish'].filter((name) => findings[name])
    .map((name) => spoken(pack, `tell-${name}`, [name], { noted: blank('text', findings[name]) }));
  const misfits = ['designation', 'finish'].map((name) => [name, matchOf(seen, name)]).filter(([, match]) => match?.result === MISFIT)
    .map(([name, match]) => said(seen, match, `${name}_misfit`));
  return [...noted, ...misfits];
}

/** What its dial reads, or else what its type covers, and what of that is amateur bands. */
function coverage(seen) {
  const { pack, findings, now: { standing } } = seen;
  if (standing.coverage === null) return [];
  const [low, high] = standing.coverage;
  const ends = { from: blank('figure', low), to: blank('figure', high) };
  const found = [spoken(pack, findings.coverage_khz ? 'tell-coverage' : 'tell-coverage-type', ['coverage_khz'], ends)];
  const match = matchOf(seen, 'coverage');
  if (match) {
    const blanks = Object.fromEntries(Object.entries(blanksOf(match)).filter(([key]) => !(key in ends)));
    found.push(spoken(pack, match.result === MISFIT ? 'tell-out-of-band' : 'tell-in-band', ['coverage_khz'], blanks, ['coverage']));
  }
  return found;
}

/** What fits together or does not, in a sentence that stands by itself. @param {string} what names its effect */
export const inShort = (seen, what) => said(seen, matchOf(seen, what === 'book_foreign' ? 'serial' : what.split('_')[0]), what);

/** What the check crystal is marked, and whether it belongs to this set. */
export function crystal(seen) {
  const match = matchOf(seen, 'crystal');
  if (match) return [said(seen, match, 'crystal_foreign')];
  const { crystal_khz: khz } = seen.findings;
  return khz === null ? [] : [spoken(seen.pack, 'tell-crystal', ['crystal_khz'], { crystal: blank('figure', khz) })];
}

/** Whether the heater strings suit the supply. */
export function heaters(seen) {
  const match = matchOf(seen, 'heaters');
  return match ? [said(seen, match, 'heaters_misfit')] : [];
}

const matchesOf = ({ prepared, now, findings }) => consistency(prepared, now.standing, findings);

/** Names of the comparisons that cannot be told yet. */
export const notCompared = (seen) => matchesOf(seen).filter((row) => row.result === UNKNOWN).map((row) => seen.pack.words[`name-${row.check}`]);

const matchOf = (seen, check) => matchesOf(seen).find((row) => row.check === check && row.result !== UNKNOWN);

const said = ({ pack, rows }, match, effect) =>
  spoken(pack, match.words, [match.check], blanksOf(match), rows.filter((row) => row.what === effect).map((row) => row.what));

const blanksOf = ({ blanks }) => Object.fromEntries(Object.entries(blanks).map(([key, value]) =>
  [key, blank(TEXTS.includes(key) ? 'text' : WORDS.includes(key) ? 'words' : 'figure', value)]));
