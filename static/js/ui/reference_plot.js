/** The reference price drawn on a scale of ratios: the tables' word, each sale as a dot, what follows from all. */
import { _, _n } from '../language.js';
import { svg } from './element.js';

const WIDTH = 320;
const EDGE = 12;
/** Areas of dots, in square units, for shares of 0 and of 1. */
const SMALLEST = 12;
const LARGEST = 1400;

/** Beyond so many, dots are stacked in columns instead of being fitted in singly. */
const MANY = 120;
const COLUMN = 4;
const HIGHEST = 70;

/**
 * @param {{price: number, share: number, huber: number}[]} used the sales that count
 * @param {{prior: number[], now: number[]}} ends P10, P50, P90
 * @param {{say: (value: number) => string}} money
 * @param {number} farOut weight below which a sale is named far out
 */
export function referencePlot(used, ends, money, farOut) {
  const prices = [...ends.prior, ...ends.now, ...used.map((row) => row.price)].sort((a, b) => a - b);
  const [low, high] = [Math.log(prices[0] / 1.1), Math.log(prices.at(-1) * 1.1)];
  const at = (price) => EDGE + ((WIDTH - 2 * EDGE) * (Math.log(price) - low)) / (high - low);
  const arranged = used.length > MANY ? stacked : swarm;
  const dots = arranged(used.map((row) => ({ ...row, x: at(row.price), r: Math.sqrt((SMALLEST + (LARGEST - SMALLEST) * row.share) / Math.PI) })));
  const reach = dots.reduce((most, dot) => Math.max(most, Math.abs(dot.y) + dot.r), 14);
  const middle = 58 + reach;
  const bottom = used.length > 0 ? middle + reach + 30 : 66;
  const height = bottom + 34;
  const said = { before: money.say(ends.prior[1]), now: money.say(ends.now[1]) };
  const label = _n('The tables\' word {before}, {count} sales, now {now}. The table below has each.',
    'The tables\' word {before}, {count} sales, now {now}. The table below has each.', used.length, said);
  return svg('svg', { class: 'reference-plot', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': label },
    ...ticks(Math.exp(low), Math.exp(high)).flatMap((price) => [
      svg('line', { class: 'plot-grid', x1: at(price), x2: at(price), y1: 8, y2: height - 18 }),
      svg('text', { class: 'plot-text', x: at(price), y: height - 4, 'text-anchor': 'middle' }, money.say(price)),
    ]),
    ...band(_('The tables\' word'), ends.prior, 24, at, 'plot-prior'),
    used.length > 0 && svg('text', { class: 'plot-text', x: EDGE, y: 52 }, _('Sales, like for like')),
    ...dots.map((dot) => svg('circle', { class: dot.huber < farOut ? 'plot-dot far' : 'plot-dot', cx: dot.x, cy: middle + dot.y, r: dot.r })),
    ...band(used.length > 0 ? _('Now') : _('Now, the same'), ends.now, bottom, at, 'plot-now'));
}

/** A bar from P10 to P90 with its middle, under its name. */
function band(name, [low, mid, high], y, at, kind) {
  return [
    svg('text', { class: 'plot-text', x: EDGE, y: y - 8 }, name),
    svg('rect', { class: kind, x: at(low), y, width: at(high) - at(low), height: 8 }),
    svg('line', { class: 'plot-mid', x1: at(mid), x2: at(mid), y1: y - 4, y2: y + 12 }),
  ];
}

/** Dots beside one another instead of over one another: each goes as near to the line as the ones before it let it. */
function swarm(dots) {
  /** @type {any[]} */
  const placed = [];
  for (const dot of dots.toSorted((a, b) => b.r - a.r)) {
    const near = placed.filter((other) => Math.abs(other.x - dot.x) < other.r + dot.r);
    const heights = [0, ...near.flatMap((other) => {
      const away = Math.sqrt((other.r + dot.r + 1) ** 2 - (other.x - dot.x) ** 2);
      return [other.y - away, other.y + away];
    })].sort((a, b) => Math.abs(a) - Math.abs(b));
    const free = (y) => near.every((other) => Math.hypot(other.x - dot.x, other.y - y) >= other.r + dot.r + 0.5);
    placed.push({ ...dot, y: heights.find(free) ?? 0 });
  }
  return placed;
}

/** Many dots in columns around the line, drawn together where a column would grow too high. */
function stacked(dots) {
  const counts = new Map();
  const placed = dots.map((dot) => {
    const column = Math.round(dot.x / COLUMN);
    const count = counts.get(column) ?? 0;
    counts.set(column, count + 1);
    return { ...dot, x: column * COLUMN, y: (count % 2 ? 1 : -1) * Math.ceil(count / 2) * COLUMN };
  });
  const scale = Math.min(1, HIGHEST / Math.max(...[...counts.values()].map((count) => (count / 2) * COLUMN)));
  return placed.map((dot) => ({ ...dot, y: dot.y * scale }));
}

/** Round prices, 1, 2 and 5 times a power of ten; only the powers when there would be too many. */
function ticks(low, high) {
  const all = [];
  for (let n = Math.floor(Math.log10(low)); n <= Math.ceil(Math.log10(high)); n += 1) {
    for (const m of [1, 2, 5]) if (m * 10 ** n >= low && m * 10 ** n <= high) all.push(m * 10 ** n);
  }
  const tens = all.filter((price) => Number.isInteger(Math.round(Math.log10(price) * 1e9) / 1e9));
  return all.length > 6 && tens.length > 1 ? tens : all;
}
