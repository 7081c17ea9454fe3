/** What part of a face is seen, and where on it things lie; all in millimetres from its top left corner. */

/** @typedef {{x: number, y: number, w: number, h: number}} View */

/** How large a face is drawn: two alike ones side by side. @param {any} face @returns {{width: number, height: number}} */
export const faceSize = (face) => ({ width: face.width_mm * (face.twice ? 2 : 1), height: face.height_mm });

/** The whole face with a margin around it. @param {any} face @returns {View} */
export function wholeFace(face) {
  const { width, height } = faceSize(face);
  const margin = 0.06 * Math.max(width, height);
  return { x: -margin, y: -margin, w: width + 2 * margin, h: height + 2 * margin };
}

/**
 * A view nearer or farther, about a point that stays where it is, and never beyond the whole.
 * @param {View} view @param {View} whole @param {number} factor above 1 is nearer @param {{x: number, y: number}} about
 */
export function zoomed(view, whole, factor, about) {
  const scale = Math.min(1 / factor, whole.w / view.w);
  return within({ x: about.x - (about.x - view.x) * scale, y: about.y - (about.y - view.y) * scale, w: view.w * scale, h: view.h * scale }, whole);
}

/** A view moved to within the whole. @param {View} view @param {View} whole @returns {View} */
export function within(view, whole) {
  const held = (at, size, from, room) => Math.min(Math.max(at, from), from + room - size);
  return { ...view, x: held(view.x, view.w, whole.x, whole.w), y: held(view.y, view.h, whole.y, whole.h) };
}

/**
 * A spot for a hole that lies on its face whole, to a tenth of a millimetre.
 * @param {any} face @param {{x: number, y: number}} spot @param {number} diameter
 * @returns {{x_mm: number, y_mm: number, held: boolean}} `held`: it had to be moved
 */
export function onFace(face, spot, diameter) {
  const { width, height } = faceSize(face);
  const held = (at, room) => {
    const edge = Math.min(diameter, room) / 2;
    return Math.round(10 * Math.min(Math.max(at, edge), room - edge)) / 10;
  };
  const [x, y] = [held(spot.x, width), held(spot.y, height)];
  return { x_mm: x, y_mm: y, held: Math.hypot(x - spot.x, y - spot.y) > 0.5 };
}

/** The hole whose middle is nearest to a point, within its own radius or `reach`. @param {any[]} holes @param {{x: number, y: number}} point @param {number} reach */
export function nearest(holes, point, reach) {
  const away = (hole) => Math.hypot(hole.x_mm - point.x, hole.y_mm - point.y);
  return holes.filter((hole) => away(hole) <= Math.max(reach, (hole.diameter_mm ?? 0) / 2)).sort((a, b) => away(a) - away(b))[0] ?? null;
}

/** The longest round length, 1, 2 or 5 times a power of ten, that is no longer than this. @param {number} most */
export function roundLength(most) {
  const ten = 10 ** Math.floor(Math.log10(most));
  return [5, 2, 1].map((n) => n * ten).find((length) => length <= most) ?? ten;
}
