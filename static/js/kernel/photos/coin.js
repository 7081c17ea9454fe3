/** A round coin as the reference. Twin of webapp/photos/coin.py. */
import { edgesOf, median, rises, samples } from './edges.js';
import { conicOf, fittedEllipse, missOf, pointOn } from './ellipse.js';
import { eigen3, inverse3 } from './linear.js';
import { planeOf } from './plane.js';

/** @typedef {import('./grey.js').Point} Point @typedef {import('./ellipse.js').Ellipse} Ellipse */

/**
 * The rim from a roughly given one: edges along its normals, in narrowing windows, fitted robustly.
 * @param {import('./grey.js').Grey} photo
 * @param {Ellipse} ellipse
 * @param {Record<string, number>} settings
 * @returns {{ellipse: Ellipse, found: boolean, scatter_px: number}}
 */
export function refinedCoin(photo, ellipse, settings) {
  const reach = Math.max(settings.side_reach_px, settings.side_reach_share * ellipse.b);
  const asGiven = { ellipse, found: false, scatter_px: 0 };
  let now = ellipse;
  let scatter = 0;
  for (const window of [reach, reach / 2, Math.max(3, reach / 4)]) {
    const { points, weights } = edgePoints(photo, now, window, settings);
    if (points.length < settings.least_share * settings.directions) return asGiven;
    const close = settings.agree_px;
    for (let round = 0; round < 5; round += 1) {
      const before = now;
      const steady = weights.map((w, k) => w * Math.min(1, close / Math.max(1e-12, Math.abs(missOf(before, points[k])))) ** 2);
      const fitted = fittedEllipse(points, steady);
      if (!fitted) return asGiven;
      now = fitted;
    }
    if (!like(now, ellipse, reach)) return asGiven;
    const good = points.map((point) => missOf(now, point)).filter((miss) => Math.abs(miss) < close);
    if (good.length < settings.least_share * points.length) return asGiven;
    scatter = Math.sqrt(good.reduce((total, miss) => total + miss * miss, 0) / good.length);
  }
  return { ellipse: now, found: true, scatter_px: scatter };
}

const like = (one, other, reach) => Math.hypot(one.x - other.x, one.y - other.y) <= 2 * reach
  && Math.abs(one.a - other.a) <= 2 * reach && Math.abs(one.b - other.b) <= 2 * reach;

/** The edges that most directions have at one distance from the rim, and their weights. */
function edgePoints(photo, ellipse, window, settings) {
  const count = settings.directions;
  const half = Math.ceil(2 * window) + Math.ceil(3 * settings.rim_sigma);
  const scans = [];
  for (let k = 0; k < count; k += 1) {
    const [[x, y], [nx, ny]] = pointOn(ellipse, 2 * Math.PI * k / count);
    const values = samples(photo, [x - nx * half / 2, y - ny * half / 2], [nx / 2, ny / 2], 2 * half + 1);
    const edges = edgesOf(rises(values, settings.rim_sigma), settings.least_rise).map((edge) => [(edge.at - half) / 2, edge.rise]);
    scans.push({ x, y, nx, ny, edges });
  }
  const usual = median(scans.filter(({ edges }) => edges.length > 0).map(({ edges }) => Math.max(...edges.map(([, rise]) => Math.abs(rise)))));
  const { offset, way } = commonest(scans, usual, window, settings.coin_hint_px);
  const points = [];
  const weights = [];
  for (const { x, y, nx, ny, edges } of scans) {
    let chosen = null;
    let most = -1;
    for (const [at, rise] of edges) {
      const worth = Math.abs(rise) / (1 + Math.abs(at - offset));
      if (Math.abs(at - offset) <= window / 2 && rise * way > 0 && worth > most) [chosen, most] = [[at, rise], worth];
    }
    if (chosen) {
      const [at, rise] = chosen;
      points.push([x + nx * at, y + ny * at]);
      weights.push(Math.abs(rise) / (Math.abs(rise) + usual));
    }
  }
  return { points, weights };
}

/** The distance outward, in pixels, at which most directions have an edge of one kind, and which kind. */
function commonest(scans, usual, window, hint) {
  const best = { offset: 0, way: 1 };
  let most = 0;
  const width = Math.max(1.5, window / 4);
  for (let step = -8; step <= 8; step += 1) {
    const offset = step * window / 8;
    for (const way of [1, -1]) {
      let score = 0;
      for (const { edges } of scans) {
        let nearest = 0;
        for (const [at, rise] of edges) {
          const off = Math.abs(at - offset);
          if (off < width && rise * way > 0) nearest = Math.max(nearest, Math.abs(rise) / (Math.abs(rise) + usual) * (1 - off / width));
        }
        score += nearest;
      }
      score *= Math.exp(-0.5 * (offset / hint) ** 2);
      if (score > most) {
        Object.assign(best, { offset, way });
        most = score;
      }
    }
  }
  return best;
}

/**
 * The two planes in which a circle of that diameter looks like the ellipse, its middle at (0, 0) mm.
 * @param {Ellipse} ellipse
 * @returns {import('./plane.js').Plane[]}
 */
export function planesOfCoin(ellipse, diameterMm, width, height, focal) {
  const camera = [[focal, 0, width / 2], [0, focal, height / 2], [0, 0, 1]];
  const cone = product(transposed(camera), product(conicOf(ellipse), camera));
  const { values, vectors } = eigen3(cone);
  if (!(values[1] > 0 && values[2] < 0)) return [];
  const apart = values[0] - values[2];
  const across = Math.sqrt(Math.max(0, (values[0] - values[1]) / apart));
  const along = Math.sqrt(Math.max(0, (values[1] - values[2]) / apart));
  return [1, -1].map((sign) => [0, 1, 2].map((i) => sign * across * vectors[0][i] + along * vectors[2][i]))
    .map((normal) => seen(cone, normal, diameterMm / 2, camera)).filter(Boolean);
}

/** The plane with that normal through the circle of that radius on the cone. */
function seen(cone, normal, radius, camera) {
  const back = inverse3(cone);
  if (!back) return null;
  let middle = back.map((row) => row[0] * normal[0] + row[1] * normal[1] + row[2] * normal[2]);
  if (middle[2] < 0) middle = middle.map((value) => -value);
  let right = Math.abs(normal[1]) < 0.9 ? [normal[2], 0, -normal[0]] : [0, -normal[2], normal[1]];
  const length = Math.sqrt(right[0] * right[0] + right[1] * right[1] + right[2] * right[2]);
  right = right.map((value) => value / length);
  const down = [
    normal[1] * right[2] - normal[2] * right[1],
    normal[2] * right[0] - normal[0] * right[2],
    normal[0] * right[1] - normal[1] * right[0],
  ];
  const size = -form(cone, right) / form(cone, middle);
  if (!(size > 0)) return null;
  const far = radius * Math.sqrt(size);
  return planeOf(product(camera, [0, 1, 2].map((i) => [right[i], down[i], far * middle[i]])));
}

function form(cone, v) {
  let total = 0;
  for (let i = 0; i < 3; i += 1) for (let j = 0; j < 3; j += 1) total += v[i] * cone[i][j] * v[j];
  return total;
}

const product = (one, other) => one.map((row) => [0, 1, 2].map((j) => row[0] * other[0][j] + row[1] * other[1][j] + row[2] * other[2][j]));
const transposed = (m) => [0, 1, 2].map((i) => m.map((row) => row[i]));
