/** The panel's plane in the photo, and how it stands to the camera. Twin of webapp/photos/plane.py. */
import { inverse3, solved } from './linear.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {import('./linear.js').Matrix} Matrix
 * @typedef {{to_px: Matrix, to_mm: Matrix}} Plane `to_px` takes millimetres in the plane to pixels, `to_mm` back
 */

/** A point through a homography. @param {Matrix} matrix @param {Point} point @returns {Point} */
export function applied(matrix, [x, y]) {
  const w = matrix[2][0] * x + matrix[2][1] * y + matrix[2][2];
  return [(matrix[0][0] * x + matrix[0][1] * y + matrix[0][2]) / w, (matrix[1][0] * x + matrix[1][1] * y + matrix[1][2]) / w];
}

/**
 * The plane from four corners; null when they name none.
 * @param {Point[]} cornersMm
 * @param {Point[]} cornersPx
 * @returns {Plane | null}
 */
export function planeOfCorners(cornersMm, cornersPx) {
  if (!convex(cornersPx)) return null;
  const middleX = sum(cornersPx.map(([x]) => x)) / 4;
  const middleY = sum(cornersPx.map(([, y]) => y)) / 4;
  const reach = Math.max(...cornersPx.map(([x, y]) => Math.hypot(x - middleX, y - middleY)));
  const rows = [];
  const right = [];
  cornersMm.forEach(([x, y], k) => {
    const u = (cornersPx[k][0] - middleX) / reach;
    const v = (cornersPx[k][1] - middleY) / reach;
    rows.push([x, y, 1, 0, 0, 0, -u * x, -u * y]);
    rows.push([0, 0, 0, x, y, 1, -v * x, -v * y]);
    right.push(u, v);
  });
  const found = solved(rows, right);
  if (!found) return null;
  const bottom = [found[6], found[7], 1];
  return planeOf([
    [0, 1, 2].map((j) => reach * found[j] + middleX * bottom[j]),
    [0, 1, 2].map((j) => reach * found[3 + j] + middleY * bottom[j]),
    bottom,
  ]);
}

/** The plane of a homography from millimetres to pixels; null when it cannot be turned round. @param {Matrix} toPx @returns {Plane | null} */
export function planeOf(toPx) {
  const toMm = inverse3(toPx);
  return toMm && { to_px: toPx, to_mm: toMm };
}

/** Whether four points go round once, each corner turning the same way by a good bit. @param {Point[]} corners */
export function convex(corners) {
  const turns = [];
  for (let i = 0; i < 4; i += 1) {
    const [[ax, ay], [bx, by], [cx, cy]] = [corners[i], corners[(i + 1) % 4], corners[(i + 2) % 4]];
    const sides = Math.hypot(bx - ax, by - ay) * Math.hypot(cx - bx, cy - by);
    if (sides === 0) return false;
    turns.push(((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) / sides);
  }
  return Math.min(...turns) > 0.05 || Math.max(...turns) < -0.05;
}

/** How many pixels a millimetre is there: the geometric mean over all directions. @param {Plane} plane @param {Point} atMm */
export function pxPerMm(plane, [x, y]) {
  const step = 0.01;
  const right = applied(plane.to_px, [x + step, y]);
  const left = applied(plane.to_px, [x - step, y]);
  const down = applied(plane.to_px, [x, y + step]);
  const up = applied(plane.to_px, [x, y - step]);
  const [a, b] = [(right[0] - left[0]) / (2 * step), (right[1] - left[1]) / (2 * step)];
  const [c, d] = [(down[0] - up[0]) / (2 * step), (down[1] - up[1]) / (2 * step)];
  return Math.sqrt(Math.abs(a * d - b * c));
}

/** The plane's two axes in the camera's frame, up to one common factor; focal length in pixels. @param {Plane} plane */
function axesSeen(plane, width, height, focal) {
  const h = plane.to_px;
  return [0, 1].map((j) => seen(h.map((row) => row[j]), width, height, focal));
}

const seen = ([x, y, w], width, height, focal) => [(x - width / 2 * w) / focal, (y - height / 2 * w) / focal, w];

/** The angle between the plane's normal and the camera's axis, in degrees, 0 to 90. */
export function tiltOf(plane, width, height, focal) {
  const [a, b] = axesSeen(plane, width, height, focal);
  const normal = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const length = Math.sqrt(normal[0] ** 2 + normal[1] ** 2 + normal[2] ** 2);
  return Math.acos(Math.min(1, Math.abs(normal[2]) / length)) * 180 / Math.PI;
}

/** How far from the camera, along its axis, a point of the plane is. */
export function distanceMm(plane, atMm, width, height, focal) {
  const [a, b] = axesSeen(plane, width, height, focal);
  const one = Math.sqrt(Math.sqrt(dot(a, a) * dot(b, b)));
  const h = plane.to_px;
  return Math.abs(h[2][0] * atMm[0] + h[2][1] * atMm[1] + h[2][2]) / one;
}

/** Where a plumb line from the camera meets the plane, in mm. @returns {Point} */
export function eyeOver(plane, width, height, focal) {
  const [a, b] = axesSeen(plane, width, height, focal);
  const c = seen(plane.to_px.map((row) => row[2]), width, height, focal);
  return [-dot(a, c) / dot(a, a), -dot(b, c) / dot(b, b)];
}

/** The focal length, in pixels, that agrees best with the usual one and with the plane's axes. */
export function likelyFocal(plane, width, height, usual, spread, noise) {
  const longer = Math.max(width, height);
  let best = usual * longer;
  let least = Infinity;
  for (let step = -40; step <= 40; step += 1) {
    const offset = step * spread / 13;
    const focal = usual * longer * Math.exp(offset);
    const [a, b] = axesSeen(plane, width, height, focal);
    const first = dot(a, a);
    const second = dot(b, b);
    const askew = dot(a, b) / Math.sqrt(first * second);
    const uneven = Math.log(first / second) / 2;
    const cost = (offset / spread) ** 2 + (askew / noise) ** 2 + (uneven / noise) ** 2;
    if (cost < least) [best, least] = [focal, cost];
  }
  return best;
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const sum = (values) => values.reduce((total, value) => total + value, 0);
