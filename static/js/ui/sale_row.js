/** One line of the sales log. */
import { _ } from '../language.js';
import { h } from './element.js';
import { kindWord, sayDay, sayPrice } from './sale_words.js';

/**
 * @param {import('../store/sales.js').Sale} sale
 * @param {{what: string, state: string, own: string}} words what it was, in which state, and the currency of its tables
 * @param {{aside: () => void, remove: () => void}} actions
 */
export function saleRow(sale, { what, state, own }, actions) {
  const price = sayPrice(sale);
  const name = `${what}, ${price}`;
  const kind = kindWord(sale.kind);
  const turn = sale.aside ? _('Count again') : _('Set aside');
  const unrated = own && sale.currency !== own && sale.rate === null;
  return h('div', { class: `set-row sale-row ${sale.aside ? 'aside' : ''}` },
    h('a', { class: 'row-link sale-link', href: `#/sales/${sale.id}`, 'aria-label': _('{sale}, {kind}, {day}. Change', { sale: name, kind, day: sayDay(sale.date) }) },
      h('span', { class: 'sale-price' }, h('strong', {}, price), ` ${kind}`, sale.demo && h('span', { class: 'tag' }, _('Demo')),
        sale.aside && h('span', { class: 'tag' }, _('set aside'))),
      h('span', {}, what),
      h('span', { class: 'fine' }, [sayDay(sale.date), sale.place].filter(Boolean).join(' · ')),
      state && h('span', { class: 'fine' }, state),
      sale.note && h('span', { class: 'fine' }, sale.note),
      unrated && h('span', { class: 'stays-out' }, _('Stays out until it gets a rate; only sets appraised in {currency} count it.', { currency: sale.currency }))),
    h('div', { class: 'sale-actions' },
      h('button', { class: 'button quiet', 'aria-label': `${turn}: ${name}`, onclick: actions.aside }, turn),
      h('button', { class: 'button quiet', 'aria-label': _('Remove {sale}', { sale: name }), onclick: actions.remove }, _('Remove'))));
}
