/** Sets, lots, sales, model sheets and things of the shelf that were removed: each comes back with one tap. Photos have a bin of their own. */
import { openDatabase } from './database.js';
import { FoundSet } from './found_set.js';

/**
 * @typedef {Object} Removed
 * @property {'sets' | 'lots' | 'sales' | 'sheets' | 'shelf'} kind
 * @property {any} row
 * @property {FoundSet} [foundSet]
 * @property {string} at when it was removed, as far as is known
 * @property {string} by the device that removed it
 */

/** @returns {Promise<Removed[]>} the last removed first */
export async function removedThings() {
  const database = await openDatabase();
  const things = await Promise.all(['sets', 'lots', 'sales', 'sheets', 'shelf'].map(async (kind) => Promise.all((await database.all(kind))
    // What went with the demo comes back with it.
    .filter((row) => row.removed && row.removed !== 'demo').map((row) => described(database, kind, row)))));
  const lots = new Set((await database.all('lots')).filter((lot) => lot.removed).map(({ id }) => id));
  // So does what went with its lot, unless another device kept the lot or took the set out of it.
  return things.flat().filter(({ row, foundSet }) => row.removed !== 'lot' || !lots.has(foundSet.get('lot')?.lot)).sort((a, b) => (a.at < b.at ? 1 : -1));
}

async function described(database, kind, row) {
  const standing = await database.get('standing', [kind, row.id]);
  const operation = standing && await database.get('operations', standing.heads[0]);
  const foundSet = kind === 'sets' ? new FoundSet(row, await database.findingsOf(row.id)) : undefined;
  return { kind, row, foundSet, at: operation?.at ?? row.changed ?? '', by: operation?.by ?? '' };
}
