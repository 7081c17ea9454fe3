/**
 * Reads nameplates: the type designation in what somebody typed off one, and the year of an order number.
 * Twin of webapp/appraisal/nameplate.py.
 *
 * @typedef {{kind: 'set' | 'unit' | 'half-readable' | 'not of this system' | 'empty', written: string,
 *   lines: import('./designation.js').Line[], families: string[], sentence: string}} Reading
 */
import { fill, PLACES, Table } from './designation.js';

// How many characters of a text are looked at, and how many digits the number of a set has at most.
const LOOKS_AT = 400;
const LONGEST = 4;

const TIDY = [
  [/[\u200b-\u200d\u2060\ufeff]/g, ''],
  [/[\u00ad\u2010-\u2015\u2212\ufe58\ufe63\uff0d]/g, '-'],
  [/[\\\u2044\u2215\uff0f]/g, '/'],
  [/[\x60\u00b4\u2018\u2019\u201b\u2032]/g, "'"],
  [/[*_]/g, '?'],
  [/[\t \u00a0\u2000-\u200a\u202f\u3000]+/g, ' '],
  [/ ?[\n\r\v\f\u0085\u2028\u2029][\n\r\v\f\u0085\u2028\u2029 ]*/g, '\n'],
  [/ ?\/ ?/g, '/'],
  [/ ?\( ?/g, '('],
  [/ ?\)/g, ')'],
  [/\(V\) (?=[0-9]{1,2}(?:\n|$))/g, '(V)'],
];
const BRACKET = '(\\(V\\)[0-9IO]{0,3}|\\(\\)|\\(X[A-Z]{0,2}-?[0-9]{0,3}\\))?';
const TRAINING = '(?:[ -]{0,3}T-?([0-9]{1,3}))?';
const START = '(?:^|[^A-Z0-9])';
const END = '(?![A-Z0-9?])';
// A figure that goes with one of these is what a supply gives, not the number of a set.
const NO_MEASURE = '(?![0-9.]+ ?(?:V|VOLTS?|VAC|VDC|AMPS?|WATTS?|CPS|CYCLES?|HZ|KC|MC)(?![A-Z0-9]))';

/**
 * What a text, such as all that is on a nameplate, says in the joint designation system.
 * @param {any} nomenclature the compiled table
 * @param {string} text
 * @returns {Reading} of several designations the surest, and of those the first
 */
export function readNameplate(nomenclature, text) {
  const table = new Table(nomenclature);
  const tidy = tidied(text);
  if (!/[^\n ]/.test(tidy)) return reading('empty', '', [], [], table.words.empty);
  let best = null;
  for (const [read, way] of ways(table)) {
    for (const match of tidy.matchAll(new RegExp(way, 'g'))) {
      const [rank, found] = read(table, match) ?? [];
      const surer = found && (!best || rank < best.rank || (rank === best.rank && match.index < best.at));
      if (surer) best = { rank, at: match.index, found };
    }
  }
  return best?.found ?? reading('not of this system', '', [], [], table.words['not-of-this-system']);
}

/**
 * Whether a designation is one of this family's; null when that cannot be told.
 * @param {any} nomenclature
 * @param {Reading} read
 * @param {string} familyId
 * @returns {boolean | null}
 */
export function suggests(nomenclature, read, familyId) {
  const family = nomenclature.families[familyId];
  if (!family || read.families.length === 0 || family.sets.length + family.units.length === 0) return null;
  return read.families.includes(familyId);
}

/**
 * The year in a contract or order number, where its last two digits stand apart.
 * @param {any} nomenclature
 * @param {string} text
 * @returns {{year: number | null, sentence: string, basis: string | null}}
 */
export function orderYear(nomenclature, text) {
  const { order, words } = nomenclature;
  const lines = tidied(text).split('\n').filter((line) => /[^ ]/.test(line));
  if (lines.length === 0) return { year: null, sentence: words['order-empty'], basis: null };
  for (const line of orderLines(lines, order.marks)) {
    const digits = /[0-9].*[-/' ]([0-9]{2})[^A-Z0-9]*$/.exec(line)?.[1];
    const year = order.from_year - (order.from_year % 100) + Number(digits);
    if (digits && order.from_year <= year && year <= order.to_year) {
      return { year, sentence: fill(words['order-year'], { digits, year }), basis: order.basis };
    }
  }
  return { year: null, sentence: words['order-unknown'], basis: null };
}

function orderLines(lines, marks) {
  const marked = new RegExp(`(?:^|[^A-Z])(?:${marks.join('|')})(?![A-Z])`);
  const found = lines.flatMap((line, at) => {
    if (!marked.test(line)) return [];
    // The word may stand above the number, on a line of its own.
    return /[0-9]/.test(line) ? [line] : lines.slice(at + 1, at + 2);
  });
  return found.length > 0 || lines.length > 1 ? found : lines;
}

/** A text in capitals, each line with single blanks, one kind of dash, slash and apostrophe. */
function tidied(text) {
  // A character outside the basic plane counts once, and takes two places in the text.
  const start = [...text.slice(0, 2 * LOOKS_AT)].slice(0, LOOKS_AT).join('');
  const capitals = start.replace(/[a-z]+/g, (run) => run.toUpperCase());
  return TIDY.reduce((tidy, [pattern, instead]) => tidy.replace(pattern, instead), capitals);
}

/** A pattern for one of these letters, joined on or by itself after a blank; not for the U of U S ARMY. */
const alone = (letters) => `(?:([${letters}])| ([${letters}])(?![A-W0-9./&'])(?! [A-W0-9](?![A-Z0-9])))?`;

const asLetters = (raw) => (raw ?? '').replaceAll(' ', '').replaceAll('0', 'O');
const asDigits = (raw) => (raw ?? '').replaceAll('O', '0').replaceAll('I', '1');
const hasFigure = (raw) => /[0-9?]/.test(raw);
const reading = (kind, written, lines, families, sentence) => ({ kind, written, lines, families, sentence });

function ways({ changes, powers }) {
  const change = alone(changes);
  const unitSuffix = `(?: ?([${changes}]))?(?: ?([${powers}]))?${BRACKET}`;
  const home = `(?:/([A-Z0?]{3})|[ -]{0,2}([A-Z]{3}))[ -]{0,3}${NO_MEASURE}([0-9IO?]{1,4})${change}`;
  const number = `([0-9IO?]{1,4})${change}${alone(powers)}${BRACKET}${TRAINING}`;
  return [
    [readSet, `${START}A ?N([ /-]{0,3})([A-Z0?] ?[A-Z0?] ?[A-Z0?])([ /-]{0,3})(?:T-?([0-9]{1,3})|${number})${END}`],
    [readUnit, `(?:^|[^A-Z0-9/])([A-Z0?]{1,2})([ -]{0,3})([0-9IO?]{1,5})${unitSuffix}(?:${home}|/([A-Z0?]{0,3}))(?!/)${END}`],
    [readTorn, `${START}A ?N/([A-Z0?]{0,6})(?:[ -]{0,3}([0-9?][0-9IO?]{0,5}))?([A-Z0-9?]{0,6})`],
    [readBare, `(?:^|[^A-Z0-9/-]|${START}/)([A-Z0]{3})-([0-9IO]{1,4})${change}(?![A-Z0-9/?-])`],
  ];
}

/** AN, three letters and a number; without slash or dash only where the table knows all letters. */
function readSet(table, match) {
  const [, before, spread, dash, ofClass, raw, near, apart, power, powerApart, bracket, own] = match;
  const letters = asLetters(spread);
  const sure = before.includes('/');
  if (!sure && (spread.includes(' ') || !((before + dash).includes('-') || table.knows(letters)))) return null;
  if (raw && !(dash.includes('-') || hasFigure(raw))) return null;
  let [suffix, more] = table.suffixes('modification', near || apart, power || powerApart, bracket);
  if (ofClass) more = [table.training(ofClass, 'training-class')];
  else more = [table.number('about-number', asDigits(raw)), ...more];
  if (own) {
    more.push(table.training(own, 'training-set'));
    suffix += `-T${own}`;
  }
  const written = `AN/${letters}-${ofClass ? `T${ofClass}` : asDigits(raw)}${suffix}`;
  const lines = [table.system(), ...table.letterLines(letters), ...more];
  if (written.includes('?')) return [2, half(table, written, lines)];
  const says = Object.fromEntries(PLACES.map((place, at) => [place, table.meaning(place, letters[at])]));
  const said = (kind) => fill(table.words[kind], { written, ...says });
  if (ofClass || own) return [sure ? 0 : 1, reading('set', written, lines, [], said('trainer'))];
  return [sure ? 0 : 1, whole(table, 'set', written, lines, table.familiesOf(letters), said('set'))];
}

/** A unit's letters and number, a slash, what it is used with; loosely only with all letters known. */
function readUnit(table, match) {
  const [, raw, dash, rawNumber, change, power, bracket, slashed, joined, rawSerial, near, apart, short] = match;
  const code = asLetters(raw);
  const letters = asLetters(slashed ?? joined ?? short);
  const sure = dash.includes('-') && joined === undefined;
  const known = table.indicators.has(code) && table.knows(letters);
  if (!(known || (sure && letters)) || !(sure || letters)) return null;
  if (code === 'AN' || !(dash.includes('-') || (/[^0]/.test(raw) && hasFigure(rawNumber)))) return null;
  const [suffix, more] = table.suffixes('unit-modification', change, power, bracket);
  const [home, tail] = table.home(letters, asDigits(rawSerial) + (near ?? apart ?? ''));
  const number = asDigits(rawNumber);
  const written = `${code}-${number}${suffix}${tail[0].piece}`;
  const lines = [table.indicator(code), table.number('about-unit-number', number), ...more, ...tail];
  if (written.includes('?')) return [2, half(table, written, lines)];
  const said = fill(table.words.unit, { written, item: table.item(code), home });
  return [sure ? 0 : 1, whole(table, 'unit', written, lines, table.familiesOf(letters, code), said)];
}

/** AN/ and whatever can be read behind it. */
function readTorn(table, [, raw, rawNumber, rest]) {
  const letters = asLetters(raw);
  const number = asDigits(rawNumber) || '?';
  const lines = [table.system()];
  if (letters.length === PLACES.length) lines.push(...table.letterLines(letters));
  else lines.push(table.openLine(letters || '?', 'about-letters', 'three-letters'));
  if (number.length > LONGEST) lines.push(table.openLine(number, 'about-number', 'unreadable'));
  else lines.push(table.number('about-number', number));
  if (rest) lines.push(table.openLine(rest, 'about-rest', 'unknown'));
  return [3, half(table, `AN/${letters || '?'}-${number}${rest}`, lines)];
}

/** Three letters and a number with no AN/ before them; older systems wrote so too. */
function readBare(table, [, raw, rawNumber, near, apart]) {
  const letters = asLetters(raw);
  if (!table.knows(letters) || !hasFigure(rawNumber)) return null;
  const [suffix, more] = table.suffixes('modification', near ?? apart);
  const number = table.number('about-number', asDigits(rawNumber));
  const lines = [table.openLine('AN/', 'about-system', 'no-an'), ...table.letterLines(letters), number, ...more];
  const written = `${letters}-${number.piece}${suffix}`;
  return [4, reading('half-readable', written, lines, [], fill(table.words['half-without-an'], { written }))];
}

function half(table, written, lines) {
  const missing = [...new Set(lines.filter((line) => line.basis === null).map((line) => line.about))].join(', ');
  return reading('half-readable', written, lines, [], fill(table.words['half-readable'], { written, missing }));
}

function whole(table, kind, written, lines, families, said) {
  return reading(kind, written, lines, families, `${said} ${table.pointing(families)}`);
}
