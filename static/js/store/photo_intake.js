/** A photo as a browser hands it over: upright, small and without metadata before anything is stored. */
import { _, locale } from '../language.js';
import { jpegOf, letGo, shrunk } from './photo_canvas.js';
import { kindOf } from './photo_kinds.js';
import { Refused, uprightByServer } from './photo_server.js';

const MOST_BYTES = 20_000_000;
const MOST_PIXELS = 60_000_000;
/** Long sides in pixels, and qualities of the JPEG. */
const KEPT = [1600, 0.85];
const THUMB = [240, 0.8];
/** Forms that the server turns into a JPEG where the browser cannot read them. */
const FOREIGN = ['heif', 'tiff'];

/** @typedef {{blob: Blob, thumb: Blob, width: number, height: number, taken: string}} Prepared */

/**
 * A chosen file, ready to be kept.
 * @param {File} file
 * @returns {Promise<Prepared>} rejects with a sentence that names the photo and says what to do
 */
export async function preparePhoto(file) {
  const bitmap = await decoded(file);
  const canvas = shrunk(bitmap, KEPT[0]);
  bitmap.close();
  const { width, height } = canvas;
  const blob = await jpegOf(canvas, KEPT[1]);
  const thumb = await thumbOf(canvas);
  letGo(canvas);
  return { blob, thumb, width, height, taken: takenOn(file) };
}

/** A thumbnail. @param {ImageBitmap | HTMLCanvasElement} picture @returns {Promise<Blob>} */
export async function thumbOf(picture) {
  const small = shrunk(picture, THUMB[0]);
  const thumb = await jpegOf(small, THUMB[1]);
  letGo(small);
  return thumb;
}

/** @param {File} file @returns {Promise<ImageBitmap>} upright */
async function decoded(file) {
  const { name = _('This photo'), size: bytes } = file;
  const size = sayBytes(bytes);
  if (bytes === 0) throw new Error(_('{name} is empty. Choose it again, or take the photo anew.', { name }));
  if (bytes > MOST_BYTES) throw new Error(_('{name} is {size}; the limit is 20 MB. Take it again at a smaller size.', { name, size }));
  const kind = await kindOf(file);
  if (!kind) throw new Error(_('{name} ({size}) is not a photo. Choose a JPEG, PNG or WebP.', { name, size }));
  const bitmap = await read(file, name);
  if (bitmap) return bitmap;
  if (!FOREIGN.includes(kind)) throw new Error(_('{name} ({size}) is damaged: this browser cannot read it. Choose it again, or take the photo anew.', { name, size }));
  return await read(await converted(file, name), name) ?? Promise.reject(new Error(_('{name} ({size}) cannot be read. Take it again as a JPEG.', { name, size })));
}

async function converted(file, name) {
  try {
    return await uprightByServer(file);
  } catch (problem) {
    const size = sayBytes(file.size);
    throw new Error(problem instanceof Refused ? _('{name} ({size}) cannot be read by this browser, and the server says: {why}', { name, size, why: problem.message })
      : _('{name} ({size}) cannot be read by this browser, and turning it into a JPEG needs a signal. Choose it again with a signal, or set the camera to JPEG and take it again.', { name, size }));
  }
}

/** The picture, upright; null for what the browser cannot read. */
async function read(blob, name) {
  const pixels = await pixelsOf(blob);
  if (pixels > MOST_PIXELS) throw new Error(_('{name} has {count} million pixels; the limit is 60 million. Take it again at a smaller size.', { name, count: Math.round(pixels / 1e6) }));
  return pixels > 0 ? createImageBitmap(blob, { imageOrientation: 'from-image' }).catch(() => null) : null;
}

/** How many pixels its head promises, read before room is made for them; 0 for what is no picture. @returns {Promise<number>} */
function pixelsOf(blob) {
  const image = new Image();
  const address = URL.createObjectURL(blob);
  return new Promise((resolve) => {
    image.onload = () => resolve(image.naturalWidth * image.naturalHeight);
    image.onerror = () => resolve(0);
    image.src = address;
  }).finally(() => URL.revokeObjectURL(address));
}

/** The day of a file from the gallery is that of the photo. */
const takenOn = ({ lastModified }) => new Date(Math.min(lastModified || Date.now(), Date.now())).toISOString();

/** Such as 3.1 MB. @param {number} bytes */
export const sayBytes = (bytes) => (bytes < 1e5 ? `${Math.max(1, Math.round(bytes / 1e3))} KB` : `${megabytes(bytes)} MB`);

const megabytes = (bytes) => (Math.round(bytes / 1e5) / 10).toLocaleString(locale(), { useGrouping: false });
