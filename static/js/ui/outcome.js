/** What became of a set: one tap and a number at the end of its verdict. */
import { _ } from '../language.js';
import { keepHours, keepOutcome, outcomeOf, saleOf, takeBack } from '../store/outcomes.js';
import { RULES } from '../store/sale_rules.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { moneyWriter, typedNumber, typedPrice } from './money.js';
import { outcomeWords } from './outcome_words.js';
import { kindWord, sayDay, sayUnsaved, stateUnknownWithin, withUndo } from './sale_words.js';
import { savingMark } from './saving_mark.js';

/** The words on the buttons. */
const buttonWords = () => ({ bought: _('Bought'), passed: _('Passed'), sold: _('Sold') });
/** What is asked behind each. */
const questionWords = (what, currency) => ({
  bought: _('What you paid, in {currency}', { currency }),
  passed: _('What they last asked or what it went for, in {currency}, or nothing', { currency }),
  sold: _('What it fetched, in {currency}', { currency }),
})[what];
const MOST_HOURS = 100_000;

/** @param {any} appraised what pages/appraised.js gives */
export const outcomeCard = (appraised) => new OutcomeCard(appraised).element;

class OutcomeCard {
  constructor(appraised) {
    this.appraised = appraised;
    this.foundSet = appraised.foundSet;
    this.busy = false;
    this.element = h('section', { class: 'card outcome' });
    this.draw();
  }

  get outcome() {
    return outcomeOf(this.foundSet);
  }

  /** Shows what was kept, or asks. @param {string} [focus] what gets the focus */
  draw(focus) {
    this.show(this.outcome ? this.kept() : [this.choices(''), this.record()], focus);
  }

  show(parts, focus) {
    this.element.replaceChildren(h('h2', {}, _('What became of it')), ...parts);
    if (focus) this.element.querySelector(focus)?.focus();
  }

  /** @param {string} chosen */
  choices(chosen) {
    return h('div', { class: 'options three', role: 'group', 'aria-label': _('What became of it') }, ...Object.entries(buttonWords()).map(([what, label]) => h('button', {
      type: 'button', class: 'option', 'aria-pressed': String(what === chosen), onclick: () => this.ask(what),
    }, label)));
  }

  /** Asks for the price. @param {string} what */
  ask(what) {
    const { findings } = this.appraised;
    const { currency = findings.currency, price = what === 'bought' ? findings.asking : null } = this.outcome ?? {};
    const wrong = h('p', { class: 'wrong', role: 'alert' });
    const input = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', enterkeyhint: 'done', value: price ?? '' }));
    const keep = (event) => {
      event.preventDefault();
      const typed = typedPrice(input.value);
      setText(wrong, priceFault(what, typed));
      input.setAttribute('aria-invalid', String(wrong.textContent !== ''));
      if (wrong.textContent) input.focus();
      else this.keep(() => keepOutcome(this.appraised, what, typed));
    };
    this.show([this.choices(what), h('form', { novalidate: true, onsubmit: keep },
      labelled(questionWords(what, currency), input), wrong,
      h('div', { class: 'links' }, h('button', { class: 'button strong' }, _('Keep')),
        h('button', { type: 'button', class: 'button quiet', onclick: () => this.draw('button') }, _('Cancel'))))]);
    input.focus();
    input.select();
  }

  /** @param {() => Promise<any>} act */
  async keep(act) {
    if (this.busy) return;
    this.busy = true;
    const saving = act();
    savingMark(this.element, saving);
    await saving.then(() => this.draw('.happened'), sayUnsaved);
    this.busy = false;
  }

  kept() {
    const { outcome } = this;
    const { low, mid, high } = outcome.stated;
    const money = moneyWriter(outcome.currency, this.appraised.pack);
    const words = outcomeWords(outcome);
    return [
      h('p', { class: 'happened', tabindex: '-1' }, h('strong', {}, `${words[0].toUpperCase()}${words.slice(1)}`), ' ', _('on {day}.', { day: sayDay(outcome.date) })),
      h('p', { class: 'fine' }, _('The app had said {low} to {high}, middle {middle}.', { low: money.say(low), high: money.say(high), middle: money.say(mid) })),
      outcome.what === 'passed' ? '' : this.hours(outcome),
      h('div', { class: 'links' }, h('button', { class: 'button', onclick: () => this.ask(outcome.what) }, _('Change')),
        h('button', { class: 'button quiet', onclick: () => this.keep(() => this.back()) }, _('Take back'))),
      this.logged(), this.record(),
    ];
  }

  async back() {
    const again = await takeBack(this.foundSet);
    withUndo(_('What became of it was taken back.'), again);
  }

  /** Kept as it is typed. */
  hours(outcome) {
    const wrong = h('p', { class: 'wrong', role: 'alert' });
    const input = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: outcome.hours ?? '' }));
    input.addEventListener('input', () => {
      const typed = typedNumber(input.value);
      const good = typed === null || typed <= MOST_HOURS;
      setText(wrong, good ? '' : _('Write the hours as a number, such as 12 or 7.5.'));
      input.setAttribute('aria-invalid', String(!good));
      if (!good) return;
      const saving = keepHours(this.foundSet, typed);
      savingMark(this.element, saving);
      saving.catch(sayUnsaved);
    });
    return h('div', {}, labelled(_('Hours really spent'), input), wrong);
  }

  /** Where it stands in the sales log, and as what; it may have been mended since, or changed there. */
  logged() {
    const place = h('div', {});
    saleOf(this.foundSet).then((sale) => {
      if (!sale || sale.removed) return;
      const state = this.appraised.pack.states.find((row) => row.id === sale.state)?.label ?? stateUnknownWithin(sale);
      place.append(h('a', { class: 'row-link', href: `#/sales/${sale.id}` }, h('span', {}, _('In the sales log as {kind}: {state} ›', { kind: kindWord(sale.kind), state }))));
    });
    return place;
  }

  record() {
    return h('a', { class: 'row-link', href: '#/record' }, _('How often the stated ranges held ›'));
  }
}

/** Nothing is a price for one that was given away, and no price is needed of one that was passed. */
function priceFault(what, price) {
  if ((what === 'passed' && price === null) || (what === 'bought' && price === 0)) return '';
  return RULES.price(price);
}
