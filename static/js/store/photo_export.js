/** Photos in the exported file: one a line at its end, so that no text ever holds all of them at once. */
import { openDatabase } from './database.js';
import { damage } from './photo_rules.js';
import { pictureOf } from './photos.js';

/** The line after which each line is one photo, and the file's last. */
export const [FIRST, LAST] = [',"photos": [', ']}'];

/**
 * @param {any} document_ the notebook without photos
 * @returns {Promise<{file: Blob, photos: number}>}
 */
export async function withPhotos(document_) {
  const kept = (await (await openDatabase()).all('photos')).filter((photo) => !photo.removed && !photo.demo);
  const lines = [];
  for (const photo of kept) {
    const line = await photoLine(photo);
    // Each part is a blob of its own, which the browser may put aside.
    if (line) lines.push(new Blob([`${lines.length > 0 ? ',' : ''}${line}\n`]));
  }
  const head = JSON.stringify(document_, null, 1).replace(/\n?\}$/, '');
  return { file: new Blob([`${head}\n${FIRST}\n`, ...lines, LAST]), photos: lines.length };
}

/** Nothing for one that is damaged: it would have the whole file refused. */
async function photoLine({ id, set, about, taken, changed, width, height, waiting }) {
  const picture = await pictureOf(id);
  const row = { id, set, about, taken, changed, width, height, waiting };
  return picture && !damage(row) ? JSON.stringify({ ...row, jpeg: await base64(picture) }) : '';
}

/** @param {Blob} blob @returns {Promise<string>} */
function base64(blob) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).split(',')[1]);
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(blob);
  });
}
