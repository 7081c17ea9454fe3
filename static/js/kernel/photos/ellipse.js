/** The ellipse nearest to points, as a round coin shows in a photo. Twin of webapp/photos/ellipse.py. */
import { leastSquares } from './linear.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {{x: number, y: number, a: number, b: number, angle: number}} Ellipse half axes, a the longer, at an angle
 */

/**
 * The ellipse nearest to five points or more; null when they lie on none.
 * @param {Point[]} points
 * @param {number[]} weights
 * @param {number} [rounds]
 * @returns {Ellipse | null}
 */
export function fittedEllipse(points, weights, rounds = 12) {
  const count = points.length;
  if (count < 5) return null;
  const mx = sum(points.map(([x]) => x)) / count;
  const my = sum(points.map(([, y]) => y)) / count;
  const scale = Math.max(...points.map(([x, y]) => Math.hypot(x - mx, y - my)));
  if (scale === 0) return null;
  const near = points.map(([x, y]) => [(x - mx) / scale, (y - my) / scale]);
  const rows = near.map(([x, y]) => [x * x, x * y, y * y, x, y]);
  const wanted = near.map(() => 1);
  let found = null;
  let now = weights;
  for (let round = 0; round < rounds; round += 1) {
    const conic = leastSquares(rows, wanted, now);
    if (!conic) return null;
    found = conic;
    now = near.map(([x, y], k) => weights[k] / Math.max(1e-9, slopeSquared(conic, x, y)));
  }
  const ellipse = shaped(found);
  return ellipse && { x: mx + scale * ellipse.x, y: my + scale * ellipse.y, a: scale * ellipse.a, b: scale * ellipse.b, angle: ellipse.angle };
}

function slopeSquared(conic, x, y) {
  const across = 2 * conic[0] * x + conic[1] * y + conic[3];
  const down = conic[1] * x + 2 * conic[2] * y + conic[4];
  return across * across + down * down;
}

/** The ellipse of A x² + B x y + C y² + D x + E y = 1. */
function shaped([a, b, c, d, e]) {
  const determinant = 4 * a * c - b * b;
  if (determinant <= 0) return null;
  const x = (b * e - 2 * c * d) / determinant;
  const y = (b * d - 2 * a * e) / determinant;
  const level = 1 + a * x * x + b * x * y + c * y * y;
  const middle = (a + c) / 2;
  const apart = Math.hypot((a - c) / 2, b / 2);
  const [least, most] = [middle - apart, middle + apart];
  if (level / most <= 0 || level / least <= 0) return null;
  const angle = apart > 0 ? 0.5 * Math.atan2(-b, c - a) : 0;
  return { x, y, a: Math.sqrt(level / least), b: Math.sqrt(level / most), angle };
}

/** A point of the rim, and the unit vector that leads straight outward there. @param {Ellipse} ellipse @param {number} turn in radians @returns {[Point, Point]} */
export function pointOn(ellipse, turn) {
  const cosine = Math.cos(ellipse.angle);
  const sine = Math.sin(ellipse.angle);
  const along = Math.cos(turn);
  const across = Math.sin(turn);
  const u = ellipse.a * along;
  const v = ellipse.b * across;
  const length = Math.hypot(along / ellipse.a, across / ellipse.b);
  const outU = along / ellipse.a / length;
  const outV = across / ellipse.b / length;
  return [[ellipse.x + u * cosine - v * sine, ellipse.y + u * sine + v * cosine],
    [outU * cosine - outV * sine, outU * sine + outV * cosine]];
}

/** The symmetric matrix Q of the ellipse: points (x, y, 1) of its rim have p Q p = 0, inside is negative. @param {Ellipse} ellipse */
export function conicOf(ellipse) {
  const cosine = Math.cos(ellipse.angle);
  const sine = Math.sin(ellipse.angle);
  const first = 1 / ellipse.a ** 2;
  const second = 1 / ellipse.b ** 2;
  const a = first * cosine * cosine + second * sine * sine;
  const b = (first - second) * cosine * sine;
  const c = first * sine * sine + second * cosine * cosine;
  const d = -(a * ellipse.x + b * ellipse.y);
  const e = -(b * ellipse.x + c * ellipse.y);
  return [[a, b, d], [b, c, e], [d, e, -d * ellipse.x - e * ellipse.y - 1]];
}

/** How far outside the rim a point lies, to first order; inside is negative. @param {Ellipse} ellipse @param {Point} point */
export function missOf(ellipse, point) {
  const cosine = Math.cos(ellipse.angle);
  const sine = Math.sin(ellipse.angle);
  const x = point[0] - ellipse.x;
  const y = point[1] - ellipse.y;
  const u = (x * cosine + y * sine) / ellipse.a;
  const v = (-x * sine + y * cosine) / ellipse.b;
  const level = Math.hypot(u, v);
  const slope = Math.hypot(u / ellipse.a, v / ellipse.b);
  return slope > 0 ? (level - 1) * level / slope : -ellipse.b;
}

const sum = (values) => values.reduce((total, value) => total + value, 0);
