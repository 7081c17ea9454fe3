/**
 * One found set as it is kept: a base record that never changes, and findings by key. The unit is one
 * check's answer with its holes, figure and mark, so that nothing half is ever stored or merged.
 *
 * Keys: `check/<id>` for what a check found; `title`, `place`, `note`, `asking`, `hour_rate`, `aim`,
 * `region`, `currency` ({code, rate, date}), `outcome` (store/outcomes.js), `lot` ({lot, number}, store/lots.js),
 * `description` (store/description.js), `share` (sync/sharing.js) and `claims` (store/claim_rules.js) for the rest.
 *
 * @typedef {Object} Found what one check found
 * @property {string | null} option
 * @property {boolean} [unseen] cannot be looked at here
 * @property {boolean} [looked_over] answered by "all as made"
 * @property {import('./hole_list.js').Hole[]} [holes]
 * @property {number[]} [no_hole] numbers of holes that the seller told of and that are not there
 * @property {(number | null)[]} [coverage_khz]
 * @property {number | null} [crystal_khz]
 * @property {string} [text] nameplate, serial, book's serial or order number as typed
 * @property {{volts: number, amps: number, tube?: string}[][]} [heater_strings]
 *
 * @typedef {{id: string, family: string, model_sheet: string | null, created: string, demo: boolean}} Base
 */
import { save } from './saving.js';

/** An answer taken back, its holes with it. */
export const NOTHING = { option: null, looked_over: false, holes: [], no_hole: [] };

const PLAIN = ['asking', 'hour_rate', 'aim', 'region'];
/** Texts by what a check asks for, and their names in a findings document. */
const TEXTS = { serial: 'serial', nameplate: 'nameplate', book: 'book_serial', order: 'order' };

export class FoundSet {
  /**
   * @param {Base} base
   * @param {{key: string, value: any, changed: string, op?: string}[]} rows
   */
  constructor(base, rows) {
    this.base = base;
    /** @type {Map<string, any>} */
    this.values = new Map(rows.map((row) => [row.key, row.value]));
    /** @type {Map<string, string | undefined>} the operation that each value is known from */
    this.known = new Map(rows.map((row) => [row.key, row.op]));
    /** @type {Map<string, string>} when each value was written */
    this.times = new Map(rows.map((row) => [row.key, row.changed]));
    /** @type {Set<string>} keys that the browser has not stored yet, or refused to */
    this.unsaved = new Set();
    this.changed = rows.reduce((latest, row) => (row.changed > latest ? row.changed : latest), base.created);
  }

  /** @param {string} key @returns {any} */
  get(key) {
    return this.values.get(key) ?? null;
  }

  /** @param {string} check @returns {Found} */
  found(check) {
    return this.values.get(`check/${check}`) ?? { option: null };
  }

  /**
   * Keeps a value; the set shows it at once, the promise tells when it is on disk.
   * @param {string} key
   * @param {any} value
   * @returns {Promise<void>}
   */
  put(key, value) {
    return this.putAll({ [key]: value });
  }

  /**
   * Keeps several values in one transaction, and with them what `more` writes.
   * @param {Record<string, any>} entries
   * @param {Parameters<typeof save>[0]} [more]
   */
  putAll(entries, more) {
    const changed = new Date().toISOString();
    this.changed = changed;
    for (const [key, value] of Object.entries(entries)) {
      this.values.set(key, value);
      this.times.set(key, changed);
      this.unsaved.add(key);
    }
    const set = this.base.id;
    return save((stores) => {
      for (const [key, value] of Object.entries(entries)) stores.put('findings', { set, key, value, changed, op: this.known.get(key) });
      more?.(stores);
    }, set).then(() => {
      for (const key of Object.keys(entries)) this.unsaved.delete(key);
    });
  }

  /** Tries again to store what the browser refused. */
  saveAgain() {
    return this.putAll(Object.fromEntries([...this.unsaved].map((key) => [key, this.values.get(key)])));
  }

  /** The first and the last day on which something was looked at. @returns {[string, string] | null} */
  looked() {
    const times = [...this.times].filter(([key]) => key.startsWith('check/')).map(([, time]) => time).sort();
    return times.length > 0 ? [localDay(new Date(times[0])), localDay(new Date(times.at(-1)))] : null;
  }

  /**
   * The findings document of the contract, for a prepared pack.
   * @param {any} prepared
   * @param {any[]} [sales] those that count for it
   */
  findings(prepared, sales = []) {
    const document = { family: this.base.family, model_sheet: this.base.model_sheet, answers: {}, unseen: [], comparables: sales };
    document.today = localDay(new Date());
    for (const key of PLAIN) document[key] = this.get(key);
    document.currency = this.get('currency')?.code ?? prepared.pack.reference.currency;
    document.rate = this.get('currency')?.rate ?? null;
    for (const check of prepared.pack.checks) {
      const found = this.found(check.id);
      if (found.option) document.answers[check.id] = found.option;
      if (found.unseen) document.unseen.push(check.id);
      if (check.asks_holes) {
        // How a hole was measured matters to the list alone.
        document.holes = (found.holes ?? []).map(({ place, diameter_mm, as_found }) => ({ place, diameter_mm, as_found }));
      }
      if (check.asks === 'crystal') document.crystal_khz = found.crystal_khz ?? null;
      if (check.asks === 'coverage') document.coverage_khz = wholeSpan(found.coverage_khz);
      if (check.asks === 'heaters') document.heater_strings = found.heater_strings ?? [];
      if (check.asks in TEXTS) document[TEXTS[check.asks]] = found.text || null;
    }
    return document;
  }
}

/** The day where the phone is, as YYYY-MM-DD. @param {Date} now */
export const localDay = (now) => [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');

/** A coverage counts once both figures are there and rise. */
function wholeSpan(span) {
  return span && span[0] > 0 && span[1] > span[0] ? span : null;
}

/** The values by key that a findings document of the contract stands for. @param {any} pack @param {any} document */
export function valuesOf(pack, document) {
  const values = {};
  for (const key of PLAIN) if (document[key] !== undefined && document[key] !== null) values[key] = document[key];
  if (document.currency && document.currency !== pack.reference.currency) {
    values.currency = { code: document.currency, rate: document.rate, date: document.today ?? null };
  }
  for (const check of pack.checks) {
    /** @type {Found} */
    const found = { option: document.answers?.[check.id] ?? null };
    if (document.unseen?.includes(check.id)) found.unseen = true;
    if (check.asks_holes && document.holes?.length) {
      found.holes = document.holes.map((hole) => ({ as_found: 'open', ...hole }));
      found.option = 'some';
    }
    if (check.asks === 'crystal' && document.crystal_khz) found.crystal_khz = document.crystal_khz;
    if (check.asks === 'coverage' && document.coverage_khz) found.coverage_khz = document.coverage_khz;
    if (check.asks === 'heaters' && document.heater_strings?.length) found.heater_strings = document.heater_strings;
    if (document[TEXTS[check.asks]]) found.text = document[TEXTS[check.asks]];
    if (Object.keys(found).length > 1 || found.option) values[`check/${check.id}`] = found;
  }
  return values;
}
