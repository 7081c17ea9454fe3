/** Where the rim of a hole lies when a bright burr or chipped paint runs round it. Twin of webapp/photos/burr.py. */
import { solved } from './linear.js';

/**
 * How far outward of the profile's middle the rim lies, in steps of the profile. A ring counts only where it fits
 * clearly better than a step alone.
 * @param {number[]} profile brightness across the rim, outward, its middle at the steepest place
 * @param {Record<string, number>} settings
 */
export function ringShift(profile, settings) {
  const plain = bestFit(profile, [0], settings);
  const widths = Array.from({ length: settings.ring_widths }, (_, k) => (k + 1) * settings.ring_width);
  const ring = bestFit(profile, widths, settings);
  return ring.rest <= settings.ring_gain * plain.rest ? ring.shift : plain.shift;
}

/** The shift that leaves the least squares, and these. */
function bestFit(profile, widths, settings) {
  let best = { shift: 0, rest: Infinity };
  const middle = (profile.length - 1) / 2;
  for (const width of widths) {
    for (let j = 0; j < settings.blurs; j += 1) {
      const blur = settings.blur_least + j * settings.blur_step;
      for (let k = 0; k < settings.shifts; k += 1) {
        const shift = settings.shift_least + k * settings.shift_step;
        const rest = restOf(profile, middle + shift, blur, width);
        if (rest < best.rest) best = { shift, rest };
      }
    }
  }
  return best;
}

/** The sum of squares that inside, outside and ring, at their best levels, leave of a profile. */
function restOf(profile, edge, blur, width) {
  const rows = profile.map((_, i) => {
    const risen = stepUp((i - edge) / blur);
    return width > 0 ? [1, risen, risen - stepUp((i - edge - width) / blur)] : [1, risen];
  });
  const places = rows[0].map((_, j) => j);
  const normal = places.map((j) => places.map((k) => rows.reduce((total, row) => total + row[j] * row[k], 0)));
  const levels = solved(normal, places.map((j) => rows.reduce((total, row, i) => total + row[j] * profile[i], 0)));
  if (!levels) return Infinity;
  return rows.reduce((total, row, i) => total + (profile[i] - row.reduce((sum, part, j) => sum + part * levels[j], 0)) ** 2, 0);
}

/** A blurred step: the logistic curve that lies nearest to that of the normal law. */
const stepUp = (x) => 1 / (1 + Math.exp(-1.702 * x));
