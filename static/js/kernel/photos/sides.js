/** The corners of a card or a label to a fraction of a pixel. Twin of webapp/photos/sides.py. */
import { edgesOf, median, rises, samples } from './edges.js';
import { leastSquares } from './linear.js';
import { convex } from './plane.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {Record<string, number>} Settings
 * @typedef {{first: number, last: number, scatter: number, score: number}} Line offsets outward at both ends, in pixels
 * @typedef {{reach: number, hint: number}} Search how far from what was given a side may lie, and how far it still counts six tenths; in pixels
 * @typedef {[number, [number, number][]][]} Scans place along the side, and edges as [offset outward, rise]
 */

/**
 * Corners from roughly given ones; a side that cannot be made out stays as it was given.
 * @param {import('./grey.js').Grey} photo
 * @param {Point[]} corners
 * @param {boolean} darkInside
 * @param {Settings} settings
 * @returns {{points: Point[], sides_found: number, scatter_px: number}}
 */
export function refinedCorners(photo, corners, darkInside, settings) {
  const asGiven = { points: corners, sides_found: 0, scatter_px: 0 };
  if (!convex(corners)) return asGiven;
  const lengths = corners.map((corner, i) => distance(corner, corners[(i + 1) % 4]));
  // The edges of a label's next row of modules lie close by, so it is not looked for as far.
  const what = darkInside ? 'label' : 'side';
  const far = Math.max(settings[`${what}_reach_px`], settings[`${what}_reach_share`] * Math.min(...lengths));
  /** @type {Search} */
  const search = { reach: Math.min(far, settings.side_reach_most_px), hint: settings[`${what}_hint_px`] };
  const points = met(corners, found(photo, corners, darkInside, search, settings));
  if (!points || !convex(points)) return asGiven;
  const nearer = { ...search, reach: Math.max(settings.label_reach_px, search.reach / 3) };
  const again = found(photo, points, darkInside, nearer, settings);
  const onceMore = met(points, again);
  const lines = again.filter(Boolean);
  if (!onceMore || lines.length === 0) return asGiven;
  return { points: onceMore, sides_found: lines.length, scatter_px: median(lines.map((line) => line.scatter)) };
}

/** @returns {(Line | null)[]} */
function found(photo, corners, darkInside, search, settings) {
  let best = [null, null, null, null];
  let most = 0;
  for (const way of darkInside ? [1] : [1, -1]) {
    const lines = [0, 1, 2, 3].map((i) => side(photo, corners, i, way, search, settings));
    const score = lines.reduce((total, line) => total + (line ? line.score : 0), 0);
    if (score > most) [best, most] = [lines, score];
  }
  return best;
}

/** The unit vector that leads out of the quadrilateral across side i. @returns {Point} */
function outward(corners, i) {
  const [ax, ay] = corners[i];
  const [bx, by] = corners[(i + 1) % 4];
  const cx = corners.reduce((total, [x]) => total + x, 0) / 4;
  const cy = corners.reduce((total, [, y]) => total + y, 0) / 4;
  const length = Math.hypot(bx - ax, by - ay);
  const nx = (by - ay) / length;
  const ny = (ax - bx) / length;
  return (ax - cx) * nx + (ay - cy) * ny >= 0 ? [nx, ny] : [-nx, -ny];
}

/** The line that most scans across a side agree on; `way` 1 where brightness rises outward, else -1. */
function side(photo, corners, i, way, search, settings) {
  const a = corners[i];
  const b = corners[(i + 1) % 4];
  const [nx, ny] = outward(corners, i);
  const count = settings.scans_a_side;
  const half = Math.ceil(2 * search.reach) + Math.ceil(3 * settings.rim_sigma);
  /** @type {Scans} */
  const scans = [];
  for (let k = 0; k < count; k += 1) {
    const t = settings.side_begin + (1 - 2 * settings.side_begin) * k / (count - 1);
    const x = a[0] + (b[0] - a[0]) * t;
    const y = a[1] + (b[1] - a[1]) * t;
    const values = samples(photo, [x - nx * half / 2, y - ny * half / 2], [nx / 2, ny / 2], 2 * half + 1);
    const edges = edgesOf(rises(values, settings.rim_sigma).map((value) => way * value), settings.least_rise);
    const rising = edges.filter((edge) => edge.rise > 0).sort((one, other) => other.rise - one.rise);
    scans.push([t, rising.slice(0, settings.edges_a_scan).map((edge) => [(edge.at - half) / 2, edge.rise])]);
  }
  return agreed(scans, search, settings);
}

/** @param {Scans} scans @returns {Line | null} */
function agreed(scans, search, settings) {
  const usual = median(scans.filter(([, edges]) => edges.length > 0).map(([, edges]) => edges[0][1]));
  const third = Math.floor(scans.length / 3);
  let best = null;
  let most = 0;
  for (const [t, edges] of scans.slice(0, third)) {
    for (const [offset] of edges) {
      for (const [otherT, others] of scans.slice(-third)) {
        for (const [other] of others) {
          const slope = (other - offset) / (otherT - t);
          const line = [offset - slope * t, slope];
          const score = support(scans, line, usual, search, settings);
          if (score > most) [best, most] = [line, score];
        }
      }
    }
  }
  if (!best || most < settings.least_side_score * scans.length) return null;
  return fitted(scans, best, most, settings);
}

function support(scans, [start, slope], usual, { reach, hint }, settings) {
  if (Math.abs(start) > reach || Math.abs(start + slope) > reach) return 0;
  let total = 0;
  for (const [t, edges] of scans) {
    const at = start + slope * t;
    let best = 0;
    for (const [offset, rise] of edges) {
      if (Math.abs(offset - at) < settings.agree_px) best = Math.max(best, rise / (rise + usual));
    }
    total += best;
  }
  const far = (start * start + (start + slope) ** 2) / (2 * hint * hint);
  return total * Math.exp(-0.5 * far);
}

/** @returns {Line | null} */
function fitted(scans, line, score, settings) {
  let [start, slope] = line;
  let scatter = 0;
  for (let round = 0; round < 5; round += 1) {
    const rows = [];
    const offsets = [];
    const weights = [];
    for (const [t, edges] of scans) {
      const at = start + slope * t;
      let nearest = null;
      for (const [offset] of edges) {
        const miss = Math.abs(offset - at);
        if (miss < settings.agree_px && (nearest === null || miss < Math.abs(nearest - at))) nearest = offset;
      }
      if (nearest !== null) {
        rows.push([1, t]);
        offsets.push(nearest);
        weights.push(Math.min(1, 0.5 / Math.max(1e-12, Math.abs(nearest - at))));
      }
    }
    const solution = rows.length >= 4 ? leastSquares(rows, offsets, weights) : null;
    if (!solution) return null;
    [start, slope] = solution;
    scatter = Math.sqrt(offsets.reduce((total, offset, k) => total + (offset - start - slope * rows[k][1]) ** 2, 0) / rows.length);
  }
  return { first: start, last: start + slope, scatter, score };
}

/** Where the four lines meet, each in place of its side; null when two do not meet near the corner. @returns {Point[] | null} */
function met(corners, lines) {
  const sides = lines.map((line, i) => {
    const a = corners[i];
    const b = corners[(i + 1) % 4];
    if (!line) return [a, b];
    const [nx, ny] = outward(corners, i);
    return [[a[0] + nx * line.first, a[1] + ny * line.first], [b[0] + nx * line.last, b[1] + ny * line.last]];
  });
  const points = sides.map((one, i) => crossing(sides[(i + 3) % 4], one));
  return points.every(Boolean) ? points : null;
}

function crossing([[ax, ay], [bx, by]], [[cx, cy], [dx, dy]]) {
  const [ux, uy, vx, vy] = [bx - ax, by - ay, dx - cx, dy - cy];
  const turn = ux * vy - uy * vx;
  if (Math.abs(turn) < 0.05 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const along = ((cx - ax) * vy - (cy - ay) * vx) / turn;
  return [ax + ux * along, ay + uy * along];
}

const distance = ([ax, ay], [bx, by]) => Math.hypot(ax - bx, ay - by);
