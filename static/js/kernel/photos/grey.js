/** A photo in shades of grey, and how bright it is between its pixels. Twin of webapp/photos/grey.py. */

/**
 * @typedef {[number, number]} Point
 * @typedef {{width: number, height: number, pixels: Uint8Array | Uint8ClampedArray}} Grey brightness 0 to 255 row by
 *   row; (0, 0) is the outer corner of the top left pixel
 */

/** Whether a point lies on the photo. @param {Grey} photo @param {number} x @param {number} y */
export function inside(photo, x, y) {
  return x >= 0 && x <= photo.width && y >= 0 && y <= photo.height;
}

/**
 * Brightness at a point, bilinear between the four pixel centres around it; held at the border.
 * @param {Grey} photo
 * @param {number} x
 * @param {number} y
 */
export function brightness(photo, x, y) {
  const { width, height, pixels } = photo;
  const u = Math.min(Math.max(x - 0.5, 0), width - 1);
  const v = Math.min(Math.max(y - 0.5, 0), height - 1);
  const left = Math.floor(u);
  const top = Math.floor(v);
  const right = Math.min(left + 1, width - 1);
  const across = u - left;
  const down = v - top;
  const upper = top * width;
  const lower = Math.min(top + 1, height - 1) * width;
  const above = pixels[upper + left] * (1 - across) + pixels[upper + right] * across;
  const below = pixels[lower + left] * (1 - across) + pixels[lower + right] * across;
  return above * (1 - down) + below * down;
}
