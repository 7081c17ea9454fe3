/** The database's stand-in where the browser gives none: everything works, nothing outlives the tab. */

const KEYS = { sets: (row) => row.id, findings: (row) => `${row.set}\n${row.key}`, meta: (row) => row.key, sheets: (row) => row.id };

/** @returns {import('./database.js').Database} */
export function memoryDatabase() {
  /** @type {Record<string, Map<string, any>>} */
  const stores = { sets: new Map(), findings: new Map(), meta: new Map(), sheets: new Map() };
  const plain = (key) => (Array.isArray(key) ? key.join('\n') : key);
  return {
    kept: false,
    all: async (store) => [...stores[store].values()],
    get: async (store, key) => stores[store].get(plain(key)),
    findingsOf: async (set) => [...stores.findings.values()].filter((row) => row.set === set),
    change: async (write) => write({
      put: (store, row) => stores[store].set(KEYS[store](row), structuredClone(row)),
      remove: (store, key) => stores[store].delete(plain(key)),
    }),
  };
}
