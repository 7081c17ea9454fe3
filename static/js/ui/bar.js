/** The bar that never leaves: the range, the asking price, what to look at next. */
import { fairRange } from '../kernel/numbers.js';
import { _ } from '../language.js';
import { h, setText, svg } from './element.js';
import { scaleOf } from './range.js';
import { typedPrice } from './money.js';

export class BottomBar {
  /**
   * @param {{ask: (price: number | null) => void, look: (check: string) => void, verdict: string}} actions
   */
  constructor(actions) {
    this.actions = actions;
    this.range = h('strong', { class: 'bar-range' });
    this.complete = h('span', { class: 'bar-complete' });
    this.asking = /** @type {HTMLInputElement} */ (h('input', {
      inputmode: 'decimal', autocomplete: 'off', 'aria-label': _('They ask'), placeholder: '?', id: 'asking',
    }));
    this.asking.addEventListener('input', () => {
      const price = typedPrice(this.asking.value);
      const usable = price !== undefined && (price === null || price <= 1e12);
      this.asking.setAttribute('aria-invalid', String(!usable));
      setText(this.wrong, usable ? '' : _('Write a plain number, such as 90.'));
      if (usable) actions.ask(price);
    });
    this.wrong = h('p', { class: 'wrong', role: 'alert' });
    this.span = svg('rect', { class: 'range-span', y: 2, height: 6 });
    this.mid = svg('rect', { class: 'range-mid', y: 0, width: 0.8, height: 10 });
    this.ask = svg('line', { class: 'range-ask', y1: 0, y2: 10 });
    this.what = h('span', { class: 'look-what' });
    this.gain = h('span', { class: 'look-gain' });
    this.next = h('button', { class: 'look-next', 'aria-keyshortcuts': 'Escape', onclick: () => this.target && actions.look(this.target) },
      h('span', {}, h('span', { class: 'look-label' }, _('Look next:'), ' '), this.what), this.gain);
    this.verdict = h('a', { class: 'to-verdict', href: actions.verdict }, _('Verdict'));
    this.element = h('footer', { class: 'bar', 'aria-label': _('Price and what to look at next') },
      h('div', { class: 'bar-top' },
        h('a', { class: 'bar-price', href: actions.verdict, 'aria-live': 'polite' }, this.range, this.complete),
        h('label', { class: 'bar-ask' }, h('span', {}, _('they ask')), this.asking)),
      this.wrong,
      svg('svg', { class: 'bar-drawing', viewBox: '0 0 100 10', preserveAspectRatio: 'none', 'aria-hidden': 'true' },
        svg('rect', { class: 'range-line', x: 0, y: 4, width: 100, height: 2 }), this.span, this.mid, this.ask),
      h('div', { class: 'bar-bottom' }, this.next, this.verdict));
  }

  /** @param {{fair: any, asking: number | null, range: string, complete: string, next: {id: string, label: string, gain: string} | null}} view */
  show({ fair, asking, range, complete, next }) {
    setText(this.range, range);
    setText(this.complete, complete);
    const at = scaleOf([fair.high, asking]);
    this.span.setAttribute('x', String(at(fair.low)));
    this.span.setAttribute('width', String(at(fair.high) - at(fair.low)));
    this.mid.setAttribute('x', String(at(fair.mid) - 0.4));
    this.ask.setAttribute('visibility', asking === null ? 'hidden' : 'visible');
    this.ask.setAttribute('x1', String(at(asking ?? 0)));
    this.ask.setAttribute('x2', String(at(asking ?? 0)));
    if (document.activeElement !== this.asking) this.asking.value = asking === null ? '' : String(asking);
    this.target = next?.id ?? null;
    this.next.classList.toggle('done', next === null);
    setText(this.what, next ? next.label : _('Nothing left on the list is likely to change the answer.'));
    setText(this.gain, next ? next.gain : '');
  }
}

/** What the bar shows of a set: its range, how complete it is, and the next look while one is worth its time. */
export function barView(prepared, findings, now, ahead, money) {
  const fair = fairRange(prepared, now);
  const { low, likely, high } = now.scores.completeness;
  const percent = (value) => Math.floor(value + 0.5);
  const going = ahead.value >= ahead.threshold && ahead.looks.length > 0;
  return {
    fair,
    asking: findings.asking,
    range: _('{low} to {high}', { low: money.say(fair.low), high: money.say(fair.high) }),
    complete: low === high ? _('{share} complete', { share: `${percent(likely)} %` }) : _('{low} to {high} complete', { low: percent(low), high: `${percent(high)} %` }),
    next: going ? nextLook(prepared.pack, ahead.looks[0], findings, money) : null,
  };
}

function nextLook(pack, look, findings, money) {
  const check = pack.checks[look.check];
  const said = look.evi > 0 ? money.say(look.evi) : '';
  const gain = findings.asking === null ? _('narrows {sum}', { sum: said }) : _('worth {sum}', { sum: said });
  return { id: check.id, label: check.label, gain: `${look.seconds} s${said ? ` · ${gain}` : ''}` };
}
