/** How far each set is backed up. */
import { openDatabase } from './database.js';

/**
 * @typedef {Object} SetState
 * @property {number} waiting findings that no server has yet
 * @property {string} refused why the server did not take one; empty when it took all
 * @property {number} photos
 * @property {number} sent of these
 * @property {number} differs places where two devices differ
 * @property {number} wanted photos that other devices took and that are not here yet
 */

/** @returns {Promise<{of: (set: string) => SetState, all: SetState}>} */
export async function backupStates() {
  const database = await openDatabase();
  const [waiting, refused, differing, photos, carried, wanted] = await Promise.all([database.byIndex('operations', 'waiting'), database.byIndex('operations', 'refused'),
    database.byIndex('standing', 'differs'), database.all('photos'), database.all('carried'), database.all('wanted')]);
  const there = new Set(carried.map(({ id }) => id));
  const setOfPhoto = new Map(photos.map(({ id, set }) => [id, set]));
  /** @type {Map<string | null, SetState>} */
  const states = new Map();
  const all = rest();
  const count = (set, change) => {
    if (!states.has(set)) states.set(set, rest());
    change(states.get(set));
    change(all);
  };
  const setOf = ({ kind, record }) => (kind === 'findings' ? record.slice(0, record.indexOf('/')) : kind === 'photos' ? setOfPhoto.get(record) ?? null : kind === 'sets' ? record : null);
  for (const operation of waiting) count(setOf(operation), (state) => { state.waiting += 1; });
  for (const standing of differing) count(setOf(standing), (state) => { state.differs += 1; });
  for (const operation of refused) {
    // One that was answered anew since needs no words any more.
    const { heads } = await database.get('standing', [operation.kind, operation.record]);
    if (heads.includes(operation.id)) count(setOf(operation), (state) => { state.refused = operation.refused; });
  }
  for (const { id, set, demo, removed } of photos) {
    if (!demo && !removed) count(set, (state) => {
      state.photos += 1;
      state.sent += there.has(id) ? 1 : 0;
    });
  }
  for (const { set } of wanted) count(set, (state) => { state.wanted += 1; });
  return { of: (set) => states.get(set) ?? rest(), all };
}

/** @returns {SetState} */
const rest = () => ({ waiting: 0, refused: '', differs: 0, photos: 0, sent: 0, wanted: 0 });
