/** Operations of other devices, taken into this one: kept, and what stands then written into the rows that the app reads. */
import { differ, headsOf } from './operations.js';
import { damage as lotDamage } from './lot_rules.js';
import { damage as photoDamage } from './photo_rules.js';
import { asked, deviceIn, SHOWN } from './recording.js';
import { damage as saleDamage } from './sale_rules.js';
import { isBase, isFinding } from './set_rules.js';
import { damage as sheetDamage } from './sheet_rules.js';
import { damage as shelfDamage } from './shelf_rules.js';

/** @typedef {import('./operations.js').Operation} Operation */

const isShape = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);
const whole = ({ record, value, at }) => ({ ...value, id: record, changed: at });

/** By kind: the row that an operation stands for, and whether it is one that the app can show. */
const ROWS = {
  sets: [({ record, value }) => ({ ...value, id: record, demo: false }), isBase],
  findings: [({ record, value, at }) => ({ set: record.slice(0, record.indexOf('/')), key: record.slice(record.indexOf('/') + 1), value, changed: at }), isFinding],
  sheets: [whole, (row) => !sheetDamage(row)],
  sales: [(operation) => ({ ...whole(operation), demo: false }), (row) => !saleDamage(row)],
  lots: [(operation) => ({ ...whole(operation), demo: false }), (row) => !lotDamage(row)],
  shelf: [whole, (row) => !shelfDamage(row)],
  photos: [whole, (row) => !photoDamage(row) && /^[0-9a-f]{64}$/.test(row.sha256)],
};

/** The row of an operation; null for what this version cannot show. It is kept, and travels on. @param {Operation} operation */
export function rowOf(operation) {
  const [make, isRight] = ROWS[operation.kind] ?? [];
  try {
    const row = make && (operation.kind === 'findings' || isShape(operation.value)) ? make(operation) : null;
    return row && isRight(row) ? row : null;
  } catch {
    return null;
  }
}

/**
 * Takes operations in, each once.
 * @param {IDBTransaction} transaction over all stores
 * @param {Operation[]} operations
 * @returns {Promise<{records: [string, string][], removed: string[]}>} kinds and records that may look different now,
 *   and ids of sets that another device removed, or that it changed while they are removed here
 */
export async function takeIn(transaction, operations) {
  const store = (name) => transaction.objectStore(name);
  const touched = new Map();
  const device = await deviceIn(transaction);
  for (const operation of operations) {
    if (await asked(store('operations').get(operation.id))) continue;
    store('operations').put(operation);
    device.time = Math.max(device.time, operation.time);
    touched.set(`${operation.kind}/${operation.record}`, [operation.kind, operation.record]);
  }
  store('meta').put({ key: 'device', value: device });
  const removed = new Set();
  for (const [kind, record] of touched.values()) {
    if (await settle(store, kind, record)) removed.add(record);
    const set = kind === 'findings' && record.slice(0, record.indexOf('/'));
    if (set && (await asked(store('sets').get(set)))?.removed) removed.add(set);
  }
  return { records: [...touched.values()], removed: [...removed] };
}

/** Writes what stands of a record now. @returns {Promise<boolean>} whether it is a set that is removed by this */
async function settle(store, kind, record) {
  const heads = headsOf(await asked(store('operations').index('record').getAll([kind, record])));
  store('standing').put({ kind, record, heads: heads.map(({ id }) => id), ...heads.length > 1 && differ(heads) && { differs: 1 } });
  const row = rowOf(heads[0]);
  if (!row) return false;
  if (SHOWN.includes(kind)) row.op = heads[0].id;
  if (kind === 'photos') {
    await writePhoto(store, row);
    return false;
  }
  const before = kind === 'sets' && await asked(store('sets').get(record));
  store(kind).put(row);
  return Boolean(before && !before.removed && row.removed);
}

/** A photo is shown once its picture is here. */
async function writePhoto(store, row) {
  const here = await asked(store('photos').get(row.id));
  // The days until it is gone for good count from when this device heard of it.
  if (here) store('photos').put({ ...row, thumb: here.thumb, ...row.removed && { binned: here.removed ? here.binned ?? here.changed : new Date().toISOString() } });
  else if (row.removed) store('wanted').delete(row.id);
  else store('wanted').put({ id: row.id, set: row.set, sha256: row.sha256, bytes: row.bytes });
}
