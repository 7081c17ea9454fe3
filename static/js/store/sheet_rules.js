/**
 * What a model sheet made on this phone may hold: the refusals of rows.py and crosscheck.py in webapp/rulebook,
 * as sentences. Each rule takes a value and gives what is wrong with it, or nothing.
 */
import { _ } from '../language.js';

const formWords = () => _('It does not have the form of a model sheet.');
const LONGEST = 400;
const LONGEST_LABEL = 40;
/** Beyond these a number cannot be written out and read again by hand. */
const LEAST = 1e-6;
const MOST = 1e12;
/** What every set is asked for; a part that answers it is never absent. */
const ASKED_OF_ALL = ['holes', 'serial', 'nameplate', 'order', 'service', 'finish'];
const BOOKS = ['by serial', 'by model', 'none'];

const within = (value, least, most) => typeof value === 'number' && value >= least && value <= most;
const every = (values, count, fits) => Array.isArray(values) && values.length === count && values.every(fits);
const isText = (value, longest = LONGEST) => typeof value === 'string' && value.trim() !== '' && value.length <= longest;
const isId = (value) => typeof value === 'string' && /^[a-z0-9]+(-[a-z0-9]+)*$/.test(value);
const khz = (value) => within(value, 1, 1e7);
const volts = (value) => within(value, 0.1, 1000);
const heater = ({ volts: v, amps: a, ...more }) => volts(v) && within(a, 0.001, 1000) && Object.keys(more).length === 0;
const unless = (right, sentence = formWords()) => (right ? '' : sentence);

export const RULES = {
  text: (value) => unless(isText(value)),
  id: (value) => unless(isId(value)),
  label: (value) => unless(isText(value, LONGEST_LABEL), _('Keep the name to at most {longest} letters.', { longest: LONGEST_LABEL })),
  crystal: (value) => unless(khz(value), _('Write a frequency in kHz, such as 2750.')),
  coverage: (span) => unless(every(span, 2, khz), _('Give both figures in kHz, such as 3300 and 5000.'))
    || unless(span[0] < span[1], _('The lower frequency comes first.')),
  supply: (span) => unless(every(span, 2, volts), _('Give both figures in volts, such as 24 and 28.'))
    || unless(span[0] <= span[1], _('The lower figure comes first.')),
  heaters: (strings) => unless(Array.isArray(strings) && strings.every((string) => string.length > 0 && string.every(heater))),
  book: (value) => unless(BOOKS.includes(value)),
  price: (value) => unless(within(value, LEAST, MOST), _('Write a price above 0, such as 180.')),
  spread: (value) => unless(within(value, LEAST, 10)),
  weight: (value) => unless(within(value, LEAST, MOST), _('Write a number above 0, such as 4.')),
  money: (three) => unless(every(three, 3, (value) => value === 0 || within(value, LEAST, MOST)), _('Give three amounts, none below 0: low, likely, high.'))
    || unless(three[0] <= three[1] && three[1] <= three[2], _('The three amounts must rise: low, likely, high.')),
  gone: (share) => unless(within(share, LEAST, 1 - LEAST), _('Write how many of 100, above 0 and below 100, such as 40.')),
  effect: (effect) => unless(within(effect, -3, 0), _('Write a percentage from 0 to 95, such as 10.')),
};

const GROUNDS = { basis: (value) => unless(value === 'invented'), why: RULES.text };
const HEAD = { id: RULES.id, family: RULES.id, heater_strings: RULES.heaters };
const HEAD_MORE = {
  coverage_khz: RULES.coverage, crystal_khz: RULES.crystal, service: RULES.text, finish: RULES.text,
  book: RULES.book, supply_volts: RULES.supply,
};
const EXTRA = {
  id: RULES.id, label: RULES.label, stage: RULES.id, weight: RULES.weight, salvage: RULES.money,
  buy: (three) => (three === null ? '' : RULES.money(three)), gone_prior: RULES.gone, gone_effect: RULES.effect,
};

/**
 * What is wrong with a sheet as it is kept or came in a file, whatever the rule tables are.
 * @param {any} sheet
 * @returns {string} empty when it is whole
 */
export function damage(sheet) {
  try {
    return [...faults(sheet)].find(Boolean) ?? '';
  } catch {
    return formWords();
  }
}

function* faults({ id, family, changed, document }) {
  const { name, about, sheet, reference, absent, parts, extra } = document;
  yield unless(isId(id) && id.startsWith('own-') && sheet.id === id && sheet.family === family && isText(changed));
  yield unless(name === '' || isText(name)) || RULES.text(about);
  yield* row(sheet, HEAD, HEAD_MORE);
  if (Object.keys(reference).length > 0) yield* row(reference, { median: RULES.price }, { log_sd: RULES.spread });
  yield unless(Array.isArray(absent) && absent.every(isId));
  for (const part of parts) yield* row(part, { id: RULES.id }, { weight: RULES.weight, salvage: RULES.money, buy: RULES.money });
  for (const part of extra) yield* row(part, EXTRA);
}

function* row(given, must, may = {}) {
  const rules = { ...GROUNDS, ...must, ...may };
  yield unless(Object.keys({ ...GROUNDS, ...must }).every((key) => Object.hasOwn(given, key)));
  yield unless(Object.keys(given).every((key) => Object.hasOwn(rules, key)));
  for (const [key, value] of Object.entries(given)) yield rules[key](value);
}

/** Parts of a family that a type may lack. @param {any} pack */
export function mayBeAbsent(pack) {
  const asked = new Set(pack.checks.filter((check) => ASKED_OF_ALL.includes(check.asks)).map((check) => check.part));
  return pack.parts.filter((part) => !asked.has(part.id));
}

/** Whether at least one calibration part is left. @param {any} pack @param {string[]} absent @param {string} [book] */
export function calibrationStays(pack, absent, book) {
  const gone = book === 'none' ? [...absent, pack.effects.book_part] : absent;
  return pack.parts.some((part) => part.calibration && !gone.includes(part.id));
}

/**
 * What does not fit between a whole document and the rule tables as they are now.
 * @param {any} pack the family's
 * @param {any} document
 * @returns {string} empty when all fits
 */
export function misfit(pack, { sheet, absent, parts, extra }) {
  if (sheet.family !== pack.family) return _('It is for another kind of set.');
  const known = pack.parts.map((part) => part.id);
  const strange = [...absent, ...parts.map((part) => part.id)].find((id) => !known.includes(id));
  if (strange) return _('This kind has no part “{part}”.', { part: strange });
  const never = mayBeAbsent(pack).map((part) => part.id);
  if (!absent.every((id) => never.includes(id))) return _('It leaves out a part that every set is asked for.');
  if (!calibrationStays(pack, absent, sheet.book)) return _('It leaves no calibration part.');
  const taken = new Set([...known, ...[...pack.checks, ...pack.tasks].map((row) => row.id)]);
  for (const { id, label, stage } of extra) {
    if (taken.has(id) || taken.has(`find-and-fit-${id}`)) return _('The tables have a row of their own with the id of “{part}”.', { part: label });
    if (!pack.stages.some((row) => row.id === stage)) return _('There is no stage “{stage}” to look at “{part}” in.', { stage, part: label });
    taken.add(id);
  }
  for (const [rows, name] of [[pack.services, sheet.service], [pack.finishes, sheet.finish]]) {
    if (name && !rows.some((row) => [row.id, row.label, ...row.words].includes(name))) return _('The tables do not know “{text}”.', { text: name });
  }
  return '';
}
