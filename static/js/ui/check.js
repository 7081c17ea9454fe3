/** One check: open as a card with its options, answered as one line with what it did to the price. */
import { _, _n } from '../language.js';
import { NOTHING } from '../store/found_set.js';
import { cautionBlocks } from './cautions.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { figure, typedNumber } from './money.js';
import { photoPick } from './photo_pick.js';

/** What people type as text, by what a check asks for. */
const typedText = () => ({
  serial: _('Serial as stamped'), nameplate: _('Text as it stands there'), book: _('Serial in the book'), order: _('Number as it stands there'),
});

/**
 * @typedef {Object} CheckActions
 * @property {(check: any, found: import('../store/found_set.js').Found, stay?: boolean) => void} keep
 * @property {() => HTMLElement} regionField
 * @property {import('../store/found_set.js').FoundSet} foundSet
 * @property {(about: string, label: string, files: File[], element: HTMLElement) => void} addPhotos
 * @property {(name: string) => Promise<any>} behind a module of `ui/`, once the tables behind are there
 */

export class CheckCard {
  /**
   * @param {any} pack
   * @param {any} check its row in the pack
   * @param {CheckActions} actions
   */
  constructor(pack, check, actions) {
    this.pack = pack;
    this.check = check;
    this.actions = actions;
    this.reopened = false;
    this.amount = h('span', { class: 'amount' });
    this.body = h('div', { class: 'check-body' });
    this.cautions = h('div', { class: 'cautions' });
    this.called = '';
    this.pick = photoPick(check.label, (files) => actions.addPhotos(`check/${check.id}`, check.label, files, this.element));
    this.photos = h('div', {});
    this.element = h('div', { class: 'check', id: `check-${check.id}`, hidden: true }, this.body, this.cautions);
  }

  /** @param {import('../store/found_set.js').Found} found @param {boolean} shown */
  show(found, shown) {
    this.found = found;
    this.element.hidden = !shown;
    if (!shown) return;
    const folded = (found.option || found.unseen) && !this.reopened;
    this.element.classList.toggle('folded', Boolean(folded));
    this.body.replaceChildren(...(folded ? [this.line(), this.pick] : this.card()));
  }

  /** What this answer did to the price, in money. @param {string} text @param {number} sign */
  showAmount(text, sign) {
    setText(this.amount, text);
    this.amount.className = `amount ${sign < 0 ? 'down' : sign > 0 ? 'up' : ''}`;
  }

  /** The cautions that this answer calls. @param {string[]} ids */
  showCautions(ids) {
    if (ids.join() === this.called) return;
    this.called = ids.join();
    this.cautions.replaceChildren(...cautionBlocks(this.pack, ids));
  }

  /** Opens the card for another answer. */
  reopen() {
    this.reopened = true;
    this.show(this.found, true);
  }

  line() {
    const { check, found } = this;
    const option = check.options.find((row) => row.id === found.option);
    const said = option ? option.label : _('cannot be looked at here');
    return h('button', {
      class: 'folded-line', 'aria-label': _('{check}: {answer}. Change', { check: check.label, answer: said }),
      onclick: () => {
        this.reopen();
        this.element.querySelector('button')?.focus();
      },
    },
    h('span', { class: 'what' }, check.label),
    h('span', { class: 'said' }, said, this.extra(), found.looked_over && ' ', found.looked_over && _('(looked over)')),
    option ? this.amount : h('span', { class: 'amount' }, '?'));
  }

  /** The figure or list kept with the answer, in short. */
  extra() {
    const { holes, crystal_khz: crystal, coverage_khz: coverage, heater_strings: strings, text } = this.found;
    if (strings?.length) return ', ' + _n('{count} heater string', '{count} heater strings', strings.length);
    if (holes?.length) return ': ' + _n('{count} hole', '{count} holes', holes.length);
    if (crystal) return `, ${figure(crystal)} kHz`;
    if (coverage?.[0] && coverage[1]) return ', ' + _('{from} to {to} kHz', { from: figure(coverage[0]), to: figure(coverage[1]) });
    return text ? `, ${text}` : '';
  }

  card() {
    const { check, found } = this;
    const answered = found.option || found.unseen;
    return [
      h('div', { class: 'card-head' }, h('h3', {}, check.label), h('span', { class: 'seconds' }, _('{seconds} s', { seconds: check.seconds }))),
      h('p', { class: 'help' }, check.help),
      h('div', { class: 'options', role: 'group', 'aria-label': check.label },
        ...check.options.map((option) => this.option(option))),
      this.inputs(),
      this.photos,
      h('div', { class: 'card-foot' }, this.pick,
        answered && h('button', { class: 'button quiet', onclick: () => this.keep({ ...found, ...NOTHING, unseen: false }) }, _('Not checked')),
        answered && h('button', { class: 'button quiet', onclick: () => this.fold() }, _('Fold')),
        !found.unseen && h('button', {
          class: 'button quiet', onclick: () => this.keep({ ...found, ...NOTHING, unseen: true }),
        }, _('Cannot be looked at here'))),
    ].filter(Boolean);
  }

  option(option) {
    const pressed = this.found.option === option.id;
    return h('button', {
      class: 'option', 'aria-pressed': String(pressed),
      onclick: () => this.answer(pressed ? null : option.id),
    }, option.label);
  }

  /** Shows at once which option holds; the card itself is drawn anew a frame later. @param {string | null} option */
  press(option) {
    this.check.options.forEach((row, index) => {
      this.body.querySelectorAll('.option')[index]?.setAttribute('aria-pressed', String(row.id === option));
    });
  }

  answer(option) {
    const { check, found } = this;
    const value = { ...found, option, unseen: false, looked_over: false };
    if (check.asks_holes && option !== 'some') Object.assign(value, NOTHING, { option });
    // Holes are still to be listed, and a figure to be typed: the card stays open for them.
    const stay = option !== null && ((check.asks_holes && option === 'some') || this.wantsFigure(value));
    this.keep(value, stay);
  }

  wantsFigure(value) {
    const option = this.check.options.find((row) => row.id === value.option);
    if (this.check.asks === 'crystal') return option?.state === 1 && !value.crystal_khz;
    // The two numbers of a set and its book are worth comparing while the seller stands there.
    const numbered = this.check.asks === 'book' || (this.check.asks === 'serial' && this.pack.effects.book_part);
    if (numbered) return value.option === this.check.options[0].id && !value.text;
    if (this.check.asks === 'coverage') return !this.pack.sheet && !(value.coverage_khz?.[0] && value.coverage_khz[1]);
    return false;
  }

  keep(value, stay = false) {
    this.reopened = stay;
    this.actions.keep(this.check, value, stay);
  }

  fold() {
    this.reopened = false;
    this.show(this.found, true);
  }

  inputs() {
    const { check, found } = this;
    if (check.asks_holes) {
      return found.option === 'some' && this.lazily(import('./holes.js'), (page) => page.holeEditor(this.pack, found.holes ?? [],
        (holes) => this.keep({ ...found, holes }, true), (show) => this.later('readings', show), this.actions.foundSet.base.id));
    }
    if (check.asks === 'crystal') {
      const usual = this.pack.sheet?.crystal_khz ?? '';
      return this.figures([[_('Figure marked on it, kHz'), found.crystal_khz ?? null, usual]], ([value]) => ({ crystal_khz: value }));
    }
    if (check.asks === 'coverage') {
      const [low, high] = found.coverage_khz ?? [null, null];
      const [from = '', to = ''] = this.pack.sheet?.coverage_khz ?? [];
      return h('div', {},
        this.figures([[_('First figure, kHz'), low, from], [_('Last figure, kHz'), high, to]], (span) => ({ coverage_khz: span })),
        this.actions.regionField());
    }
    if (check.asks in typedText()) return this.text();
    if (check.asks === 'stamp') return this.later('readings', (page) => page.stampReading(this.pack, check.id));
    return check.asks === 'heaters' ? this.later('heaters', (page) => page.heaterEditor(this.pack, found.heater_strings ?? [],
      (strings) => this.keepTyped({ heater_strings: strings }))) : null;
  }

  /** Fields for figures; each is kept as it is typed. */
  figures(fields, valueOf) {
    const wrong = h('p', { class: 'wrong', role: 'alert' });
    const inputs = fields.map(([, value, usual]) => /** @type {HTMLInputElement} */ (h('input', {
      inputmode: 'decimal', autocomplete: 'off', value: value ?? '', placeholder: usual && _('usually {figure}', { figure: usual }),
    })));
    const read = () => {
      const numbers = inputs.map((input) => typedNumber(input.value));
      const bad = numbers.some((number) => number === undefined || (number !== null && (number < 1 || number > 1e7)));
      const falling = numbers.length === 2 && numbers[0] && numbers[1] && numbers[0] >= numbers[1];
      setText(wrong, bad ? _('Write a frequency in kHz, such as 3300.') : falling ? _('The lower frequency comes first.') : '');
      if (bad) return;
      this.keepTyped(valueOf(numbers));
    };
    for (const input of inputs) input.addEventListener('input', read);
    return h('div', {}, h('div', { class: 'fields' }, ...fields.map(([label], index) => labelled(label, inputs[index]))), wrong);
  }

  text() {
    const { asks } = this.check;
    const input = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', autocapitalize: 'characters', maxlength: 120, value: this.found.text ?? '' }));
    const note = this.later('readings', (page) => page.reading(this.pack, asks, input));
    input.addEventListener('input', () => this.keepTyped({ text: input.value }));
    return h('div', {}, h('div', { class: 'fields' }, labelled(typedText()[asks], input)), note);
  }

  /** Keeps what was typed, with the card left as it is under the typing hands. */
  keepTyped(typed) {
    this.reopened = true;
    this.found = { ...this.found, ...typed };
    this.actions.keep(this.check, this.found, true);
  }

  /** A place for what a module shows that no first screen needs; it fills once the tables behind are there. */
  later(name, show) {
    return this.lazily(this.actions.behind(name), show);
  }

  /** A place for what a module shows, once that has come. @param {Promise<any>} asked @param {(page: any) => HTMLElement} show */
  lazily(asked, show) {
    const place = h('div', {});
    asked.then((page) => place.append(show(page)), () => undefined);
    return place;
  }
}
