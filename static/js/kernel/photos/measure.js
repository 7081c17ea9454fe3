/** The diameter of a hole in a photo, from a thing of known size. Twin of webapp/photos/measure.py. */
import { circleThrough, fittedCircle, misses, radiusVariance } from './circle.js';
import { applied, distanceMm, likelyFocal, pxPerMm, tiltOf } from './plane.js';
import { middleMm, planesOfReference, shorterSidePx } from './reference.js';
import { findRim } from './rim.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {import('./grey.js').Grey} Grey
 * @typedef {import('./reference.js').Reference} Reference
 * @typedef {Record<string, number>} Settings
 * @typedef {Object} Measured
 * @property {number} diameter_mm
 * @property {number} uncertainty_mm half-width of the 95 % interval
 * @property {number} tilt_deg
 * @property {Point[]} rim found or given, in pixels
 * @property {Point[]} outline the circle as it shows in the photo
 * @property {string[]} notes ids of sentences of the table
 * @typedef {{why: string}} Unmeasured id of a sentence of the table
 */

/** Three points lie on a circle in every plane but for the rounding of figures, and that decides nothing. */
const ALIKE = 1e-6;

/** The hole whose rim was given by three points or more. @param {Grey} photo @param {Reference} reference @param {Point[]} rim @param {Settings} settings @returns {Measured | Unmeasured} */
export function measureRim(photo, reference, rim, settings) {
  if (rim.length < 3) return { why: 'rim-too-few' };
  const focal = focalOf(reference, photo, settings);
  const planes = planesOfReference(reference, reference.outline, reference.coin, photo, focal);
  if (planes.length === 0) return { why: 'no-plane' };
  const seen = planes.map((plane, way) => ({ way, plane, circle: circleOf(plane, rim) })).filter(({ circle }) => circle)
    .map(({ way, plane, circle }) => ({ way, plane, rim: given(plane, circle, rim), found: false }));
  return seen.length > 0 ? bestOf(photo, reference, seen, focal, settings) : { why: 'rim-askew' };
}

/** The hole that was tapped; its rim is looked for. @param {Grey} photo @param {Reference} reference @param {Point} tap @param {Settings} settings @returns {Measured | Unmeasured} */
export function measureNear(photo, reference, tap, settings) {
  const focal = focalOf(reference, photo, settings);
  const planes = planesOfReference(reference, reference.outline, reference.coin, photo, focal);
  if (planes.length === 0) return { why: 'no-plane' };
  const seen = planes.map((plane, way) => ({ way, plane, rim: findRim(photo, plane, tap, focal, settings), found: true })).filter(({ rim }) => rim);
  return seen.length > 0 ? bestOf(photo, reference, seen, focal, settings) : { why: 'no-rim' };
}

/** The focal length in pixels: what the corners say, held near the usual one; of a coin the usual one. */
function focalOf(reference, photo, settings) {
  const { usual_focal: usual, focal_spread: spread } = settings;
  const longer = Math.max(photo.width, photo.height);
  const planes = planesOfReference(reference, reference.outline, reference.coin, photo, usual * longer);
  if (reference.coin || planes.length === 0) return usual * longer;
  const noise = settings.axes_noise + 2 * reference.noise_px / shorterSidePx(reference);
  return likelyFocal(planes[0], photo.width, photo.height, usual, spread, noise);
}

function circleOf(plane, rim) {
  const points = rim.map((point) => applied(plane.to_mm, point));
  return points.length === 3 ? circleThrough(points[0], points[1], points[2]) : fittedCircle(points, points.map(() => 1));
}

function given(plane, circle, rim) {
  return { circle, points: rim, share: 1, scatter_px: scatterOf(plane, circle, rim), score: 1, doubt_mm: 0 };
}

/** The spread of points about a circle, in pixels. */
function scatterOf(plane, circle, points) {
  const squares = misses(circle, points.map((point) => applied(plane.to_mm, point))).reduce((total, miss) => total + miss * miss, 0);
  return Math.sqrt(squares / Math.max(1, points.length - 3)) * pxPerMm(plane, [circle.x, circle.y]);
}

/** The plane in which the hole is rounder; a coin gives two, and how alike they are adds to the doubt. */
function bestOf(photo, reference, found, focal, settings) {
  const seen = found.map((one) => (reference.coin ? rounder(photo, reference, one, focal, settings) : one));
  const [best, other] = seen.length === 2 && better(seen[1], seen[0]) ? [seen[1], seen[0]] : seen;
  let variance = varianceOf(photo, reference, best, focal, settings);
  if (other) {
    const apart = (other.rim.circle.radius - best.rim.circle.radius) * 2;
    const alike = (best.rim.scatter_px + 0.05) / (other.rim.scatter_px + 0.05);
    variance += (apart * Math.min(1, alike) ** 2) ** 2 / 4;
  }
  const tilt = tiltOf(best.plane, photo.width, photo.height, focal);
  return {
    diameter_mm: 2 * best.rim.circle.radius * farther(photo, reference, best, focal, settings),
    uncertainty_mm: 1.96 * Math.sqrt(variance),
    tilt_deg: tilt,
    rim: best.rim.points,
    outline: outlineOf(best.plane, best.rim.circle),
    notes: notesOf(photo, reference, best, tilt, settings),
  };
}

/** By how much the panel is farther from the camera than the reference's outline. */
function farther(photo, reference, { plane, rim: { circle } }, focal, settings) {
  const away = distanceMm(plane, [circle.x, circle.y], photo.width, photo.height, focal);
  return 1 + settings.height_usual * reference.thick_mm / away;
}

/**
 * The plane near the one seen, leaning the same way, in which the hole is roundest. The short axis of a coin tells its
 * tilt badly while it lies nearly flat to the camera, and the hole is known to be round.
 */
function rounder(photo, reference, seen, focal, settings) {
  const { coin } = reference;
  const steps = settings.coin_steps;
  let best = seen;
  let least = Infinity;
  for (let step = -steps; step <= steps; step += 1) {
    const b = coin.b + 3 * settings.coin_axis_px * step / steps;
    if (b > coin.a) continue;
    const plane = planesOfReference(reference, reference.outline, { ...coin, b }, photo, focal)[seen.way];
    const circle = plane && circleOf(plane, seen.rim.points);
    if (circle) {
      const rim = { ...seen.rim, circle, scatter_px: scatterOf(plane, circle, seen.rim.points) };
      const cost = seen.rim.points.length * (rim.scatter_px / settings.found_px) ** 2 / settings.neighbours_alike
        + ((b - coin.b) / settings.coin_axis_px) ** 2;
      if (cost < least - ALIKE) [best, least] = [{ ...seen, plane, rim }, cost];
    }
  }
  return best;
}

/** Whether a rim is seen in clearly more directions, or in about as many and rounder. */
function better(one, other) {
  const more = one.rim.share - other.rim.share;
  return Math.abs(more) >= 0.1 ? more > 0 : one.rim.scatter_px < other.rim.scatter_px - ALIKE;
}

/** The circle as it shows in the photo, as 48 points in pixels. @returns {Point[]} */
function outlineOf(plane, circle) {
  return Array.from({ length: 48 }, (_, k) => {
    const turn = 2 * Math.PI * k / 48;
    return applied(plane.to_px, [circle.x + circle.radius * Math.cos(turn), circle.y + circle.radius * Math.sin(turn)]);
  });
}

/** How far a circle is from the reference, in units of the reference. */
function farOff(reference, circle) {
  const middle = middleMm(reference);
  return Math.hypot(circle.x - middle[0], circle.y - middle[1]) / Math.max(...reference.size_mm);
}

/** The variance of the diameter in mm². */
function varianceOf(photo, reference, seen, focal, settings) {
  const { circle } = seen.rim;
  const scale = pxPerMm(seen.plane, [circle.x, circle.y]);
  const away = distanceMm(seen.plane, [circle.x, circle.y], photo.width, photo.height, focal);
  const shares = [
    reference.share,
    settings.height_share * reference.thick_mm / away,
    settings.lens_share * (1 + farOff(reference, circle)),
  ];
  const variance = shares.reduce((total, share) => total + (2 * circle.radius * share) ** 2, 0);
  return variance + outlineVariance(photo, reference, seen, focal, settings) + rimVariance(seen, scale, settings);
}

/** From the scatter of the rim's points, neighbours being alike, and from where an edge is taken to lie. */
function rimVariance({ plane, rim, found }, scale, settings) {
  const points = rim.points.map((point) => applied(plane.to_mm, point));
  const free = Math.max(0, points.length - 3);
  const [usual, begun] = found ? [settings.found_px, 8] : [settings.tap_px, 4];
  const noise = Math.sqrt((begun * usual ** 2 + free * rim.scatter_px ** 2) / (begun + free)) / scale;
  const alike = found ? settings.neighbours_alike : 1;
  const spread = radiusVariance(rim.circle, points, points.map(() => 1));
  const edge = settings.edge_px / scale;
  return 4 * (noise * noise * spread * alike + edge * edge) + rim.doubt_mm ** 2;
}

/** From the noise of the reference's outline, each coordinate moved by itself. */
function outlineVariance(photo, reference, seen, focal, settings) {
  const { noise_px: noise, coin, outline } = reference;
  const moved = (corners, ellipse, length) => movedBy(photo, reference, seen, corners, ellipse, length);
  let total = 0;
  if (!coin) {
    for (let i = 0; i < 4; i += 1) {
      for (const [dx, dy] of [[noise, 0], [0, noise]]) {
        total += moved(outline.map(([x, y], k) => (k === i ? [x + dx, y + dy] : [x, y])), null, focal);
      }
    }
    return total;
  }
  for (const grown of [{ ...coin, a: coin.a + noise }, { ...coin, b: coin.b + noise }]) total += moved(outline, grown, focal);
  return total + moved(outline, coin, focal * Math.exp(settings.focal_spread));
}

/** The square of what the diameter changes with another outline or focal length. */
function movedBy(photo, reference, seen, outline, coin, focal) {
  let least = Infinity;
  for (const plane of planesOfReference(reference, outline, coin, photo, focal)) {
    const circle = circleOf(plane, seen.rim.points);
    if (circle) least = Math.min(least, Math.abs(2 * (circle.radius - seen.rim.circle.radius)));
  }
  return least < Infinity ? least * least : (2 * seen.rim.circle.radius) ** 2;
}

/** What a person should know before trusting the figure. */
function notesOf(photo, reference, { plane, rim, found }, tilt, settings) {
  const { circle } = rim;
  const scale = pxPerMm(plane, [circle.x, circle.y]);
  const [x, y] = applied(plane.to_px, [circle.x, circle.y]);
  const off = Math.hypot(x - photo.width / 2, y - photo.height / 2) / Math.hypot(photo.width / 2, photo.height / 2);
  const holds = {
    'too-oblique': tilt > settings.oblique_deg,
    'small-hole': circle.radius * scale < settings.small_radius_px,
    'small-reference': shorterSidePx(reference) < settings.small_side_px,
    'far-off': farOff(reference, circle) > settings.far_off,
    'lens-edge': off > settings.lens_edge,
    'outline-not-found': !reference.as_given && reference.sides_found < 4,
    'rim-in-part': found && rim.share < settings.whole_share,
  };
  return Object.keys(holds).filter((note) => holds[note]);
}
