/** The database's stand-in where the browser gives none: everything works, nothing outlives the tab. */

const id = (row) => row.id;
const KEYS = { sets: id, findings: (row) => `${row.set}\n${row.key}`, meta: (row) => row.key, sheets: id, sales: id, lots: id, shelf: id, photos: id, photo_files: id, operations: id, standing: id, carried: id, wanted: id };

/** @returns {import('./database.js').Database} */
export function memoryDatabase() {
  /** @type {Record<string, Map<string, any>>} */
  const stores = Object.fromEntries(Object.keys(KEYS).map((name) => [name, new Map()]));
  const plain = (key) => (Array.isArray(key) ? key.join('\n') : key);
  return {
    kept: false,
    all: async (store) => [...stores[store].values()],
    get: async (store, key) => stores[store].get(plain(key)),
    count: async (store) => stores[store].size,
    photosOf: async (set) => [...stores.photos.values()].filter((row) => row.set === set),
    findingsOf: async (set) => [...stores.findings.values()].filter((row) => row.set === set),
    // Without a database there is no backup, and no history beyond what stands.
    byIndex: async () => [],
    within: async () => undefined,
    change: async (write) => write({
      put: (store, row) => stores[store].set(KEYS[store](row), structuredClone(row)),
      remove: (store, key) => stores[store].delete(plain(key)),
    }),
  };
}
