/**
 * Makes an operation of every row that is written, in the row's own transaction: neither is ever there without the other.
 * Nothing but the database is waited for here, or the transaction would end.
 */
import { _ } from '../language.js';
import { differ, newId, newOperationId, plain } from './operations.js';

/** Stores whose rows travel. */
export const KINDS = ['sets', 'findings', 'sheets', 'sales', 'photos', 'lots', 'shelf'];
/** What an operation that no server has yet is marked with; a request may already have carried one that was tried. */
export const [NEW, TRIED] = [1, 2];
/** Longest pause between two keystrokes of one writing, in milliseconds. */
const ONE_WRITING = 10_000;

/** What a row has and its operation does not: what names it, and what each device makes for itself. */
const OWN = ['id', 'changed', 'thumb', 'demo', 'op', 'binned'];
/** Kinds whose rows name the operation that they show, so that a page can tell which one it was drawn from. */
export const SHOWN = ['findings', 'sheets', 'sales', 'lots', 'shelf'];

/** @param {IDBRequest} request @returns {Promise<any>} */
export const asked = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

/** @typedef {{store: string, row?: any, key?: any}} Entry a row to be put, or the key of one to be removed */

/**
 * Writes rows one after another, each with its operation.
 * @param {IDBTransaction} transaction over all stores
 * @param {Entry[]} entries
 */
export async function writeRows(transaction, entries) {
  const recorder = entries.some(({ store, row }) => row && KINDS.includes(store)) ? await Recorder.begin(transaction) : null;
  for (const { store, row, key } of entries) {
    const rows = transaction.objectStore(store);
    if (!row) rows.delete(key);
    else {
      if (!KINDS.includes(store) || await recorder.record(store, row)) rows.put(row);
    }
  }
  recorder?.end();
}

/** The name of a row's record. @param {string} kind @param {any} row */
export const recordOf = (kind, row) => (kind === 'findings' ? `${row.set}/${row.key}` : row.id);

/** @param {string} kind @param {any} row */
function valueOf(kind, row) {
  return kind === 'findings' ? row.value ?? null : Object.fromEntries(Object.entries(row).filter(([key, value]) => !OWN.includes(key) && value !== undefined));
}

/** This device and the latest time that it knows of; made when first asked for. @param {IDBTransaction} transaction */
export async function deviceIn(transaction) {
  const kept = (await asked(transaction.objectStore('meta').get('device')))?.value;
  return kept ?? { id: newId(), name: matchMedia('(pointer: coarse)').matches ? _('Phone') : _('Computer'), time: 0 };
}

export class Recorder {
  /** @param {IDBTransaction} transaction */
  static async begin(transaction) {
    return new Recorder(transaction, await deviceIn(transaction));
  }

  constructor(transaction, device) {
    this.transaction = transaction;
    this.device = device;
    /** @type {Map<string, boolean>} */
    this.demoSets = new Map();
  }

  /** @param {string} kind @param {any} row @returns {Promise<boolean>} whether it is to be written: what is said already stays as it was said first */
  async record(kind, row) {
    if (await this.staysHere(kind, row)) return true;
    const record = recordOf(kind, row);
    const before = await this.before(kind, row, record);
    const value = valueOf(kind, row);
    const [last] = before;
    if (before.length === 1 && plain(last.value) === plain(value)) return !await this.rowOf(kind, row);
    // A word is one finding, not one for each of its letters.
    const unseen = before.filter(({ id, device }) => 'op' in row && id !== row.op && device !== this.device.id);
    const writing = before.length === 1 && last.waiting === NEW && last.device === this.device.id && Date.now() - Date.parse(last.at) < ONE_WRITING && isTyped(kind, record, last.value, value);
    if (writing) this.store('operations').delete(last.id);
    this.device.time = Math.max(this.device.time + 1, Date.now());
    const replaced = before.filter((operation) => !unseen.includes(operation)).map(({ id }) => id);
    const operation = this.add({ kind, record, value, after: writing ? last.after : replaced, time: this.device.time, at: momentOf(row.changed) });
    // What came in behind the writer's back is not replaced by what was written: two devices differ.
    if (unseen.length > 0) this.store('standing').put({ kind, record, heads: [operation, ...unseen].map(({ id }) => id), ...differ([operation, ...unseen]) && { differs: 1 } });
    if (SHOWN.includes(kind)) row.op = operation.id;
    return true;
  }

  /** The row as it is kept so far. */
  rowOf(kind, row) {
    return asked(this.store(kind).get(kind === 'findings' ? [row.set, row.key] : row.id));
  }

  /** Keeps a new operation, which alone stands then. */
  add({ kind, record, value, after, time, at }) {
    const { id: device, name: by } = this.device;
    const operation = { id: newOperationId(time), device, by, time, at, kind, record, after, value, waiting: NEW };
    this.store('operations').put(operation);
    this.store('standing').put({ kind, record, heads: [operation.id] });
    return operation;
  }

  /** What stands so far. A row from before there were operations becomes one first. */
  async before(kind, row, record) {
    const standing = await asked(this.store('standing').get([kind, record]));
    if (standing) return (await Promise.all(standing.heads.map((id) => asked(this.store('operations').get(id))))).filter(Boolean);
    const old = await this.rowOf(kind, row);
    return old ? [this.adopt(kind, old)] : [];
  }

  /** The operation of a row from before there were any, as of when it was written. */
  adopt(kind, old) {
    const at = momentOf(old.changed ?? old.created);
    const time = Math.max(1, Date.parse(at));
    this.device.time = Math.max(this.device.time, time);
    const operation = this.add({ kind, record: recordOf(kind, old), value: valueOf(kind, old), after: [], time, at });
    if (SHOWN.includes(kind)) this.store(kind).put({ ...old, changed: at, op: operation.id });
    return operation;
  }

  /** The demo, and what hangs on its sets, never leaves a device. */
  async staysHere(kind, row) {
    if (row.demo) return true;
    const set = kind === 'findings' || kind === 'photos' ? row.set : null;
    if (!set) return false;
    if (!this.demoSets.has(set)) this.demoSets.set(set, Boolean((await asked(this.store('sets').get(set)))?.demo));
    return this.demoSets.get(set);
  }

  end() {
    this.store('meta').put({ key: 'device', value: this.device });
  }

  store(name) {
    return this.transaction.objectStore(name);
  }
}

/** A moment as every device writes it; files of other programs may have others, or none. @param {string} [text] */
function momentOf(text) {
  const moment = new Date(text ?? Date.now());
  const year = moment.getUTCFullYear();
  return year > 0 && year < 10_000 ? moment.toISOString() : new Date().toISOString();
}

/** Whether only something typed differs; another answer is another finding, however soon it comes. */
function isTyped(kind, record, before, value) {
  if (kind === 'sheets' || kind === 'lots') return true;
  if (kind !== 'findings') return false;
  if (!record.includes('/check/')) return typeof (before ?? value) !== 'object';
  const answer = ({ option, unseen, holes }) => plain([option ?? null, Boolean(unseen), holes ?? []]);
  return before && value && answer(before) === answer(value);
}

