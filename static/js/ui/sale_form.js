/** The form of a sale, in the order in which one knows things at the table; price first. */
import { _ } from '../language.js';
import { future, LONGEST, RULES, today } from '../store/sale_rules.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { isCurrency, typedNumber, typedPrice } from './money.js';
import { whatSelect } from './sale_what.js';

/** @typedef {{price: string, currency: string, kind: string, what: string, state: string, date: string, place: string, note: string, rate: string}} Typed what stands in the fields */

/** Fields of a sale as text. @param {Partial<import('../store/sales.js').Sale>} sale @returns {Typed} */
export function typedOf({ price = '', currency = '', kind = 'sold', family = '', model_sheet: type, state, date = today(), place = '', note = '', rate }) {
  return { price: String(price), currency, kind, what: `${family}/${type ?? ''}`, state: state ?? '', date, place, note, rate: rate ? String(rate) : '' };
}

export class SaleForm {
  /**
   * @param {Typed} typed changed as the fields are
   * @param {import('../store/sale_kinds.js').Kinds} kinds
   * @param {{terms: (family: string) => Promise<any>, changed: () => void, keep: () => void}} actions
   */
  constructor(typed, kinds, actions) {
    Object.assign(this, { typed, actions, asked: false, terms: null });
    /** @type {Map<string, HTMLElement>} */
    this.wrong = new Map();
    this.price = this.input('price', { inputmode: 'decimal', enterkeyhint: 'done' });
    this.currency = this.input('currency', { autocapitalize: 'characters', maxlength: 3 });
    this.date = this.input('date', { type: 'date', max: today() });
    this.rate = this.input('rate', { inputmode: 'decimal' });
    this.rateField = labelled('', this.rate);
    this.what = whatSelect(kinds, typed.what);
    this.what.addEventListener('change', () => this.put('what', this.what.value));
    this.states = h('div', { class: 'options', role: 'group', 'aria-label': _('State') });
    this.kinds = h('div', { class: 'options two', role: 'group', 'aria-label': _('Sold or asked') });
    this.rateRow = h('div', {}, this.rateField, h('p', { class: 'help' }, _('Without it the sale stays out.')), this.sentence('rate'));
    this.element = h('form', { class: 'sale-form', id: 'sale-form', novalidate: true, onsubmit: (event) => {
      event.preventDefault();
      actions.keep();
    } },
    h('section', { class: 'card' },
      h('div', { class: 'fields price-row' }, labelled(_('Price'), this.price), labelled(_('Currency'), this.currency)), this.sentence('price'), this.sentence('currency'), this.rateRow,
      this.kinds, labelled(_('What'), this.what)),
    h('section', { class: 'card' }, h('h2', {}, _('State')), this.states),
    h('section', { class: 'card' },
      labelled(_('Date'), this.date), this.sentence('date'),
      labelled(_('Place'), this.input('place', { maxlength: LONGEST.place })), labelled(_('Note'), this.input('note', { maxlength: LONGEST.note }))));
  }

  input(key, props) {
    const element = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', name: key, ...props }));
    element.value = this.typed[key];
    element.addEventListener('input', () => this.put(key, element.value));
    return element;
  }

  sentence(key) {
    this.wrong.set(key, h('p', { class: 'wrong', role: 'alert' }));
    return this.wrong.get(key);
  }

  put(key, value) {
    this.typed[key] = value;
    this.show();
    this.actions.changed();
  }

  /** Shows what depends on the fields. */
  async show() {
    this.drawOptions();
    const family = this.typed.what.split('/')[0];
    const terms = await this.actions.terms(family);
    if (family !== this.typed.what.split('/')[0]) return;
    this.terms = terms;
    this.drawOptions();
    const code = this.code;
    this.rateRow.hidden = !isCurrency(code) || code === terms.currency;
    setText(/** @type {HTMLElement} */ (this.rateField.firstChild), _('How many {currency} one {own} bought then', { currency: code, own: terms.currency }));
    if (this.asked) this.showFaults();
  }

  drawOptions() {
    this.options(this.kinds, 'kind', [['sold', _('Sold')], ['asked', _('Asked')]]);
    this.options(this.states, 'state', [['', this.actions.unknown], ...(this.terms?.states ?? []).map(({ id, label }) => [id, label])]);
  }

  /** Buttons of which one holds; they stay the same elements while the choices do, and keep the focus. */
  options(place, key, choices) {
    if (place.childElementCount !== choices.length) {
      place.replaceChildren(...choices.map(() => h('button', { type: 'button', class: 'option' })));
    }
    choices.forEach(([value, label], index) => {
      const button = /** @type {HTMLButtonElement} */ (place.children[index]);
      setText(button, label);
      button.setAttribute('aria-pressed', String(this.typed[key] === value));
      button.onclick = () => this.put(key, value);
    });
  }

  get code() {
    return this.typed.currency.trim().toUpperCase();
  }

  /** What the fields amount to, and sentences by field where they do not. */
  read() {
    const { typed, terms } = this;
    const [family, type] = typed.what.split('/');
    const foreign = this.code !== terms.currency;
    const rate = foreign ? typedNumber(typed.rate) : null;
    const values = {
      price: typedPrice(typed.price), currency: this.code, kind: typed.kind, family, model_sheet: type || null,
      state: typed.state || null, date: typed.date, place: typed.place.trim(), note: typed.note.trim(), rate,
    };
    const faults = Object.fromEntries(Object.entries(RULES).map(([key, rule]) => [key, rule(values[key])]));
    faults.currency = isCurrency(this.code) ? '' : RULES.currency('');
    faults.date ||= future(typed.date);
    return { values, faults: Object.fromEntries(Object.entries(faults).filter(([, why]) => why)) };
  }

  /** Says what is wrong at each field, and gives the values when nothing is. */
  showFaults() {
    const { values, faults } = this.read();
    for (const [key, wrong] of this.wrong) {
      setText(wrong, faults[key] ?? '');
      this[key].setAttribute('aria-invalid', String(key in faults));
    }
    return Object.keys(faults).length === 0 ? values : null;
  }

  /** The values, or nothing: then the first field that is wrong has the focus. */
  check() {
    this.asked = true;
    const values = this.showFaults();
    if (!values) this.element.querySelector('[aria-invalid="true"]')?.focus();
    return values;
  }
}
