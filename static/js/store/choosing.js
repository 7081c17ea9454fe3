/** Lets an operation stand: one of two that differ, or an earlier one out of the history. */
import { _ } from '../language.js';
import { rowOf } from './applying.js';
import { openDatabase } from './database.js';
import { Recorder } from './recording.js';
import { save } from './saving.js';

/** Keeps it anew, as found now; what stood until now stays in the history. @param {import('./operations.js').Operation} operation */
export async function letStand(operation) {
  const row = rowOf(operation);
  if (!row) throw new Error(_('This finding has a form that this version of the app does not know. Refresh the app, then choose again.'));
  const { kind } = operation;
  const here = kind === 'photos' && await (await openDatabase()).get('photos', row.id);
  if (kind === 'photos' && !here) return fetchAgain(row);
  return save(({ put }) => put(kind, { ...row, ...here && { thumb: here.thumb }, ...'changed' in row && { changed: new Date().toISOString() } }));
}

/** A photo whose picture is no longer here: it comes from the server with the next round. */
async function fetchAgain(row) {
  await (await openDatabase()).within(async (transaction) => {
    const recorder = await Recorder.begin(transaction);
    await recorder.record('photos', { ...row, removed: false });
    recorder.end();
    transaction.objectStore('wanted').put({ id: row.id, set: row.set, sha256: row.sha256, bytes: row.bytes });
  });
}
