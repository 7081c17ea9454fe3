/** Who gives what to whom, drawn: donors on the left, receivers on the right. The same stands below as text. */
import { _, _n } from '../language.js';
import { svg } from './element.js';
import { grouped } from './lot_view.js';

/** Width of the drawing, of a box, and height of a row, in its own units. */
const [WIDTH, BOX, ROW] = [340, 140, 52];
/** Letters of a name that fit into a box. */
const LONGEST = 18;

/**
 * @param {import('./lot_view.js').LotView} view
 * @returns {SVGElement | null} null where nothing changes hands
 */
export function lotDrawing(view) {
  const { moves } = view.plan;
  if (moves.length === 0) return null;
  const receivers = [...grouped(moves, ({ to }) => keyOf(to)).values()].sort((a, b) => rank(a[0].to) - rank(b[0].to));
  const place = new Map(receivers.map(([{ to }], index) => [keyOf(to), index]));
  const middle = (rows) => rows.reduce((sum, { to }) => sum + place.get(keyOf(to)), 0) / rows.length;
  // A donor stands beside those it gives to, so that few lines cross.
  const donors = [...grouped(moves, ({ from }) => keyOf(from)).values()].sort((a, b) => middle(a) - middle(b) || rank(a[0].from) - rank(b[0].from));
  const height = ROW * Math.max(donors.length, receivers.length);
  const at = (list, index) => height * (index + 0.5) / list.length;
  const lines = donors.flatMap((rows, index) => [...grouped(rows, ({ to }) => keyOf(to)).values()].map((own) => line(own, at(donors, index), at(receivers, place.get(keyOf(own[0].to))))));
  const who = { donors: _n('{count} donor', '{count} donors', donors.length), receivers: _n('{count} receiver', '{count} receivers', receivers.length) };
  const label = _('{donors}, {receivers}. The list below says which part goes where.', who);
  return svg('svg', { class: 'lot-drawing', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': label }, ...lines,
    ...donors.map((rows, index) => box(view, rows[0].from, 0, at(donors, index), _('gives {count}', { count: rows.length }))),
    ...receivers.map((rows, index) => box(view, rows[0].to, WIDTH - BOX, at(receivers, index), _('takes {count}', { count: rows.length }))));
}

const capital = (text) => text[0].toUpperCase() + text.slice(1);

/** All shelf rows are one shelf. */
export const keyOf = (who) => (typeof who === 'string' ? 'shelf' : who);
export const rank = (who) => (typeof who === 'string' ? Infinity : who);

/** Thicker the more parts; broken where none of them was looked at. */
function line(rows, from, to) {
  const [left, right] = [BOX, WIDTH - BOX];
  const bend = (right - left) / 2;
  return svg('path', { class: `lot-line-drawn ${rows.every(({ unchecked }) => unchecked) ? 'unchecked' : ''}`, d: `M${left} ${from}C${left + bend} ${from} ${right - bend} ${to} ${right} ${to}`, 'stroke-width': 1.5 + Math.min(6, rows.length - 1) });
}

/** Its number and how many parts go through it, and what it is. */
function box(view, who, x, y, said) {
  const shelf = typeof who === 'string';
  const owned = !shelf && view.reckoning.members[who].owned;
  const title = shelf ? _('Spares and wants') : view.title(who);
  const name = shelf ? _('Shelf') : owned ? _('Yours') : capital(view.name(who));
  return svg('g', {}, svg('rect', { class: 'lot-box', x: x + 1, y: y - 21, width: BOX - 2, height: 42, rx: 8 }),
    svg('text', { class: 'lot-box-said', x: x + 8, y: y - 4 }, svg('tspan', { class: 'lot-box-name' }, name), ` ${said}`),
    svg('text', { class: 'lot-box-said', x: x + 8, y: y + 13 }, title.length > LONGEST ? `${title.slice(0, LONGEST - 1)}…` : title));
}
