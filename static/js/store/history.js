/** What was found when and by whom, and what two devices found differently. */
import { openDatabase } from './database.js';
import { headsOf, isLater } from './operations.js';

/**
 * @typedef {import('./operations.js').Operation} Operation
 * @typedef {Operation & {state: 'stands' | 'replaced' | 'differs'}} Entry `differs`: known to neither of two devices, and not the later
 */

/** Everything that was found of a set, the latest first. @param {string} set @returns {Promise<Entry[]>} */
export async function historyOf(set) {
  const database = await openDatabase();
  const [base, findings, photos] = await Promise.all([database.byIndex('operations', 'record', ['sets', set]),
    database.byIndex('operations', 'record', IDBKeyRange.bound(['findings', `${set}/`], ['findings', `${set}0`], false, true)),
    database.byIndex('operations', 'record', IDBKeyRange.bound(['photos'], ['photos', []]))]);
  const own = new Set(photos.filter(({ value }) => value?.set === set).map(({ record }) => record));
  return statesOf([...base, ...findings, ...photos.filter(({ record }) => own.has(record))]);
}

/** What became of one row of another kind. @param {string} kind @param {string} record @returns {Promise<Entry[]>} */
export const historyOfRow = async (kind, record) => statesOf(await (await openDatabase()).byIndex('operations', 'record', [kind, record]));

/** @param {Operation[]} operations @returns {Entry[]} */
function statesOf(operations) {
  const records = new Map();
  for (const operation of operations) {
    const name = `${operation.kind}/${operation.record}`;
    if (!records.has(name)) records.set(name, []);
    records.get(name).push(operation);
  }
  return [...records.values()].flatMap((all) => {
    const [standing, ...others] = headsOf(all);
    return all.map((operation) => ({ ...operation, state: operation === standing ? 'stands' : others.includes(operation) ? 'differs' : 'replaced' }));
  }).sort((a, b) => (isLater(a, b) ? -1 : 1));
}

/**
 * @typedef {{kind: string, record: string, set: string | null, heads: Operation[]}} Difference a record that two devices left
 *   different without knowing of each other: its heads, the one that stands first, and the set that it is of
 */

/** @returns {Promise<Difference[]>} */
export async function differences() {
  const database = await openDatabase();
  return Promise.all((await database.byIndex('standing', 'differs')).map(async ({ kind, record, heads }) => {
    const operations = (await Promise.all(heads.map((id) => database.get('operations', id)))).filter(Boolean);
    const set = kind === 'findings' ? record.slice(0, record.indexOf('/')) : kind === 'sets' ? record : kind === 'photos' ? operations[0].value?.set ?? null : null;
    return { kind, record, set, heads: operations };
  }));
}

/** Those of one set. @param {string} set */
export const differencesOf = async (set) => (await differences()).filter((difference) => difference.set === set);
