/** The notebook: all found sets on this phone. */
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { FoundSet, valuesOf } from './found_set.js';
import { newId } from './operations.js';
import { loadPack, prepareFor } from './packs.js';
import { save } from './saving.js';

const REMEMBERED = ['currency', 'hour_rate', 'aim', 'region', 'place'];

/** All sets, the last changed first; those put in the bin are left out. @returns {Promise<FoundSet[]>} */
export async function allSets() {
  const database = await openDatabase();
  const [bases, rows] = await Promise.all([database.all('sets'), database.all('findings')]);
  const bySet = Map.groupBy ? Map.groupBy(rows, (row) => row.set) : grouped(rows);
  return bases
    .filter((base) => !base.removed)
    .map((base) => new FoundSet(base, bySet.get(base.id) ?? []))
    .sort((a, b) => (a.changed < b.changed ? 1 : -1));
}

function grouped(rows) {
  const map = new Map();
  for (const row of rows) map.set(row.set, [...(map.get(row.set) ?? []), row]);
  return map;
}

/** @param {string} id @returns {Promise<FoundSet | null>} null when there is no such set on this phone */
export async function openSet(id) {
  const database = await openDatabase();
  const base = await database.get('sets', id);
  return base && !base.removed ? new FoundSet(base, await database.findingsOf(id)) : null;
}

/**
 * A new set; it starts with the currency, aim, region and place of the last one.
 * @param {string} family
 * @param {string | null} sheet
 * @param {string} [plate] what was typed off the nameplate before the kind was chosen
 * @returns {Promise<string>} its id
 */
export async function newSet(family, sheet, plate = '') {
  const prepared = await prepareFor(family, sheet);
  const database = await openDatabase();
  const last = (await database.get('meta', 'last'))?.value ?? {};
  const title = sheet ? prepared.pack.name : _('Type not known');
  const read = plate.trim() && prepared.pack.checks.find((check) => check.asks === 'nameplate');
  const values = { ...last, title, ...(read ? { [`check/${read.id}`]: { option: null, text: plate.trim() } } : {}) };
  return keepSet({ family, sheet, demo: false, values });
}

/** Remembers what the next set will most likely share. @param {string} key @param {any} value */
export async function rememberForNext(key, value) {
  if (!REMEMBERED.includes(key)) return;
  const database = await openDatabase();
  const last = (await database.get('meta', 'last'))?.value ?? {};
  await save(({ put }) => put('meta', { key: 'last', value: { ...last, [key]: value } }));
}

/** Stores a whole set in one transaction. */
async function keepSet({ family, sheet, demo, values, id = newId() }) {
  const created = new Date().toISOString();
  await save((stores) => putSet(stores, { id, family, sheet, demo, values, created }), id);
  return id;
}

/** Writes a whole set within a transaction. */
export function putSet({ put }, { id, family, sheet, demo, values, created }) {
  put('sets', { id, family, model_sheet: sheet, created, demo });
  for (const [key, value] of Object.entries(values)) put('findings', { set: id, key, value, changed: created });
}

/** All sales, the latest first; while there are none, nothing is loaded for them. */
export async function salesLog() {
  return (await (await openDatabase()).all('sales')).length === 0 ? [] : (await import('./sales.js')).listSales();
}

/** The sales that count for a found set. @param {Base} base @param {Promise<any[]>} [log] all sales, for who asks for many sets */
export async function comparablesOf(base, log = salesLog()) {
  const sales = await log;
  return sales.length === 0 ? [] : (await import('./sales.js')).comparablesFor(base, sales);
}

/**
 * Puts sets in the bin with their photos, or takes them out again; demo sales and lots go with the last demo set.
 * @param {Base[]} bases
 * @param {boolean | 'lot'} removed `lot` for those that come back with their lot
 * @param {Parameters<typeof save>[0]} [more] what else is written with it
 */
export async function binSets(bases, removed, more) {
  const database = await openDatabase();
  const [sets, ...withDemo] = await Promise.all(['sets', 'sales', 'lots'].map(database.all));
  const touched = new Map(bases.map((base) => [base.id, { ...base, removed }]));
  const demoStays = sets.some((base) => base.demo && !(touched.get(base.id) ?? base).removed);
  const moving = (rows) => rows.filter((row) => row.demo && bases.some((base) => base.demo) && (demoStays ? row.removed === 'demo' : !row.removed));
  const photos = (await Promise.all(bases.map((base) => database.photosOf(base.id)))).flat().filter((photo) => (removed ? !photo.removed : photo.removed === 'set'));
  const changed = new Date().toISOString();
  await save((stores) => {
    const { put } = stores;
    for (const base of touched.values()) put('sets', base);
    for (const photo of photos) put('photos', { ...photo, removed: removed && 'set', changed });
    withDemo.forEach((rows, index) => {
      for (const row of moving(rows)) put(['sales', 'lots'][index], { ...row, removed: demoStays ? false : 'demo' });
    });
    more?.(stores);
  });
}

/** Puts the demo sets into the notebook, once. @param {string} address of the demo document */
export async function openDemo(address) {
  const database = await openDatabase();
  const there = (await database.all('sets')).filter((base) => base.demo);
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(_('The demo sets are not on this phone yet; they need a signal once.'));
  const demo = await answer.json();
  // All of the demo comes back, or its lot would stand there without its sets.
  await binSets(there.filter((base) => base.removed === true), false);
  for (const { id, findings, ...said } of demo.found_sets) {
    if (there.some((base) => base.id === id)) continue;
    const values = { ...said, ...valuesOf(await loadPack(findings.family), findings) };
    await keepSet({ id, family: findings.family, sheet: findings.model_sheet, demo: true, values });
  }
  const taken = new Set((await Promise.all(['sales', 'lots'].map(database.all))).flat().filter((row) => !row.removed).map((row) => row.id));
  const changed = new Date().toISOString();
  await save(({ put }) => {
    for (const kind of ['sales', 'lots']) for (const row of demo[kind] ?? []) if (!taken.has(row.id)) put(kind, { ...row, demo: true, changed });
    put('meta', { key: 'demo-shown', value: true });
  });
}

/** Whether the demo was ever put into this notebook. */
export async function demoWasShown() {
  return Boolean((await (await openDatabase()).get('meta', 'demo-shown'))?.value);
}

/** @typedef {import('./found_set.js').Base} Base */
