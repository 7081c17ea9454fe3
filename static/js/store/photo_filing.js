/** Files photos by the label that shows in them; what cannot be filed waits in the tray with its reason. */
import { withoutMetadata } from './jpeg_segments.js';
import { allSets } from './notebook.js';
import { labelsIn } from './photo_labels.js';
import { NoSignal } from './photo_server.js';
import { keepWaiting, movePhotos, openPhoto, pictureOf, trayPhotos } from './photos.js';

/** Reasons that another try may settle without anybody's help. */
const AGAIN = ['reading', 'signal'];
/** Reasons that a set with that label settles. */
const LABELLED = ['unknown', 'two-sets'];

/**
 * The chosen files of photos in the tray, as long as this tab lives: a label is read best in the photo as it came.
 * @type {Map<string, Blob>}
 */
const originals = new Map();

/** Sets that carry a label. @param {string} label */
export const setsLabelled = async (label) => (await allSets()).filter((foundSet) => foundSet.get('label') === label);

/** Remembers the file that a photo came from. @param {string} id @param {Blob} file */
export const rememberOriginal = (id, file) => originals.set(id, file);

/**
 * Reads a photo's label and files the photo to the set that carries it.
 * @param {string} id
 * @returns {Promise<string | null>} id of the set, or null when it waits
 */
export async function fileByLabel(id) {
  let labels;
  try {
    labels = await labelsIn(await bestPicture(id));
  } catch (problem) {
    const waiting = problem instanceof NoSignal ? { why: 'signal' } : { why: 'refused', said: problem.message };
    await wait(id, waiting);
    return null;
  }
  if (labels.length === 1) return fileTo(id, labels[0]);
  await wait(id, labels.length === 0 ? { why: 'none' } : { why: 'several', label: labels.join(', ') });
  return null;
}

/** The photo as it came, but for its position and other metadata; else as it is kept. */
async function bestPicture(id) {
  const original = originals.get(id);
  return (original && await withoutMetadata(original)) ?? pictureOf(id);
}

/** Files a photo whose label is known. @param {string} id @param {string} label */
async function fileTo(id, label) {
  const sets = await setsLabelled(label);
  if (sets.length !== 1) {
    await wait(id, { why: sets.length === 0 ? 'unknown' : 'two-sets', label });
    return null;
  }
  if (!await inTray(id)) return null;
  await movePhotos([id], sets[0].base.id);
  originals.delete(id);
  return sets[0].base.id;
}

async function wait(id, waiting) {
  if (await inTray(id)) await keepWaiting(id, waiting);
}

/** Somebody may have filed or removed it while its label was being read. */
async function inTray(id) {
  const photo = await openPhoto(id);
  return photo && !photo.removed && photo.set === null;
}

/** Tries again what may go by itself now. @param {string[]} [busy] ids that are being read already @returns {Promise<number>} how many were filed */
export async function fileWaiting(busy = []) {
  let filed = 0;
  for (const { id, waiting } of await trayPhotos()) {
    if (busy.includes(id)) continue;
    const went = AGAIN.includes(waiting?.why) ? await fileByLabel(id)
      : LABELLED.includes(waiting?.why) && (await setsLabelled(waiting.label)).length === 1 && await fileTo(id, waiting.label);
    filed += went ? 1 : 0;
  }
  return filed;
}
