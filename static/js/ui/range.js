/** The range drawn against the asking price. */
import { svg } from './element.js';

/** Where an amount lies on a scale that starts at 0, in percent of its width. */
export function scaleOf(values) {
  const top = Math.max(...values.filter((value) => value !== null), 1) * 1.08;
  return (value) => (100 * value) / top;
}

/**
 * A drawing of the range with its middle and the asking price; its words stand in `label`.
 * @param {{low: number, mid: number, high: number}} fair
 * @param {number | null} asking
 * @param {string} label
 */
export function rangeDrawing(fair, asking, label) {
  const at = scaleOf([fair.high, asking]);
  const drawing = svg('svg', { class: 'range', viewBox: '0 0 100 12', preserveAspectRatio: 'none', role: 'img', 'aria-label': label },
    svg('rect', { class: 'range-line', x: 0, y: 5, width: 100, height: 2 }),
    svg('rect', { class: 'range-span', x: at(fair.low), y: 2, width: at(fair.high) - at(fair.low), height: 8 }),
    svg('rect', { class: 'range-mid', x: at(fair.mid) - 0.5, y: 0, width: 1, height: 12 }));
  if (asking !== null) {
    drawing.append(svg('line', { class: 'range-ask', x1: at(asking), x2: at(asking), y1: 0, y2: 12 }));
  }
  return drawing;
}
