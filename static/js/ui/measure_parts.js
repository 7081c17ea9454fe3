/** What is drawn over a photo that is measured in: handles, outlines, rims, holes that were kept. */
import { _ } from '../language.js';
import { svg } from './element.js';

/** Sizes of handles on the screen, in pixels: what a finger hits, and what is seen. */
const [HIT, RING, GAP] = [24, 13, 4];

/** A handle that leaves the very spot open to the eye. @param {import('./measure_stage.js').Handle} handle @param {number} pixel */
export function handlePart({ x, y, kind, label, placed }, pixel) {
  const ring = { cx: x, cy: y, r: (kind === 'point' ? 9 : RING) * pixel };
  const hairs = arms(x, y, pixel, kind === 'cross' ? 22 : 18);
  return svg('g', {
    class: `handle ${kind}${kind === 'cross' && !placed ? ' unplaced' : ''}`, role: 'slider', tabindex: 0, 'aria-label': label,
    'aria-valuenow': Math.round(x), 'aria-valuetext': _('{x} from the left, {y} from the top', { x: Math.round(x), y: Math.round(y) }),
  },
  svg('circle', { class: 'handle-hit', cx: x, cy: y, r: HIT * pixel }),
  kind !== 'cross' && svg('circle', { class: 'under', ...ring }), kind !== 'cross' && svg('circle', { class: 'over', ...ring }),
  svg('path', { class: 'under', d: hairs }), svg('path', { class: 'over', d: hairs }));
}

const arms = (x, y, pixel, length) => [[1, 0], [-1, 0], [0, 1], [0, -1]]
  .map(([dx, dy]) => `M${x + dx * GAP * pixel} ${y + dy * GAP * pixel}L${x + dx * length * pixel} ${y + dy * length * pixel}`).join('');

/** A closed line, light on dark so that it shows on any photo. @param {[number, number][]} points @param {string} name */
export const closedLine = (points, name) => twice('path', { d: `M${points.map((point) => point.join(' ')).join('L')}Z` }, name);

/** The rim of a coin. @param {import('../kernel/photos/ellipse.js').Ellipse} coin @param {string} name */
export const coinLine = ({ x, y, a, b, angle }, name) => twice('ellipse', { cx: x, cy: y, rx: a, ry: b, transform: `rotate(${angle * 180 / Math.PI} ${x} ${y})` }, name);

function twice(tag, shape, name) {
  return svg('g', { class: `line ${name}` }, svg(tag, { class: 'under', ...shape }), svg(tag, { class: 'over', ...shape }));
}

/** Points of a rim that was found. @param {[number, number][]} points @param {number} pixel */
export const rimDots = (points, pixel) => svg('g', { class: 'rim-dots' }, ...points.map(([cx, cy]) => svg('circle', { cx, cy, r: 1.6 * pixel })));

/** A hole that was kept, with its number in the list. @param {[number, number, number]} spot @param {number} number @param {number} pixel */
export function keptPart([x, y, radius], number, pixel) {
  const across = radius + 4 * pixel;
  return svg('g', { class: 'kept-hole' }, twice('circle', { cx: x, cy: y, r: across }, 'kept'),
    svg('text', { x, y: y - across - 5 * pixel, 'font-size': 18 * pixel }, String(number)));
}
