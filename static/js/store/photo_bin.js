/** The bin: removed photos come back with one tap, and give their room back after a month or at once when asked. */
import { openDatabase } from './database.js';
import { save } from './saving.js';

/** Days after which a removed photo is gone for good. */
export const DAYS = 30;

// A demo photo that somebody removed keeps its row, or the demo would bring it again at each start.
const purgeable = (photo) => photo.removed === 'set' || (photo.removed && !photo.demo);

/** Photos in the bin. @returns {Promise<import('./photos.js').Photo[]>} */
export const binned = async () => (await (await openDatabase()).all('photos')).filter(purgeable);

/** Removes what has been in the bin for long. @param {Date} [now] */
export async function purgeOld(now = new Date()) {
  const limit = new Date(now.getTime() - DAYS * 86_400_000).toISOString();
  return purge((await binned()).filter((photo) => (photo.binned ?? photo.changed) < limit));
}

/** Removes all that is in the bin. */
export const emptyBin = async () => purge(await binned());

async function purge(photos) {
  if (photos.length === 0) return;
  await save(({ remove }) => {
    for (const { id } of photos) {
      remove('photos', id);
      remove('photo_files', id);
    }
    // Should the demo be opened again, its photos are to come again.
    if (photos.some((photo) => photo.demo)) remove('meta', 'demo-photos');
  });
}
