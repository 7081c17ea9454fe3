/** Photos on this phone: a row with its thumbnail for lists, and the picture itself apart. */
import { openDatabase } from './database.js';
import { sha256Of } from './digest.js';
import { newId } from './operations.js';
import { save, SaveProblem } from './saving.js';

/**
 * @typedef {Object} Photo
 * @property {string} id
 * @property {string | null} set id of its found set; null while it waits in the tray
 * @property {string} about `check/<id>`, or empty for the set as a whole
 * @property {string} taken
 * @property {string} changed
 * @property {number} width
 * @property {number} height
 * @property {number} bytes of the picture
 * @property {string} [sha256] of the picture
 * @property {Blob} thumb
 * @property {boolean | 'set'} [removed] `set` for one that went with its set
 * @property {{why: string, label?: string, said?: string}} [waiting] why it is in the tray (ui/tray_words.js)
 * @property {boolean} [demo]
 * @property {string} [from] id of the photo it was in the file it came from
 */

/** Bytes that photos leave free, so that findings can be stored when photos no longer can. */
const RESERVE = 3_000_000;

/**
 * Keeps a photo and its picture in one transaction.
 * @param {import('./photo_intake.js').Prepared} prepared
 * @param {Partial<Photo>} belongs where it belongs: set and about, or why it waits
 * @returns {Promise<Photo>} rejects with a SaveProblem, also while there is room for findings only
 */
export async function addPhoto({ blob, thumb, width, height, taken }, belongs) {
  const rest = { id: newId(), set: null, about: '', changed: new Date().toISOString() };
  const photo = { ...rest, taken, width, height, bytes: blob.size, sha256: await sha256Of(blob), thumb, ...belongs };
  await refuseWithoutRoom(blob.size + thumb.size);
  await save(({ put }) => {
    put('photos', photo);
    put('photo_files', { id: photo.id, blob });
  }, photo.set ?? '');
  return photo;
}

/** @param {number} bytes @throws {SaveProblem} */
export async function refuseWithoutRoom(bytes) {
  // Browsers that do not tell how much room there is refuse by themselves once there is none.
  const { usage = 0, quota = Infinity } = await navigator.storage?.estimate?.().catch(() => ({})) ?? {};
  if (quota - usage < bytes + RESERVE) throw new SaveProblem({ name: 'QuotaExceededError' });
}

const byDay = (a, b) => (`${a.taken}\n${a.id}` < `${b.taken}\n${b.id}` ? -1 : 1);
const shown = (rows) => rows.filter((photo) => !photo.removed).sort(byDay);

/** Photos of a set, the oldest first. @param {string} set @returns {Promise<Photo[]>} */
export const photosOf = async (set) => shown(await (await openDatabase()).photosOf(set));

/** Photos that wait in the tray, the oldest first. @returns {Promise<Photo[]>} */
export const trayPhotos = async () => shown(await (await openDatabase()).all('photos')).filter((photo) => photo.set === null);

/** One photo, be it in the bin. @param {string} id @returns {Promise<Photo | undefined>} */
export const openPhoto = async (id) => (await openDatabase()).get('photos', id);

/** The picture itself: an upright JPEG without metadata. @param {string} id @returns {Promise<Blob | null>} */
export const pictureOf = async (id) => (await (await openDatabase()).get('photo_files', id))?.blob ?? null;

/** Changes rows as they are stored now, in one transaction. @param {string[]} ids @param {(photo: Photo) => Photo} change */
export async function changePhotos(ids, change) {
  const rows = (await Promise.all(ids.map(openPhoto))).filter(Boolean);
  const changed = new Date().toISOString();
  await save(({ put }) => {
    for (const photo of rows) put('photos', { ...change(photo), changed });
  });
}

/** Puts photos in the bin, or takes them out again. @param {string[]} ids @param {boolean} removed */
export const binPhotos = (ids, removed) => changePhotos(ids, ({ binned, ...photo }) => ({ ...photo, removed }));

/** Moves photos to a set, or to another check of theirs. @param {string[]} ids @param {string} set @param {string} [about] */
export const movePhotos = (ids, set, about = '') => changePhotos(ids, ({ waiting, ...photo }) => ({ ...photo, set, about }));

/** Says why a photo waits in the tray. @param {string} id @param {NonNullable<Photo['waiting']>} waiting */
export const keepWaiting = (id, waiting) => changePhotos([id], (photo) => ({ ...photo, set: null, waiting }));
