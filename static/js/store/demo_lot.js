/** The demo's lot of twelve: it comes into the notebook when somebody asks for it, and leaves with the rest of the demo. */
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { valuesOf } from './found_set.js';
import { binSets, putSet } from './notebook.js';
import { loadPack } from './packs.js';

/**
 * Puts the lot and its sets into the notebook; what was removed of them comes out of the bin as it was left.
 * @param {string} address of the demo lot's document
 * @returns {Promise<string>} the lot's id
 */
export async function openDemoLot(address) {
  const answer = await fetch(address).catch(() => null);
  if (!answer?.ok) throw new Error(_('The demo lot is not on this phone yet; it needs a signal once.'));
  const { lot, found_sets: entries } = await answer.json();
  const database = await openDatabase();
  const there = new Map((await database.all('sets')).map((base) => [base.id, base]));
  const created = new Date().toISOString();
  const fresh = await Promise.all(entries.filter(({ id }) => !there.has(id)).map((entry) => rowsOf(entry, lot, created)));
  const kept = await database.get('lots', lot.id);
  const binned = entries.map(({ id }) => there.get(id)).filter((base) => base?.removed);
  await binSets(binned, false, (stores) => {
    stores.put('lots', kept ? { ...kept, removed: false } : { ...lot, created, changed: created, demo: true });
    for (const rows of fresh) putSet(stores, rows);
  });
  return lot.id;
}

/** A set of the document as the notebook keeps one. */
async function rowsOf({ id, number, findings, ...said }, lot, created) {
  const { family, model_sheet: sheet } = findings;
  const values = { ...said, lot: { lot: lot.id, number }, hour_rate: lot.hour_rate, ...valuesOf(await loadPack(family), findings) };
  return { id, family, sheet, demo: true, values, created };
}
