/** The bar of a lot that never leaves: the most to bid with its range, against what they ask. */
import { _ } from '../language.js';
import { h, setText, svg } from './element.js';
import { scaleOf } from './range.js';

export class LotBar {
  /** @param {string} plan address of the plan */
  constructor(plan) {
    this.bid = h('strong', { class: 'bar-range' });
    this.said = h('span', { class: 'bar-complete' });
    this.asks = h('span', { class: 'bar-complete' });
    this.span = svg('rect', { class: 'range-span', y: 2, height: 6 });
    this.mid = svg('rect', { class: 'range-mid', y: 0, width: 0.8, height: 10 });
    this.ask = svg('line', { class: 'range-ask', y1: 0, y2: 10 });
    this.element = h('footer', { class: 'bar lot-bar', 'aria-label': _('The most to bid'), hidden: true },
      h('div', { class: 'bar-top' }, h('div', { class: 'bar-price', 'aria-live': 'polite' }, this.bid, this.said, this.asks),
        h('a', { class: 'to-verdict', href: plan }, _('Plan'))),
      svg('svg', { class: 'bar-drawing', viewBox: '0 0 100 10', preserveAspectRatio: 'none', 'aria-hidden': 'true' },
        svg('rect', { class: 'range-line', x: 0, y: 4, width: 100, height: 2 }), this.span, this.mid, this.ask));
  }

  /** @param {import('./lot_view.js').LotView} view */
  show(view) {
    const { bid, bid_range: range, asking, per_set: each } = view.plan;
    setText(this.bid, bid > 0 ? _('Bid at most {amount}', { amount: view.money.say(bid, true) }) : _('Not worth a bid'));
    setText(this.said, _('{range} · {amount} a set', { range: view.range(range), amount: view.say(each.bid ?? 0) }));
    setText(this.asks, asking === null ? _('what they ask: under “About it”') : _('they ask {price} · {amount} a set', { price: view.say(asking), amount: view.say(each.asking ?? 0) }));
    const at = scaleOf([range.high, asking]);
    this.span.setAttribute('x', String(at(range.low)));
    this.span.setAttribute('width', String(at(range.high) - at(range.low)));
    this.mid.setAttribute('x', String(at(bid) - 0.4));
    this.ask.setAttribute('visibility', asking === null ? 'hidden' : 'visible');
    for (const end of ['x1', 'x2']) this.ask.setAttribute(end, String(at(asking ?? 0)));
  }
}
