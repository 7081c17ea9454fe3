/** Edges along a line through the photo, to a fraction of a pixel. Twin of webapp/photos/edges.py. */
import { brightness } from './grey.js';

/** @typedef {{at: number, rise: number}} Edge `at` in samples from the start, `rise` the change in one sample, signed */

/** Brightness at `count` points, the first at `start`, each a `step` further. */
export function samples(photo, [x, y], [dx, dy], count) {
  const values = new Array(count);
  for (let i = 0; i < count; i += 1) values[i] = brightness(photo, x + dx * i, y + dy * i);
  return values;
}

/** The slope of the values smoothed by a Gaussian of `sigma` samples; 0 where the filter does not fit. */
export function rises(values, sigma) {
  const kernel = slopeFilter(sigma);
  const reach = (kernel.length - 1) / 2;
  const found = new Array(values.length).fill(0);
  for (let i = reach; i < values.length - reach; i += 1) {
    let total = 0;
    for (let j = 1; j <= reach; j += 1) total += kernel[reach + j] * (values[i + j] - values[i - j]);
    found[i] = total;
  }
  return found;
}

/** @type {Map<number, number[]>} */
const filters = new Map();

/** The derivative of a Gaussian, scaled so that an even slope of 1 gives 1. */
function slopeFilter(sigma) {
  let filter = filters.get(sigma);
  if (!filter) {
    const reach = Math.ceil(3 * sigma);
    const places = Array.from({ length: 2 * reach + 1 }, (_, k) => k - reach);
    const weights = places.map((i) => i * Math.exp(-(i * i) / (2 * sigma * sigma)));
    const scale = weights.reduce((total, weight, k) => total + places[k] * weight, 0);
    filter = weights.map((weight) => weight / scale);
    filters.set(sigma, filter);
  }
  return filter;
}

/** The places where the slope is steepest, in order; only those at least as steep as `least`. @returns {Edge[]} */
export function edgesOf(slopes, least) {
  const found = [];
  for (let i = 1; i < slopes.length - 1; i += 1) {
    const here = Math.abs(slopes[i]);
    const before = Math.abs(slopes[i - 1]);
    const after = Math.abs(slopes[i + 1]);
    if (here < least || here <= before || here < after) continue;
    const bend = before - 2 * here + after;
    const shift = bend < 0 ? 0.5 * (before - after) / bend : 0;
    found.push({ at: i + shift, rise: slopes[i] });
  }
  return found;
}

/** The middle value, the mean of two; 0 of none. @param {number[]} values */
export function median(values) {
  if (values.length === 0) return 0;
  const ordered = Float64Array.from(values).sort();
  const half = Math.floor(ordered.length / 2);
  return ordered.length % 2 ? ordered[half] : (ordered[half - 1] + ordered[half]) / 2;
}
