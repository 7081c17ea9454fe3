/** What this device keeps of its backup: the key, how far it has read, and what still has to go. */
import { rowOf, takeIn } from './applying.js';
import { openDatabase } from './database.js';
import { sha256Of } from './digest.js';
import { changePhotos, pictureOf } from './photos.js';
import { asked, KINDS, NEW, Recorder, recordOf, TRIED } from './recording.js';
import { SaveProblem, tellTabs } from './saving.js';

/** Operations a request, and the bytes after which it takes no more. */
const [MOST, MOST_BYTES] = [200, 500_000];

/**
 * @typedef {Object} Backup
 * @property {string} key that opens the notebook on the server
 * @property {string | null} generation of the server's database; another one after it was restored
 * @property {number} cursor how far the server's list has been read
 * @property {string} [done] when everything was there last
 * @property {string} [next] a key that is replacing this one
 * @property {{key: string, svg: string}} [picture] the key as a symbol
 */

/** @returns {Promise<Backup | null>} null while there is none */
export const backupOf = async () => (await (await openDatabase()).get('meta', 'backup'))?.value ?? null;

/** One transaction that reads as it writes, and is no news to be backed up. @param {(transaction: IDBTransaction) => Promise<void>} work @returns {Promise<void>} rejects with a SaveProblem */
async function within(work) {
  const database = await openDatabase();
  await database.within(work).catch((reason) => {
    throw new SaveProblem(reason);
  });
}

/** Backs up under this key from now on: all that is here is to go there. @param {string} key */
export async function beginBackup(key) {
  await nameAllPictures();
  await within(async (transaction) => {
    await adoptAll(transaction);
    await sendAllAgain(transaction);
    transaction.objectStore('meta').put({ key: 'backup', value: { key, generation: null, cursor: 0 } });
  });
}

/** The server was restored from a backup of its own: what it lost since goes there again. */
export async function beginAnew() {
  const backup = await backupOf();
  await within(async (transaction) => {
    await sendAllAgain(transaction);
    transaction.objectStore('meta').put({ key: 'backup', value: { ...backup, generation: null, cursor: 0 } });
  });
}

/** Changes what is kept of the backup. @param {Partial<Backup>} values */
export const keepBackup = (values) => within(async (transaction) => {
  const meta = transaction.objectStore('meta');
  meta.put({ key: 'backup', value: { ...(await asked(meta.get('backup'))).value, ...values } });
});

/** Forgets the key; what is here stays. */
export const endBackup = () => within(async (transaction) => transaction.objectStore('meta').delete('backup'));

/** Photos kept before pictures were named by their content. */
async function nameAllPictures() {
  for (const { id, sha256, demo } of await (await openDatabase()).all('photos')) {
    const picture = !sha256 && !demo && await pictureOf(id);
    const named = picture && await sha256Of(picture);
    if (named) await changePhotos([id], (photo) => ({ ...photo, sha256: named }));
  }
}

/** Gives rows from before there were operations theirs. */
async function adoptAll(transaction) {
  const recorder = await Recorder.begin(transaction);
  for (const kind of KINDS) {
    for (const row of await asked(transaction.objectStore(kind).getAll())) {
      const known = await asked(transaction.objectStore('standing').getKey([kind, recordOf(kind, row)]));
      if (!known && !await recorder.staysHere(kind, row)) recorder.adopt(kind, row);
    }
  }
  recorder.end();
}

async function sendAllAgain(transaction) {
  transaction.objectStore('carried').clear();
  const operations = transaction.objectStore('operations');
  for (const { refused, ...operation } of await asked(operations.getAll())) operations.put({ ...operation, waiting: operation.waiting === NEW ? NEW : TRIED });
}

/** What goes with the next request, marked as tried before it goes. @returns {Promise<import('./operations.js').Operation[]>} */
export async function nextToSend() {
  const sending = [];
  await within(async (transaction) => {
    const store = transaction.objectStore('operations');
    let bytes = 0;
    for (const operation of await asked(store.index('waiting').getAll(null, MOST))) {
      const { waiting, ...sent } = operation;
      bytes += JSON.stringify(sent).length;
      if (sending.length > 0 && bytes > MOST_BYTES) break;
      if (waiting === NEW) store.put({ ...operation, waiting: TRIED });
      sending.push(sent);
    }
  });
  return sending;
}

/**
 * Takes a server's answer in, all in one transaction.
 * @param {import('./operations.js').Operation[]} sent
 * @param {any} answer
 */
export async function takeAnswer(sent, { generation, cursor, operations, refused }) {
  const backup = await backupOf();
  let taken = { records: [], removed: [] };
  const reasons = new Map(refused.map(({ id, message, hint }) => [id, `${message} ${hint ?? ''}`.trim()]));
  await within(async (transaction) => {
    const store = transaction.objectStore('operations');
    for (const { id } of sent) {
      const { waiting, ...operation } = await asked(store.get(id));
      store.put(reasons.has(id) ? { ...operation, refused: reasons.get(id) } : operation);
    }
    taken = await takeIn(transaction, operations);
    transaction.objectStore('meta').put({ key: 'backup', value: { ...backup, generation, cursor } });
  });
  if (taken.records.length > 0) tellTabs('');
  return taken;
}

/** How many operations wait. */
export const countWaiting = async () => (await (await openDatabase()).byIndex('operations', 'waiting', null, MOST)).length;

/** Photos whose picture the server has not, as far as this device knows. @returns {Promise<import('./photos.js').Photo[]>} */
export async function picturesToSend() {
  const database = await openDatabase();
  const [photos, carried] = await Promise.all([database.all('photos'), database.all('carried')]);
  const there = new Set(carried.map(({ id }) => id));
  return photos.filter((photo) => photo.sha256 && !photo.demo && !photo.removed && !there.has(photo.id));
}

/** The server has this photo's picture. @param {string} id */
export const pictureSent = (id) => within(async (transaction) => transaction.objectStore('carried').put({ id }));

/** Photos of other devices whose pictures are not here yet. @returns {Promise<{id: string, set: string | null, sha256: string, bytes: number}[]>} */
export const picturesWanted = async () => (await openDatabase()).all('wanted');

/** A picture that came: only now its photo is shown. @param {string} id @param {Blob} blob @param {Blob} thumb */
export const keepPicture = (id, blob, thumb) => within(async (transaction) => {
  const store = (name) => transaction.objectStore(name);
  store('wanted').delete(id);
  const standing = await asked(store('standing').get(['photos', id]));
  const row = rowOf(await asked(store('operations').get(standing.heads[0])));
  if (!row || row.removed) return;
  store('photos').put({ ...row, thumb });
  store('photo_files').put({ id, blob });
  store('carried').put({ id });
});
