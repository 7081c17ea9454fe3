/**
 * The one place that opens the phone's database. Upgrade steps are numbered, only add, and are never edited.
 *
 * Where the browser gives no database (private windows of some browsers), the same calls work in memory
 * and `kept` is false, so that the pages can say that nothing will be kept.
 */
import { _ } from '../language.js';
import { asked, writeRows } from './recording.js';

const NAME = 'underchassis';

/** @type {((database: IDBDatabase) => void)[]} step n brings version n to n + 1 */
const STEPS = [
  (database) => {
    database.createObjectStore('sets', { keyPath: 'id' });
    database.createObjectStore('findings', { keyPath: ['set', 'key'] });
    database.createObjectStore('meta', { keyPath: 'key' });
  },
  (database) => {
    database.createObjectStore('sheets', { keyPath: 'id' });
  },
  (database) => {
    database.createObjectStore('sales', { keyPath: 'id' });
  },
  (database) => {
    database.createObjectStore('photos', { keyPath: 'id' }).createIndex('set', 'set');
    database.createObjectStore('photo_files', { keyPath: 'id' });
  },
  (database) => {
    const operations = database.createObjectStore('operations', { keyPath: 'id' });
    operations.createIndex('record', ['kind', 'record']);
    // Those without the field are not in its index.
    operations.createIndex('waiting', 'waiting');
    operations.createIndex('refused', 'refused');
    database.createObjectStore('standing', { keyPath: ['kind', 'record'] }).createIndex('differs', 'differs');
    database.createObjectStore('carried', { keyPath: 'id' });
    database.createObjectStore('wanted', { keyPath: 'id' });
  },
  (database) => {
    database.createObjectStore('lots', { keyPath: 'id' });
    database.createObjectStore('shelf', { keyPath: 'id' });
  },
];

/**
 * @typedef {Object} Database
 * @property {boolean} kept whether anything outlives this tab
 * @property {(write: (stores: {put: (store: string, row: any) => void,
 *   remove: (store: string, key: any) => void}) => void) => Promise<void>} change
 *   one transaction over all stores; resolves on its `complete`, rejects with the browser's reason
 * @property {(work: (transaction: IDBTransaction) => Promise<void>) => Promise<void>} within the same for work that
 *   reads as it writes; it may wait for nothing but its requests
 * @property {(store: string, index: string, key?: IDBKeyRange | IDBValidKey, most?: number) => Promise<any[]>} byIndex
 * @property {(store: string) => Promise<any[]>} all
 * @property {(store: string) => Promise<number>} count
 * @property {(set: string) => Promise<any[]>} findingsOf
 * @property {(set: string) => Promise<any[]>} photosOf those in the bin too
 * @property {(store: string, key: any) => Promise<any>} get
 */

/** @type {Promise<Database> | null} */
let opened = null;

/**
 * The database, opened once for this tab and again after the browser closed it.
 * @returns {Promise<Database>} rejects when another tab has brought it to a newer form than this one knows
 */
export function openDatabase() {
  opened ??= connect().catch(async (problem) => {
    // Few browsers need it, and a first visit pays for every file.
    if (problem?.name !== 'VersionError') return (await import('./memory.js')).memoryDatabase();
    opened = null;
    throw new Error(_('Another tab has opened a newer version of the app. Load this page again.'));
  });
  return opened;
}

/** @returns {Promise<Database>} */
function connect() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, STEPS.length);
    request.onupgradeneeded = (event) => {
      for (const step of STEPS.slice(event.oldVersion)) step(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onsuccess = () => {
      const database = request.result;
      // Another tab brings a newer version: let go, so that its upgrade is not blocked.
      database.onversionchange = () => {
        database.close();
        opened = null;
      };
      database.onclose = () => {
        opened = null;
      };
      resolve(wrap(database));
    };
  });
}

/** @param {IDBDatabase} database @returns {Database} */
function wrap(database) {
  const read = (store, ask) => asked(ask(database.transaction(store).objectStore(store)));
  const within = (work) => new Promise((resolve, reject) => {
    const transaction = database.transaction([...database.objectStoreNames], 'readwrite', { durability: 'strict' });
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error(_('the browser stopped saving')));
    work(transaction).catch((problem) => {
      // Half of what belongs together is worse than nothing.
      reject(problem);
      try {
        transaction.abort();
      } catch {
        // The browser had ended it already.
      }
    });
  });
  return {
    kept: true,
    all: (store) => read(store, (rows) => rows.getAll()),
    get: (store, key) => read(store, (rows) => rows.get(key)),
    count: (store) => read(store, (rows) => rows.count()),
    photosOf: (set) => read('photos', (rows) => rows.index('set').getAll(set)),
    findingsOf: (set) => read('findings', (rows) => rows.getAll(IDBKeyRange.bound([set], [set, []]))),
    byIndex: (store, index, key, most) => read(store, (rows) => rows.index(index).getAll(key, most)),
    within,
    change: async (write) => {
      const entries = [];
      write({ put: (store, row) => entries.push({ store, row }), remove: (store, key) => entries.push({ store, key }) });
      await within((transaction) => writeRows(transaction, entries));
    },
  };
}
