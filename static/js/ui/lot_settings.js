/** What a lot is called and the money it goes by: kept as it is typed. */
import { _ } from '../language.js';
import { LONGEST_NAME } from '../store/lot_rules.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { lotRemoval } from './lot_removal.js';
import { typedPrice } from './money.js';
import { currencyFields } from './purpose.js';

/**
 * @param {import('../store/lots.js').Lot} lot
 * @param {string} currency of the rule tables
 * @param {(key: string, value: any) => void} put
 */
export function lotSettings(lot, currency, put) {
  const name = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', maxlength: LONGEST_NAME, value: lot.name }));
  name.addEventListener('input', () => put('name', name.value));
  const number = (label, key, most, hint, scale = 1) => numberField({ label, key, most, hint, scale, value: lot[key] }, put);
  return h('section', { class: 'card', 'aria-label': _('About this lot') },
    labelled(_('What you call it'), name),
    h('div', { class: 'fields' }, number(_('They ask for the whole lot'), 'asking', 1e12, _('Write a plain number, such as 450.')),
      number(_('To keep as a margin, %'), 'margin', 100, _('Write a share from 0 to 100, such as 25.'), 100)),
    h('div', { class: 'fields' }, number(_('What an hour of your work is worth'), 'hour_rate', 1e9, _('Write a plain number, such as 15.')),
      number(_('At most so many hours of work'), 'hours_limit', 1e6, _('Write a plain number, such as 40, or nothing.'))),
    currencyFields(currency, { get: (key) => lot[key] }, put),
    h('p', { class: 'help' }, _('The plan takes this currency and hour for all sets of the lot, whatever stands with a single set.')),
    h('div', { class: 'links' }, h('a', { class: 'button', href: `#/history/lots/${lot.id}` }, _('History')), h('a', { class: 'button', href: '#/shelf' }, _('My shelf'))),
    lotRemoval(lot));
}

/** A field for a number; what may be nothing stays empty, what may not is nothing then. */
function numberField({ label, key, most, hint, scale, value }, put) {
  const wrong = h('p', { class: 'wrong', role: 'alert' });
  const empty = ['asking', 'hours_limit'].includes(key) ? null : 0;
  const shown = value === empty ? '' : Number((value * scale).toFixed(6));
  const input = /** @type {HTMLInputElement} */ (h('input', { inputmode: 'decimal', autocomplete: 'off', value: shown, name: key }));
  input.addEventListener('input', () => {
    const typed = typedPrice(input.value);
    const usable = typed !== undefined && (typed === null || typed <= most);
    input.setAttribute('aria-invalid', String(!usable));
    setText(wrong, usable ? '' : hint);
    if (usable) put(key, typed === null ? empty : typed / scale);
  });
  return h('div', { class: 'lot-figure' }, labelled(label, input), wrong);
}
