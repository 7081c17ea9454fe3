/** What a model sheet changes: the range before anything is checked, for the kind at large and with the sheet. */
import { fairRange, numbers } from '../kernel/numbers.js';
import { readFindings } from '../kernel/findings.js';
import { prepare } from '../kernel/prepared.js';
import { applySheet } from '../kernel/sheet.js';
import { _ } from '../language.js';
import { h, setText, svg } from './element.js';
import { moneyWriter } from './money.js';
import { scaleOf } from './range.js';

export class SheetBar {
  /**
   * @param {any} pack the family's
   * @param {Record<string, any>} last what the next set will start with: currency, aim, region
   */
  constructor(pack, last) {
    this.pack = pack;
    this.findings = { ...last, currency: last.currency?.code, rate: last.currency?.rate };
    this.kind = new Line(_('this kind'));
    this.own = new Line(_('this sheet'));
    this.own.text.setAttribute('aria-live', 'polite');
    this.kindRange = this.rangeOf(pack);
    this.element = h('footer', { class: 'bar sheet-bar', 'aria-label': _('Price range before anything is checked') },
      h('p', { class: 'bar-complete' }, _('Before anything is checked')),
      h('div', { class: 'sheet-ranges' }, ...this.kind.cells, ...this.own.cells));
  }

  rangeOf(pack) {
    const prepared = prepare(pack);
    const { findings } = readFindings(this.findings, prepared);
    this.money = moneyWriter(findings.currency, pack);
    return fairRange(prepared, numbers(prepared, findings));
  }

  /** @param {any} document */
  show(document) {
    const range = this.rangeOf(applySheet(this.pack, document));
    const at = scaleOf([range.high, this.kindRange.high]);
    this.kind.show(this.kindRange, at, this.money);
    this.own.show(range, at, this.money);
  }
}

class Line {
  constructor(name) {
    this.text = h('strong', {});
    this.span = svg('rect', { class: 'range-span', y: 2, height: 6 });
    this.mid = svg('rect', { class: 'range-mid', y: 0, width: 0.8, height: 10 });
    this.cells = [h('span', {}, name), this.text,
      svg('svg', { viewBox: '0 0 100 10', preserveAspectRatio: 'none', 'aria-hidden': 'true' },
        svg('rect', { class: 'range-line', x: 0, y: 4, width: 100, height: 2 }), this.span, this.mid)];
  }

  show(range, at, money) {
    setText(this.text, _('{low} to {high}', { low: money.say(range.low), high: money.say(range.high) }));
    this.span.setAttribute('x', String(at(range.low)));
    this.span.setAttribute('width', String(at(range.high) - at(range.low)));
    this.mid.setAttribute('x', String(at(range.mid) - 0.4));
  }
}
