/** What becomes of each line of a table of sales, what the file leaves open, and the one button that takes it in. */
import { _, _n } from '../language.js';
import { kindName } from '../store/sale_kinds.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { isCurrency } from './money.js';
import { whatSelect } from './sale_what.js';
import { kindWord, sayDay, sayPrice } from './sale_words.js';

/** How many lines of one fate are drawn at first, and with each tap on the button below them. */
/** Columns not read that are named. */
const NAMED = 8;
const AT_ONCE = 100;
const fates = () => [['bad', _('Cannot be read')], ['ask', _('Wait for an answer')], ['new', _('Will be taken in')], ['here', _('Already here')]];

export class ImportPreview {
  /**
   * @param {import('../store/sale_table.js').Known} known
   * @param {import('../store/sale_head.js').Head} head
   * @param {{currency: string, read: (answers: any) => Promise<any>, take: (lines: any[]) => Promise<void>}} actions
   */
  constructor(known, head, { currency, read, take }) {
    Object.assign(this, { known, read, take, kinds: { families: known.families, types: known.sheets } });
    this.answers = { dayFirst: null, what: null, currency };
    this.order = h('div', { class: 'options two', role: 'group', 'aria-label': _('Day or month first') });
    this.what = whatSelect(this.kinds, '', [h('option', { value: '' }, _('Choose'))]);
    this.what.addEventListener('change', () => this.answer({ what: chosen(this.what.value) }));
    this.currency = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', autocapitalize: 'characters', maxlength: 3, value: currency }));
    this.currency.addEventListener('input', () => {
      const code = this.currency.value.trim().toUpperCase();
      setText(this.wrong, isCurrency(code) ? '' : _('Write the three letters of the currency, such as EUR.'));
      if (isCurrency(code)) this.answer({ currency: code });
    });
    this.wrong = h('p', { class: 'wrong', role: 'alert' });
    const card = (title, ...content) => h('section', { class: 'card', hidden: true }, h('h2', {}, title), ...content);
    const count = () => h('p', { class: 'count-of' });
    this.orderCard = card(_('Day or month first?'), h('p', {}, _('No date of this form in the file tells. How is it meant?')), this.order);
    this.whatCard = card(_('What are they?'), count(), labelled(_('These are'), this.what));
    this.currencyCard = card(_('In which currency?'), count(), labelled(_('These prices are in'), this.currency), this.wrong);
    this.table = h('div', {});
    this.waiting = h('p', { class: 'fine' });
    this.button = h('button', { class: 'button strong', onclick: () => this.takeIn() });
    this.element = h('div', { class: 'import-preview' },
      head.unread.length > 0 && h('p', { class: 'fine' }, _('Not read: {columns}.', { columns: unreadWords(head.unread) })),
      this.orderCard, this.whatCard, this.currencyCard, this.table, h('div', { class: 'sale-foot' }, this.waiting, h('div', { class: 'links' }, this.button, h('a', { class: 'button', href: '#/sales' }, _('Cancel')))));
  }

  answer(answers) {
    Object.assign(this.answers, answers);
    this.show();
  }

  /** Reads the lines with the answers so far, and shows what becomes of them. */
  async show() {
    const found = await this.read(this.answers);
    this.ask(found);
    const of = (fate) => found.lines.filter((line) => line.fate === fate);
    this.table.replaceChildren(...fates().map(([fate, title]) => [of(fate), fate, title]).filter(([lines]) => lines.length > 0)
      .map(([lines, fate, title]) => this.section(lines, fate, title)));
    const count = of('new').length;
    const waiting = of('ask').length;
    this.button.hidden = count === 0;
    setText(this.button, _n('Take in {count} sale', 'Take in {count} sales', count));
    setText(this.waiting, waiting > 0 ? _n('{count} line waits for your answer above, and stays out until then.', '{count} lines wait for your answer above, and stay out until then.', waiting)
      : count > 0 ? '' : found.lines.length > 0 ? _('There is nothing to take in.') : _('There is no line below the names of the columns.'));
  }

  /** Shows the questions that the file leaves open. */
  ask({ order, noWhat, noCurrency }) {
    if (order) this.drawOrder(order);
    const cards = [[this.orderCard, Boolean(order)], [this.whatCard, noWhat], [this.currencyCard, noCurrency]];
    for (const [card, open] of cards) {
      card.hidden = !open;
      const count = card.querySelector('.count-of');
      if (count) setText(count, _n('{count} line does not say.', '{count} lines do not say.', open));
    }
  }

  drawOrder([first, second, year]) {
    const day = (d, m) => sayDay(`${year}-${String(m).padStart(2, '0')}-${String(d).padStart(2, '0')}`);
    if (this.order.childElementCount === 0) {
      this.order.append(...[[true, day(first, second)], [false, day(second, first)]].map(([dayFirst, said]) => h('button', {
        class: 'option', onclick: () => this.answer({ dayFirst }),
      }, _('{date} is {day}', { date: `${first}/${second}/${year}`, day: said }))));
    }
    [true, false].forEach((dayFirst, index) => this.order.children[index].setAttribute('aria-pressed', String(this.answers.dayFirst === dayFirst)));
  }

  section(lines, fate, title) {
    const body = h('tbody', {});
    const more = h('button', { class: 'button', onclick: () => draw(body.childElementCount + AT_ONCE) }, _('Show more'));
    const draw = (limit) => {
      body.replaceChildren(...lines.slice(0, limit).map((line) => this.line(line)));
      more.hidden = lines.length <= limit;
    };
    draw(AT_ONCE);
    return h('section', { class: `card fate ${fate}` }, h('h2', {}, `${title}: ${lines.length}`), h('table', {},
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, _('Row')), h('th', { scope: 'col' }, _('What it says')))), body), more);
  }

  line({ row, cells, why, remarks, sale }) {
    const said = sale
      ? [h('strong', {}, `${sayPrice(sale)} ${kindWord(sale.kind)}`), h('span', {}, kindName(this.kinds, sale)),
        h('span', { class: 'fine' }, [sayDay(sale.date), sale.place, this.state(sale), sale.note].filter(Boolean).join(' · '))]
      : [h('strong', {}, why), h('span', { class: 'fine' }, cells.filter((cell) => cell.trim()).join(' · ').slice(0, 200))];
    return h('tr', {}, h('td', {}, String(row)), h('td', {}, ...said, ...remarks.map((remark) => h('span', { class: 'remark' }, remark))));
  }

  state({ family, state }) {
    return this.known.families.find((row) => row.id === family)?.states.find((row) => row.id === state)?.label;
  }

  /** Reads once more, since another tab may have kept the same sales meanwhile. */
  async takeIn() {
    const { lines } = await this.read(this.answers);
    await this.take(lines);
  }
}

/** Names of columns that mean nothing here, the first few of them. */
function unreadWords(names) {
  const some = names.slice(0, NAMED).map((name) => `“${name.slice(0, 40)}”`).join(', ');
  return names.length > NAMED ? _('{names} and {count} more', { names: some, count: names.length - NAMED }) : some;
}

function chosen(value) {
  const [family, type] = value.split('/');
  return family ? { family, model_sheet: type || null } : null;
}
