/** A model sheet as texts in fields, and as the document that counts. What cannot be read stays text and does not count. */
import { kindOf } from '../kernel/matching.js';
import { _ } from '../language.js';
import { calibrationStays, mayBeAbsent, RULES } from '../store/sheet_rules.js';
import { typedNumber, typedPrice } from './money.js';

/**
 * @typedef {{id: string, weight: string, salvage: string[], buy: string[]}} PartForm
 * @typedef {PartForm & {label: string, stage: string, gone: string, loss: string}} ExtraForm gone and loss in percent
 * @typedef {Object} Form
 * @property {string} name
 * @property {string} about
 * @property {string[]} coverage
 * @property {string} crystal
 * @property {string} service
 * @property {string} finish
 * @property {string} book
 * @property {string[]} supply
 * @property {any[][]} heater_strings
 * @property {string} median
 * @property {string} sure
 * @property {string[]} absent
 * @property {PartForm[]} parts
 * @property {ExtraForm[]} extra
 */

/** How sure one is of one's own price, and the figure of the tables that says as much. */
const SURE = { well: 'market_log_sd', guess: 'comparable_log_sd' };
/** What an extra part needs before it counts. */
const needed = () => ({
  label: _('its name'), weight: _('how much it counts'), salvage: _('what it fetches loose'),
  gone_prior: _('how often it is gone'), gone_effect: _('how much less the set fetches without it'),
});

/** @returns {Form} */
export function blankForm() {
  return {
    name: '', about: '', coverage: ['', ''], crystal: '', service: '', finish: '', book: '', supply: ['', ''],
    heater_strings: [], median: '', sure: '', absent: [], parts: [], extra: [],
  };
}

/** @param {string} id @returns {PartForm} */
export const blankPart = (id) => ({ id, weight: '', salvage: ['', '', ''], buy: ['', '', ''] });

/** @param {string} id @param {string} stage @returns {ExtraForm} */
export const blankExtra = (id, stage) => ({ ...blankPart(id), label: '', stage, gone: '', loss: '' });

const text = (value) => (value === undefined || value === null ? '' : String(value));
const texts = (values, count) => Array.from({ length: count }, (none, index) => text(values?.[index]));
/** A share as a percentage, without the last digits that the way there and back leaves. */
const percent = (share) => text(Number((100 * share).toPrecision(9)));

/** Service and finish by their ids, whatever the tables call them in whichever language. @param {any} pack */
export const kinds = (pack, { service, finish }) => ({
  service: kindOf(service, pack.services)?.id ?? '', finish: kindOf(finish, pack.finishes)?.id ?? '',
});

/** The fields that show a whole document. @param {any} pack the family's @param {any} document @returns {Form} */
export function formOf(pack, { name, about, sheet, reference, absent, parts, extra }) {
  const part = ({ id, weight, salvage, buy }) => ({ id, weight: text(weight), salvage: texts(salvage, 3), buy: texts(buy, 3) });
  return {
    name,
    about: about === pack.words['own-sheet-why'] ? '' : about,
    coverage: texts(sheet.coverage_khz, 2),
    crystal: text(sheet.crystal_khz),
    ...kinds(pack, sheet),
    book: text(sheet.book),
    supply: texts(sheet.supply_volts, 2),
    heater_strings: sheet.heater_strings ?? [],
    median: text(reference.median),
    sure: Object.keys(SURE).find((key) => pack.reference[SURE[key]] === reference.log_sd) ?? '',
    absent: [...absent],
    parts: parts.map(part),
    extra: extra.map((row) => ({
      ...part(row), label: row.label, stage: row.stage, gone: percent(row.gone_prior), loss: percent(1 - Math.exp(row.gone_effect)),
    })),
  };
}

/** Nothing typed is undefined, what is no number is NaN, which no rule lets pass. */
function number(typed, read = typedNumber) {
  const value = read(typed);
  return value === null ? undefined : value ?? NaN;
}

function numbers(typed) {
  const values = typed.map((one) => number(one));
  return values.every((value) => value === undefined) ? undefined : values.map((value) => value ?? NaN);
}

/**
 * The document that the fields amount to, and a sentence for each that does not count, by its path.
 * @param {any} pack the family's
 * @param {string} id
 * @param {Form} form
 * @returns {{document: any, faults: Map<string, string>}}
 */
export function documentOf(pack, id, form) {
  const grounds = { basis: 'invented', why: pack.words['own-sheet-why'] };
  const faults = new Map();
  /** The value under its key, or nothing when none was given or a rule is against it. */
  const take = (path, key, value, rule) => {
    const wrong = value === undefined ? '' : rule(value);
    if (wrong) faults.set(path, wrong);
    return value === undefined || wrong ? {} : { [key]: value };
  };
  const money = (at, row) => ({
    ...take(`${at}weight`, 'weight', number(row.weight), RULES.weight),
    ...take(`${at}salvage`, 'salvage', numbers(row.salvage), RULES.money),
    ...take(`${at}buy`, 'buy', numbers(row.buy), RULES.money),
  });
  const median = take('median', 'median', number(form.median, typedPrice), RULES.price);
  const absent = absentParts(pack, form, faults);
  const { service, finish } = kinds(pack, form);
  const document = {
    name: form.name.trim(),
    about: form.about.trim() || grounds.why,
    sheet: {
      id,
      family: pack.family,
      ...take('coverage', 'coverage_khz', numbers(form.coverage), RULES.coverage),
      ...take('crystal', 'crystal_khz', number(form.crystal), RULES.crystal),
      ...take('service', 'service', service || undefined, RULES.text),
      ...take('finish', 'finish', finish || undefined, RULES.text),
      ...take('book', 'book', faults.has('book') || form.book === '' ? undefined : form.book, RULES.book),
      ...take('supply', 'supply_volts', numbers(form.supply), RULES.supply),
      heater_strings: form.heater_strings.map((string) => string.map(together)),
      ...grounds,
    },
    reference: 'median' in median ? { ...median, ...spread(pack, form.sure), ...grounds } : {},
    absent,
    parts: form.parts.filter(({ id: part }) => pack.parts.some((row) => row.id === part)).flatMap((row) => {
      const changes = money(`part/${row.id}/`, row);
      return Object.keys(changes).length > 0 ? [{ id: row.id, ...changes, ...grounds }] : [];
    }),
    extra: form.extra.flatMap((row) => extraPart(row, { take, money, faults, grounds })),
  };
  return { document, faults };
}

function spread({ reference }, sure) {
  const sd = reference[SURE[sure]];
  return sd > 0 ? { log_sd: sd } : {};
}

/** Shunted heaters count as one. */
function together(place) {
  const heaters = [place].flat();
  return { volts: Math.max(...heaters.map((row) => row.volts)), amps: heaters.reduce((sum, row) => sum + row.amps, 0) };
}

/** The parts ticked; no calibration part is left out when none would stay. */
function absentParts(pack, form, faults) {
  const able = mayBeAbsent(pack).filter((part) => form.absent.includes(part.id));
  const ids = able.map((part) => part.id);
  if (calibrationStays(pack, ids, form.book)) return ids;
  const gone = able.filter((part) => part.calibration).map((part) => part.label);
  const why = _('At least one part that keeps it true to its dial has to stay.');
  if (gone.length === 0) faults.set('book', why);
  else faults.set('absent', [why, _('Untick one of these: {parts}. Until then they count as usual.', { parts: gone.join(', ') })].join(' '));
  return able.filter((part) => !part.calibration).map((part) => part.id);
}

function extraPart(row, { take, money, faults, grounds }) {
  const at = `extra/${row.id}/`;
  const gone = number(row.gone);
  const loss = number(row.loss);
  const built = {
    ...take(`${at}label`, 'label', row.label.trim() || undefined, RULES.label),
    stage: row.stage,
    ...money(at, row),
    ...take(`${at}gone`, 'gone_prior', gone === undefined ? gone : gone / 100, RULES.gone),
    ...take(`${at}loss`, 'gone_effect', loss === undefined ? loss : Math.log(1 - loss / 100), RULES.effect),
  };
  const missing = Object.entries(needed()).filter(([key]) => !(key in built)).map(([, words]) => words).join('; ');
  const wrong = [...faults.keys()].some((path) => path.startsWith(at));
  if (!missing && !wrong) return [{ id: row.id, ...built, buy: built.buy ?? null, ...grounds }];
  faults.set(`${at}missing`, missing ? _('Does not count yet. Still to give: {things}.', { things: missing }) : _('Does not count yet.'));
  return [];
}
