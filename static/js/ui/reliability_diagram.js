/** The reliability diagram: what was stated across, what held upwards, and the diagonal where both agree. */
import { _ } from '../language.js';
import { svg } from './element.js';

const [LEFT, TOP, WIDE, HIGH] = [46, 26, 284, 250];
const FOOT = TOP + HIGH + 42;
const TICKS = [0.1, 0.5, 0.9];
/** Both kinds stand at the same shares; beside one another both are seen. */
const ASIDE = { price: -7, hours: 7 };

const across = (share) => LEFT + WIDE * share;
const up = (share) => TOP + HIGH * (1 - share);
const line = (kind, x1, y1, x2, y2) => svg('line', { class: kind, x1, y1, x2, y2 });
const text = (x, y, words, props = {}) => svg('text', { x, y, ...props }, words);

/** @param {import('./reliability.js').Row[]} rows of which the table beside it says the figures */
export function reliabilityDiagram(rows) {
  return svg('svg', { class: 'reliability', viewBox: '0 0 340 326', role: 'img', 'aria-label': _('Stated shares against those that held; the table below has the figures.') },
    svg('rect', { class: 'rel-frame', x: LEFT, y: TOP, width: WIDE, height: HIGH }),
    ...TICKS.flatMap((share) => [
      line('rel-grid', across(share), TOP, across(share), TOP + HIGH), line('rel-grid', LEFT, up(share), LEFT + WIDE, up(share)),
      text(across(share), TOP + HIGH + 17, percent(share), { 'text-anchor': 'middle' }), text(LEFT - 5, up(share) + 5, percent(share), { 'text-anchor': 'end' }),
    ]),
    line('rel-even', across(0), up(0), across(1), up(1)),
    text(4, 15, _('Share that held ↑')), text(LEFT + WIDE, FOOT, _('share stated →'), { 'text-anchor': 'end' }),
    ...rows.filter((row) => row.point && row.count > 0).flatMap(point),
    mark('price', 14, FOOT - 5), text(26, FOOT, _('prices')), mark('hours', 94, FOOT - 5), text(106, FOOT, _('hours')));
}

const percent = (share) => `${Math.floor(100 * share + 0.5)} %`;

function point({ of, level, observed, low, high }) {
  const x = across(level) + ASIDE[of];
  return [line('rel-reach', x, up(low), x, up(high)), line('rel-reach', x - 4, up(low), x + 4, up(low)), line('rel-reach', x - 4, up(high), x + 4, up(high)), mark(of, x, up(observed))];
}

/** A filled circle for prices, an open square for hours. */
function mark(of, x, y) {
  return of === 'price' ? svg('circle', { class: 'rel-price', cx: x, cy: y, r: 6 }) : svg('rect', { class: 'rel-hours', x: x - 5.5, y: y - 5.5, width: 11, height: 11 });
}
