/** The rim of a hole from one tap inside it. Twin of webapp/photos/rim.py. */
import { circleThrough } from './circle.js';
import { edgesOf, median, rises } from './edges.js';
import { brightness, inside } from './grey.js';
import { applied, distanceMm, eyeOver, pxPerMm, tiltOf } from './plane.js';
import { settled } from './wall.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {import('./circle.js').Circle} Circle
 * @typedef {Record<string, number>} Settings
 * @typedef {[Point, number][]} Ray edges as [where in mm, how steep]
 */

/**
 * The rim of the hole that was tapped, or null when no circle is agreed on by enough directions.
 * @param {import('./grey.js').Grey} photo
 * @param {import('./plane.js').Plane} plane
 * @param {Point} tap
 * @param {number} focal
 * @param {Settings} settings
 * @returns {import('./wall.js').Rim | null}
 */
export function findRim(photo, plane, tap, focal, settings) {
  const middle = applied(plane.to_mm, tap);
  const scale = pxPerMm(plane, middle);
  const view = viewOf(photo, plane, focal);
  const rays = raysOf(photo, plane, middle, scale, settings).filter((ray) => ray.length > 0);
  if (rays.length < 3) return null;
  const usual = median(rays.map((ray) => Math.max(...ray.map(([, rise]) => Math.abs(rise)))));
  let best = null;
  for (const circle of agreed(rays, usual, middle, scale, settings)) {
    const rim = settled(photo, plane, circle, view, usual, 1, settings);
    if (rim && rim.score > (best?.score ?? 0) && sensible(rim.circle, middle, scale, settings)) best = rim;
  }
  if (!best) return null;
  const rim = settled(photo, plane, best.circle, view, usual, 3, settings);
  return rim && rim.share >= settings.least_share ? rim : null;
}

function viewOf(photo, plane, focal) {
  const { width, height } = photo;
  const eye = eyeOver(plane, width, height, focal);
  const tilt = tiltOf(plane, width, height, focal) * Math.PI / 180;
  return { eye, height: distanceMm(plane, eye, width, height, focal) / Math.max(0.05, Math.cos(tilt)) };
}

/** For each direction the edges met from the tap outward: where, in mm, and how steep. @returns {Ray[]} */
function raysOf(photo, plane, middle, scale, settings) {
  const slopes = [];
  const steps = [];
  for (let k = 0; k < settings.rays; k += 1) {
    const turn = 2 * Math.PI * k / settings.rays;
    const step = [Math.cos(turn) / scale, Math.sin(turn) / scale];
    slopes.push(rises(rayOf(photo, plane, middle, step, settings), settings.ray_sigma_px));
    steps.push(step);
  }
  const noise = median(slopes.flatMap((row) => row.map((value) => Math.abs(value))));
  const least = Math.max(settings.least_rise, settings.edge_over_noise * noise);
  return slopes.map((row, k) => edgesOf(row, least).filter((edge) => edge.at >= settings.least_radius_px / 2)
    .sort((one, other) => Math.abs(other.rise) / Math.sqrt(other.at) - Math.abs(one.rise) / Math.sqrt(one.at))
    .slice(0, settings.edges_a_ray)
    .map((edge) => [[middle[0] + steps[k][0] * edge.at, middle[1] + steps[k][1] * edge.at], edge.rise]));
}

/** Brightness along a ray, a sample to the pixel, to the photo's border or the greatest radius. */
function rayOf(photo, plane, middle, step, settings) {
  const values = [];
  const count = Math.floor(settings.greatest_radius_mm / Math.hypot(step[0], step[1]));
  for (let i = 0; i < count; i += 1) {
    const [x, y] = applied(plane.to_px, [middle[0] + step[0] * i, middle[1] + step[1] * i]);
    if (!inside(photo, x, y)) break;
    values.push(brightness(photo, x, y));
  }
  return values;
}

/** The circles that most rays agree on, the best first, no two alike. @param {Ray[]} rays @returns {Circle[]} */
function agreed(rays, usual, middle, scale, settings) {
  const close = settings.agree_px / scale;
  const found = [];
  let state = 20011;
  const next = () => {
    state = state * 48271 % 2147483647;
    return state / 2147483647;
  };
  for (let k = 0; k < settings.triples; k += 1) {
    const first = Math.floor(next() * rays.length);
    const points = [0, 1, 2].map((third) => drawn(rays[(first + Math.floor(third * rays.length / 3)) % rays.length], next()));
    const circle = circleThrough(points[0], points[1], points[2]);
    if (circle && sensible(circle, middle, scale, settings)) found.push([support(circle, rays, usual, close), circle]);
  }
  found.sort((one, other) => other[0] - one[0]);
  return different(found.map(([, circle]) => circle), close, settings.circles_tried);
}

/** One of a ray's edges, steeper ones more often. @param {Ray} ray @param {number} figure from 0 to 1 @returns {Point} */
function drawn(ray, figure) {
  let rest = figure * ray.reduce((total, [, rise]) => total + Math.abs(rise), 0);
  for (const [point, rise] of ray) {
    rest -= Math.abs(rise);
    if (rest < 0) return point;
  }
  return ray.at(-1)[0];
}

/** Whether a circle can be the hole's: not too small or large, the tap well inside it. */
function sensible(circle, middle, scale, settings) {
  const off = Math.hypot(middle[0] - circle.x, middle[1] - circle.y);
  return settings.least_radius_px <= circle.radius * scale && circle.radius <= settings.greatest_radius_mm
    && off <= settings.tap_within * circle.radius;
}

/** How many rays have an edge on the circle, steep ones counting more; those that fall the other way little. */
function support(circle, rays, usual, close) {
  let rising = 0;
  let falling = 0;
  for (const ray of rays) {
    let up = 0;
    let down = 0;
    for (const [[x, y], rise] of ray) {
      if (Math.abs(Math.hypot(x - circle.x, y - circle.y) - circle.radius) < close) {
        const weight = Math.abs(rise) / (Math.abs(rise) + usual);
        if (rise > 0) up = Math.max(up, weight);
        else down = Math.max(down, weight);
      }
    }
    rising += up;
    falling += down;
  }
  return Math.max(rising, falling) + 0.3 * Math.min(rising, falling);
}

/** @param {Circle[]} circles @returns {Circle[]} */
function different(circles, close, most) {
  const kept = [];
  for (const one of circles) {
    if (kept.length >= most) break;
    if (kept.every((other) => Math.hypot(one.x - other.x, one.y - other.y) + Math.abs(one.radius - other.radius) > 2 * close)) kept.push(one);
  }
  return kept;
}
