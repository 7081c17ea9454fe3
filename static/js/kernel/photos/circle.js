/** The circle nearest to points. Twin of webapp/photos/circle.py. */
import { leastSquares, normalEquations, solved } from './linear.js';

/** @typedef {import('./grey.js').Point} Point @typedef {{x: number, y: number, radius: number}} Circle */

/** The circle through three points; null when they lie in a line. @param {Point} a @param {Point} b @param {Point} c @returns {Circle | null} */
export function circleThrough(a, b, c) {
  const [bx, by, cx, cy] = [b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]];
  const twice = 2 * (bx * cy - by * cx);
  if (Math.abs(twice) < 1e-12) return null;
  const first = bx * bx + by * by;
  const second = cx * cx + cy * cy;
  const x = (cy * first - by * second) / twice;
  const y = (bx * second - cx * first) / twice;
  return { x: a[0] + x, y: a[1] + y, radius: Math.hypot(x, y) };
}

/**
 * The circle with the least weighted squares of distances from the rim; null when there is none.
 * @param {Point[]} points
 * @param {number[]} weights
 * @param {number} [rounds]
 * @returns {Circle | null}
 */
export function fittedCircle(points, weights, rounds = 12) {
  const found = leastSquares(points.map(([x, y]) => [x, y, 1]), points.map(([x, y]) => x * x + y * y), weights);
  if (!found) return null;
  const x = found[0] / 2;
  const y = found[1] / 2;
  let circle = { x, y, radius: Math.sqrt(Math.max(0, found[2] + x * x + y * y)) };
  for (let round = 0; round < rounds; round += 1) {
    const step = leastSquares(slopes(circle, points), misses(circle, points), weights);
    if (!step) return null;
    circle = { x: circle.x + step[0], y: circle.y + step[1], radius: circle.radius + step[2] };
    if (Math.abs(step[0]) + Math.abs(step[1]) + Math.abs(step[2]) < 1e-12 * circle.radius) break;
  }
  return Number.isFinite(circle.radius) && circle.radius > 0 ? circle : null;
}

/** How far outside the rim each point lies; inside is negative. @param {Circle} circle @param {Point[]} points */
export function misses(circle, points) {
  return points.map(([x, y]) => Math.hypot(x - circle.x, y - circle.y) - circle.radius);
}

/** The variance of the radius for points whose distances from the rim have variance 1; Infinity for too few. */
export function radiusVariance(circle, points, weights) {
  const { normal } = normalEquations(slopes(circle, points), points.map(() => 0), weights);
  const column = solved(normal, [0, 0, 1]);
  return column && column[2] > 0 ? column[2] : Infinity;
}

function slopes(circle, points) {
  return points.map(([x, y]) => {
    const away = Math.max(1e-12, Math.hypot(x - circle.x, y - circle.y));
    return [(x - circle.x) / away, (y - circle.y) / away, 1];
  });
}
