/** One line of the sales log. */
import { h } from './element.js';
import { sayDay, sayPrice } from './sale_words.js';

/**
 * @param {import('../store/sales.js').Sale} sale
 * @param {{what: string, state: string, own: string}} words what it was, in which state, and the currency of its tables
 * @param {{aside: () => void, remove: () => void}} actions
 */
export function saleRow(sale, { what, state, own }, actions) {
  const price = sayPrice(sale);
  const name = `${what}, ${price}`;
  const unrated = own && sale.currency !== own && sale.rate === null;
  return h('div', { class: `set-row sale-row ${sale.aside ? 'aside' : ''}` },
    h('a', { class: 'row-link sale-link', href: `#/sales/${sale.id}`, 'aria-label': `${name}, ${sale.kind}, ${sayDay(sale.date)}. Change` },
      h('span', { class: 'sale-price' }, h('strong', {}, price), ` ${sale.kind}`, sale.demo && h('span', { class: 'tag' }, 'Demo'),
        sale.aside && h('span', { class: 'tag' }, 'set aside')),
      h('span', {}, what),
      h('span', { class: 'fine' }, [sayDay(sale.date), sale.place].filter(Boolean).join(' · ')),
      state && h('span', { class: 'fine' }, state),
      sale.note && h('span', { class: 'fine' }, sale.note),
      unrated && h('span', { class: 'stays-out' }, `Stays out until it gets a rate; only sets appraised in ${sale.currency} count it.`)),
    h('div', { class: 'sale-actions' },
      h('button', { class: 'button quiet', 'aria-label': `${sale.aside ? 'Count again' : 'Set aside'}: ${name}`, onclick: actions.aside }, sale.aside ? 'Count again' : 'Set aside'),
      h('button', { class: 'button quiet', 'aria-label': `Remove ${name}`, onclick: actions.remove }, 'Remove')));
}
