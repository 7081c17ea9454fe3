/** A rim fitted to the edges round about it, with the wall of the hole reckoned in. Twin of webapp/photos/wall.py. */
import { ringShift } from './burr.js';
import { fittedCircle, misses } from './circle.js';
import { edgesOf, rises, samples } from './edges.js';
import { applied, pxPerMm } from './plane.js';

/**
 * @typedef {import('./grey.js').Point} Point
 * @typedef {import('./circle.js').Circle} Circle
 * @typedef {Record<string, number>} Settings
 * @typedef {{eye: Point, height: number}} View the point under the camera, and the camera's height over it; mm
 * @typedef {{circle: Circle, points: Point[], share: number, scatter_px: number, score: number, doubt_mm: number}} Rim
 * @typedef {{edges: [Point, number][], far: boolean}} Way one direction: its edges in mm, whether the wall may show there
 * @typedef {{circle: Circle, points: Point[], weights: number[], score: number}} Fit
 */

/**
 * The rim near a circle, fitted in so many rounds of looking; null when too few directions show it.
 * @param {import('./grey.js').Grey} photo
 * @param {import('./plane.js').Plane} plane
 * @param {Circle} circle
 * @param {View} view
 * @param {number} usualRise how steep the edges round the tap mostly are
 * @param {number} rounds
 * @param {Settings} settings
 * @returns {Rim | null}
 */
export function settled(photo, plane, circle, view, usualRise, rounds, settings) {
  const scale = pxPerMm(plane, [circle.x, circle.y]);
  const close = settings.agree_px / scale;
  let fit = null;
  let flat = null;
  let ways = [];
  for (let round = 0; round < rounds; round += 1) {
    ways = waysOf(photo, plane, circle, view, settings);
    const usual = { steep: usualRise, rising: mostlyRising(ways) };
    flat = fitted(ways, circle, view, 0, usual, close);
    fit = thickest(ways, circle, view, flat, usual, close, settings);
    if (!fit) return null;
    circle = fit.circle;
  }
  const other = flat && flat !== fit;
  const doubt = other ? 2 * Math.abs(flat.circle.radius - circle.radius) * Math.min(1, flat.score / fit.score) ** 8 : 0;
  if (rounds > 1) {
    fit = movedOut(fit, shiftOf(fit, settings) / 2 / scale);
    circle = fit.circle;
  }
  const off = misses(circle, fit.points);
  const good = off.map((_, i) => i).filter((i) => Math.abs(off[i]) < close);
  const share = good.length / ways.length;
  if (share < settings.least_share / 2) return null;
  const scatter = Math.sqrt(good.reduce((total, i) => total + off[i] ** 2, 0) / good.length) * scale;
  const points = good.map((i) => applied(plane.to_px, fit.points[i]));
  return { circle, points, share, scatter_px: scatter, score: fit.score, doubt_mm: doubt };
}

/** The edges round about, from as far inside as the back rim can show to a little outside. @returns {Way[]} */
function waysOf(photo, plane, circle, view, settings) {
  const scale = pxPerMm(plane, [circle.x, circle.y]);
  const x = view.eye[0] - circle.x;
  const y = view.eye[1] - circle.y;
  const aside = Math.hypot(x, y);
  const thick = settings.thick_mm;
  const deep = aside > settings.wall_slope * view.height ? thick / (view.height + thick) * aside : 0;
  const outward = settings.window_px;
  const ways = [];
  for (let k = 0; k < settings.directions; k += 1) {
    const turn = 2 * Math.PI * k / settings.directions;
    const slant = (x * Math.cos(turn) + y * Math.sin(turn)) / Math.max(1e-9, aside);
    const far = deep > 0 && slant < settings.wall_cosine;
    const inward = outward + (far ? Math.min(0.7 * circle.radius, deep) * scale : 0);
    ways.push({ ...across(photo, plane, circle, turn, inward, outward, settings), far });
  }
  return ways;
}

/** The edges across the rim in one direction, in mm, from the mean of a few lines close by. @returns {[Point, number][]} */
function across(photo, plane, circle, turn, inward, outward, settings) {
  const fine = settings.fine_rays;
  const margin = Math.ceil(3 * settings.rim_sigma);
  const before = Math.ceil(2 * inward) + margin;
  const total = new Array(before + 1 + Math.ceil(2 * outward) + margin).fill(0);
  const shares = settings.directions * fine;
  let start = [0, 0];
  let step = [0, 0];
  for (let j = 0; j < fine; j += 1) {
    const angle = turn + (j - (fine - 1) / 2) * 2 * Math.PI / shares;
    const [on, along] = outwardOf(plane, circle, angle);
    const begin = [on[0] - before * along[0], on[1] - before * along[1]];
    samples(photo, begin, along, total.length).forEach((value, i) => {
      total[i] += value / fine;
    });
    if (j === Math.floor(fine / 2)) [start, step] = [begin, along];
  }
  const edges = edgesOf(rises(total, settings.rim_sigma), settings.least_rise)
    .map((edge) => ({ point: applied(plane.to_mm, [start[0] + step[0] * edge.at, start[1] + step[1] * edge.at]), rise: edge.rise, at: edge.at }));
  return { edges, profile: total };
}

/** A point of the rim in pixels, and the step of half a pixel that leads straight out of the hole there. @returns {[Point, Point]} */
function outwardOf(plane, circle, angle) {
  const cosine = Math.cos(angle);
  const sine = Math.sin(angle);
  const on = applied(plane.to_px, [circle.x + circle.radius * cosine, circle.y + circle.radius * sine]);
  const out = 1.01 * circle.radius;
  const beyond = applied(plane.to_px, [circle.x + out * cosine, circle.y + out * sine]);
  const length = 2 * Math.hypot(beyond[0] - on[0], beyond[1] - on[1]);
  return [on, [(beyond[0] - on[0]) / length, (beyond[1] - on[1]) / length]];
}

/** Whether it mostly grows brighter outward. @param {Way[]} ways */
function mostlyRising(ways) {
  return ways.filter((way) => way.edges.length > 0)
    .map((way) => way.edges.map(({ rise }) => rise).reduce((most, rise) => (Math.abs(rise) > Math.abs(most) ? rise : most)))
    .reduce((total, rise) => total + rise, 0) >= 0;
}

/** The best fit over the thicknesses; one that says that the panel is thick must fit clearly better. @returns {Fit | null} */
function thickest(ways, circle, view, flat, usual, close, settings) {
  let best = flat;
  if (!ways.some((way) => way.far)) return best;
  for (let step = 1; step <= settings.thick_steps; step += 1) {
    const fit = fitted(ways, circle, view, settings.thick_mm * step / settings.thick_steps, usual, close);
    if (fit && (!best || fit.score * settings.thick_price > best.score)) best = fit;
  }
  return best;
}

/** The circle through front edges, and back edges brought forward, for one thickness. @returns {Fit | null} */
function fitted(ways, circle, view, thick, usual, close) {
  let fit = null;
  for (let round = 0; round < 4; round += 1) {
    const reach = close * (round < 2 ? 2 : 1);
    const points = [];
    const weights = [];
    const fronts = [];
    for (const way of ways) {
      const chosen = chosenOf(way, circle, view, thick, usual, reach);
      if (chosen) {
        points.push(chosen[0].point);
        weights.push(chosen[1]);
        fronts.push(chosen[0]);
      }
    }
    if (points.length < 6) return null;
    const next = fittedCircle(points, weights, 4);
    if (!next) return null;
    circle = next;
    fit = { circle, points, weights, fronts, score: weights.reduce((total, weight) => total + weight, 0) / ways.length };
  }
  return fit;
}

/** The edge of a direction that suits the circle best, brought to the front, and its weight. @returns {[Point, number] | null} */
function chosenOf(way, circle, view, thick, { steep, rising }, reach) {
  let best = null;
  let most = 0.02;
  const grow = (view.height + thick) / view.height;
  for (const edge of way.edges) {
    const { point, rise } = edge;
    const weight = ((rise > 0) === rising ? 1 : 0.6) * Math.abs(rise) / (Math.abs(rise) + steep);
    const front = near(point, circle, reach) * weight;
    if (front > most) [best, most] = [{ point, way, edge }, front];
    if (way.far && thick > 0) {
      /** @type {Point} */
      const back = [view.eye[0] + (point[0] - view.eye[0]) * grow, view.eye[1] + (point[1] - view.eye[1]) * grow];
      const behind = near(back, circle, reach) * weight;
      if (behind > most) [best, most] = [{ point: back, way, edge: null }, behind];
    }
  }
  return best && [best, most];
}

/** How near to the circle a point lies: 1 on it, falling off as a bell of width `reach`. */
function near(point, circle, reach) {
  const miss = (Math.hypot(point[0] - circle.x, point[1] - circle.y) - circle.radius) / reach;
  return Math.exp(-0.5 * miss * miss);
}

/** How far outward of the steepest places the rim lies, in steps of half a pixel, by the mean profile of the front edges. */
function shiftOf(fit, settings) {
  const reach = settings.profile_reach;
  const total = new Array(2 * reach + 1).fill(0);
  let count = 0;
  for (const { way, edge } of fit.fronts) {
    if (!edge || way.far) continue;
    const first = edge.at - reach;
    if (first < 0 || edge.at + reach > way.profile.length - 1) continue;
    for (let i = 0; i < total.length; i += 1) {
      const at = Math.floor(first + i);
      const part = first + i - at;
      total[i] += way.profile[at] * (1 - part) + (part > 0 ? way.profile[at + 1] * part : 0);
    }
    count += 1;
  }
  if (count < settings.least_share * fit.fronts.length / 2) return 0;
  return ringShift(total.map((value) => value / count), settings);
}

/** The fit with its front edges moved outward. */
function movedOut(fit, by) {
  const { circle } = fit;
  const points = fit.points.map(([x, y], i) => {
    if (!fit.fronts[i].edge) return [x, y];
    const away = Math.hypot(x - circle.x, y - circle.y);
    return [x + (x - circle.x) / away * by, y + (y - circle.y) / away * by];
  });
  return { ...fit, points, circle: fittedCircle(points, fit.weights, 6) ?? circle };
}
