/** Lots: sets that are decided on together. A lot is kept whole; which sets are in it stands with the sets. */
import { openDatabase } from './database.js';
import { FoundSet } from './found_set.js';
import { allSets, binSets, putSet } from './notebook.js';
import { newId } from './operations.js';
import { save } from './saving.js';

/**
 * @typedef {Object} Lot
 * @property {string} id
 * @property {string} name
 * @property {number | null} asking for the whole lot
 * @property {{code: string, rate: number | null, date: string | null} | null} currency null for that of the rule tables
 * @property {number} margin 0 to 1
 * @property {number} hour_rate
 * @property {number | null} hours_limit
 * @property {string} created
 * @property {string} changed
 * @property {boolean} [demo]
 * @property {boolean | 'demo'} [removed] `demo` for one that went with the demo sets
 * @property {string} [from] id of the lot it was in the file it came from
 * @property {string} [op]
 *
 * @typedef {{lot: string, number: string}} Membership the finding `lot` of a set
 */

/** A new lot with what the last one went by, kept at once. @param {string} name @returns {Promise<string>} its id */
export async function newLot(name) {
  const database = await openDatabase();
  const last = (await database.get('meta', 'last'))?.value ?? {};
  const created = new Date().toISOString();
  const rest = { asking: null, currency: last.currency ?? null, margin: 0, hour_rate: last.hour_rate ?? 0, hours_limit: null };
  const lot = { id: newId(), name, ...rest, ...await lastTerms(database), created, changed: created };
  await save(({ put }) => put('lots', lot));
  return lot.id;
}

/** What the lot changed last goes by; it is likely the same person's next one too. */
async function lastTerms(database) {
  const [last] = (await database.all('lots')).filter((lot) => !lot.demo).sort((a, b) => (a.changed < b.changed ? 1 : -1));
  return last ? { currency: last.currency, margin: last.margin, hour_rate: last.hour_rate } : {};
}

/** Those that are not in the bin, the last begun first. @returns {Promise<Lot[]>} */
export const listLots = async () => (await (await openDatabase()).all('lots')).filter((lot) => !lot.removed).sort((a, b) => (a.created < b.created ? 1 : -1));

/** One lot, be it in the bin. @param {string} id @returns {Promise<Lot | undefined>} */
export const openLot = async (id) => (await openDatabase()).get('lots', id);

/** @param {Lot} lot */
export const keepLot = (lot) => save(({ put }) => put('lots', { ...lot, changed: new Date().toISOString() }));

/** What a set is called in its lot. @param {FoundSet} foundSet @returns {string} */
export const numberIn = (foundSet) => foundSet.get('lot')?.number ?? '';

/** The sets of a lot by their numbers. @param {string} id @returns {Promise<FoundSet[]>} */
export const setsOfLot = async (id) => (await allSets()).filter((foundSet) => foundSet.get('lot')?.lot === id).sort(byNumber);

const order = new Intl.Collator('en', { numeric: true });
const byNumber = (a, b) => order.compare(numberIn(a), numberIn(b)) || (a.base.created < b.base.created ? -1 : 1);

/**
 * New sets of one kind in a lot, all written in one transaction.
 * @param {Lot} lot
 * @param {{family: string, model_sheet: string | null, title: string}} kind
 * @param {{number: string, label: string | null}[]} places
 * @returns {Promise<string[]>} ids of the sets
 */
export async function addSets(lot, kind, places) {
  const last = (await (await openDatabase()).get('meta', 'last'))?.value ?? {};
  const created = new Date().toISOString();
  const { aim, region, place } = last;
  const shared = Object.fromEntries(Object.entries({ aim, region, place, currency: lot.currency, hour_rate: lot.hour_rate || null }).filter(([, value]) => value ?? null));
  const ids = places.map(() => newId());
  await save((stores) => places.forEach(({ number, label }, index) => {
    const values = { ...shared, title: kind.title, lot: { lot: lot.id, number }, ...label && { label } };
    putSet(stores, { id: ids[index], family: kind.family, sheet: kind.model_sheet, demo: Boolean(lot.demo), values, created });
  }));
  return ids;
}

/** Takes a set that is in the notebook into a lot. @param {FoundSet} foundSet @param {Lot} lot @param {string} number */
export const joinLot = (foundSet, lot, number) => foundSet.put('lot', { lot: lot.id, number });

/** Takes a set out of its lot; it stays in the notebook. @param {FoundSet} foundSet */
export const leaveLot = (foundSet) => foundSet.put('lot', null);

/**
 * Puts a lot in the bin as it is stored: its sets stay as single sets, or go along and come back with it.
 * @param {string} id
 * @param {boolean} withSets
 */
export async function binLot(id, withSets) {
  const sets = withSets ? (await setsOfLot(id)).map(({ base }) => base) : [];
  const removed = { ...await openLot(id), removed: true, changed: new Date().toISOString() };
  return binSets(sets, 'lot', ({ put }) => put('lots', removed));
}

/** Takes a lot out of the bin, with the sets that went along. @param {string} id */
export async function bringBackLot(id) {
  const database = await openDatabase();
  const [lot, sets] = [await openLot(id), (await database.all('sets')).filter((base) => base.removed === 'lot')];
  const members = await Promise.all(sets.map(async (base) => new FoundSet(base, await database.findingsOf(base.id))));
  const own = members.filter((foundSet) => foundSet.get('lot')?.lot === id).map(({ base }) => base);
  return binSets(own, false, ({ put }) => put('lots', { ...lot, removed: false, changed: new Date().toISOString() }));
}
