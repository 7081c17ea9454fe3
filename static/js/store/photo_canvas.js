/** Pictures on a canvas: made smaller, and written as a JPEG that holds pixels and nothing else. */
import { _ } from '../language.js';
import { withoutMetadata } from './jpeg_segments.js';

/**
 * A canvas with the picture, its long side at most so long. Halved step by step: one large step drops pixels.
 * @param {ImageBitmap | HTMLCanvasElement} picture
 * @param {number} longSide
 */
export function shrunk(picture, longSide) {
  const scale = Math.min(1, longSide / Math.max(picture.width, picture.height));
  const [width, height] = [picture.width, picture.height].map((side) => Math.max(1, Math.round(side * scale)));
  let now = picture;
  while (now.width > 2 * width && now.height > 2 * height) now = drawn(now, Math.ceil(now.width / 2), Math.ceil(now.height / 2), picture);
  return drawn(now, width, height, picture);
}

/** @param {ImageBitmap | HTMLCanvasElement} from let go of, unless it is the caller's own */
function drawn(from, width, height, own) {
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  const context = canvas.getContext('2d');
  if (!context) throw new Error(_('The browser has no memory left for another photo. Close other pages, then try again.'));
  // A JPEG has no see-through parts; on white they look as they did on the page.
  context.fillStyle = '#fff';
  context.fillRect(0, 0, width, height);
  context.imageSmoothingQuality = 'high';
  context.drawImage(from, 0, 0, width, height);
  if (from !== own) letGo(from);
  return canvas;
}

/** Frees a canvas at once: phones keep its memory for long otherwise. @param {any} canvas */
export function letGo(canvas) {
  canvas.width = 0;
  canvas.height = 0;
}

/** @param {HTMLCanvasElement} canvas @param {number} quality 0 to 1 @returns {Promise<Blob>} */
export async function jpegOf(canvas, quality) {
  const written = await new Promise((resolve) => {
    canvas.toBlob(resolve, 'image/jpeg', quality);
  });
  const bare = written && await withoutMetadata(written);
  if (!bare) throw new Error(_('The browser could not write the photo as a JPEG. Try again.'));
  return bare;
}
