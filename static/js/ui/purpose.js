/** What the appraisal is for: name and place, aim, region, currency, what an hour is worth. */
import { _ } from '../language.js';
import { h, setText } from './element.js';
import { labelled, select } from './fields.js';
import { isCurrency, typedNumber, typedPrice } from './money.js';
import { regionField } from './region.js';

/**
 * @param {any} pack
 * @param {import('../store/found_set.js').FoundSet} foundSet
 * @param {(key: string, value: any) => void} put
 */
export function purposeForm(pack, foundSet, put) {
  const aim = select(_('Aim'), pack.aims.map((row) => [row.id, row.label]));
  aim.value = foundSet.get('aim') ?? pack.default_aim;
  aim.addEventListener('change', () => put('aim', aim.value));
  const own = pack.reference.currency;
  return h('section', { class: 'card purpose', 'aria-label': _('About this set') },
    textField(_('Name'), 'title', foundSet, put),
    textField(_('Where'), 'place', foundSet, put),
    textField(_('Note'), 'note', foundSet, put),
    labelled(_('What you want it for'), aim),
    regionField(foundSet, put),
    numberField(_('What an hour of your work is worth'), 'hour_rate', foundSet, put),
    currencyFields(own, foundSet, put));
}

function textField(label, key, foundSet, put) {
  const input = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', maxlength: 200, value: foundSet.get(key) ?? '' }));
  input.addEventListener('input', () => put(key, input.value));
  return labelled(label, input);
}

function numberField(label, key, foundSet, put) {
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const input = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: foundSet.get(key) ?? '' }));
  input.addEventListener('input', () => {
    const number = typedPrice(input.value);
    const usable = number !== undefined && (number === null || number <= 1e12);
    setText(wrong, usable ? '' : _('Write a plain number, such as 12.50.'));
    if (usable) put(key, number);
  });
  return h('div', {}, labelled(label, input), wrong);
}

/** The currency is used once it is a known code and, if it is not the tables' own, has its rate. */
export function currencyFields(own, foundSet, put) {
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const code = /** @type {HTMLInputElement} */ (h('input', {
    autocomplete: 'off', autocapitalize: 'characters', maxlength: 3, value: foundSet.get('currency')?.code ?? own,
  }));
  const rate = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: foundSet.get('currency')?.rate ?? '' }));
  const rateField = labelled('', rate);
  const label = /** @type {HTMLElement} */ (rateField.firstChild);
  const read = () => {
    const currency = code.value.trim().toUpperCase();
    const known = isCurrency(currency);
    rateField.hidden = !known || currency === own;
    setText(label, _('How many {currency} one {own} buys, today', { currency, own }));
    const number = typedNumber(rate.value);
    const given = number && number >= 1e-9 && number <= 1e9;
    if (!known) setText(wrong, _('Write the three letters of the currency, such as EUR.'));
    else setText(wrong, currency === own || given ? '' : _('The tables are in {own}. Give the rate, and the figures change to {currency}.', { own, currency }));
    if (!known || (currency !== own && !given)) return null;
    return { code: currency, rate: currency === own ? null : number, date: new Date().toISOString().slice(0, 10) };
  };
  const keep = () => {
    const usable = read();
    if (usable) put('currency', usable);
  };
  code.addEventListener('input', keep);
  rate.addEventListener('input', keep);
  read();
  return h('div', {}, labelled(_('Currency'), code), rateField, wrong);
}
