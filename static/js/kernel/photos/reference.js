/** The thing of known size in the photo, and the planes that it gives. Twin of webapp/photos/reference.py. */
import { planesOfCoin, refinedCoin } from './coin.js';
import { fittedEllipse } from './ellipse.js';
import { planeOfCorners } from './plane.js';
import { refinedCorners } from './sides.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {import('./grey.js').Grey} Grey
 * @typedef {Record<string, number>} Settings
 * @typedef {Object} Reference
 * @property {'card' | 'label' | 'coin'} kind
 * @property {Point[]} outline four corners in pixels, or points of a coin's rim
 * @property {import('./ellipse.js').Ellipse | null} coin
 * @property {[number, number]} size_mm
 * @property {number} sides_found how many of four sides (for a coin, 4 or 0) the photo showed
 * @property {boolean} as_given
 * @property {number} noise_px standard deviation of the outline
 * @property {number} share that of its size as a part of it
 * @property {number} thick_mm how far its face stands before the panel
 */

/**
 * A card or a printed label by its corners: refined in the photo, or as given.
 * @param {Grey} photo
 * @param {'card' | 'label'} kind
 * @param {Point[]} corners
 * @param {[number, number]} sizeMm
 * @param {number} thickMm
 * @param {boolean} asGiven
 * @param {Settings} settings
 * @returns {Reference}
 */
export function fourCornered(photo, kind, corners, sizeMm, thickMm, asGiven, settings) {
  const reference = {
    kind, outline: corners, coin: null, size_mm: sizeMm, sides_found: 0, as_given: asGiven,
    noise_px: settings.given_px, share: settings[`${kind}_share`], thick_mm: thickMm,
  };
  if (asGiven) return reference;
  const { points, sides_found: found, scatter_px: scatter } = refinedCorners(photo, corners, kind === 'label', settings);
  return { ...reference, outline: points, sides_found: found, noise_px: found === 4 ? fineNoise(scatter, settings) : settings.given_px };
}

/**
 * A coin by five points of its rim or more; null when they lie on no ellipse.
 * @param {Grey} photo
 * @param {Point[]} rim
 * @param {number} diameterMm
 * @param {number} thickMm
 * @param {boolean} asGiven
 * @param {Settings} settings
 * @returns {Reference | null}
 */
export function roundCoin(photo, rim, diameterMm, thickMm, asGiven, settings) {
  const ellipse = fittedEllipse(rim, rim.map(() => 1));
  if (!ellipse) return null;
  const refined = asGiven ? { ellipse, found: false, scatter_px: 0 } : refinedCoin(photo, ellipse, settings);
  return {
    kind: 'coin', outline: rim, coin: refined.ellipse, size_mm: [diameterMm, diameterMm], sides_found: refined.found ? 4 : 0,
    as_given: asGiven, noise_px: refined.found ? fineNoise(refined.scatter_px, settings) : settings.given_px,
    share: settings.coin_share, thick_mm: thickMm,
  };
}

const fineNoise = (scatter, settings) => Math.hypot(settings.refined_px, settings.scatter_share * scatter);

/** The corners of a card or label in its own plane, the first at (0, 0). @param {Reference} reference @returns {Point[]} */
export function cornersMm({ size_mm: [width, height] }) {
  return [[0, 0], [width, 0], [width, height], [0, height]];
}

/**
 * The planes in which the outline has the reference's size: one of a card or label, two of a coin.
 * @param {Reference} reference
 * @param {Point[]} outline
 * @param {import('./ellipse.js').Ellipse | null} coin
 * @param {Grey} photo
 * @param {number} focal
 */
export function planesOfReference(reference, outline, coin, photo, focal) {
  if (coin) return planesOfCoin(coin, reference.size_mm[0], photo.width, photo.height, focal);
  const plane = planeOfCorners(cornersMm(reference), outline);
  return plane ? [plane] : [];
}

/** The middle of the reference in its own plane. @param {Reference} reference @returns {Point} */
export function middleMm(reference) {
  return reference.coin ? [0, 0] : [reference.size_mm[0] / 2, reference.size_mm[1] / 2];
}

/** The shortest side, or the short axis of a coin, in the photo. @param {Reference} reference */
export function shorterSidePx({ coin, outline }) {
  if (coin) return 2 * coin.b;
  return Math.min(...outline.map(([x, y], i) => Math.hypot(x - outline[(i + 1) % 4][0], y - outline[(i + 1) % 4][1])));
}
