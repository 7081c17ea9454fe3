/** The Sales log screen: what like sets fetched or were offered for. */
import { _, _n } from '../language.js';
import { downloadSales } from '../store/sale_export.js';
import { kindName, saleKinds, saleTerms } from '../store/sale_kinds.js';
import { binSales, keepSale, listSales } from '../store/sales.js';
import { h } from '../ui/element.js';
import { select } from '../ui/fields.js';
import { notice } from '../ui/notices.js';
import { saleRow } from '../ui/sale_row.js';
import { kindWord, sayPrice, sayUnsaved, stateUnknownWithin, withUndo } from '../ui/sale_words.js';

/** How many rows are drawn at first, and with each tap on the button below them. */
const AT_ONCE = 100;
/** From so many on there is a search. */
const SEARCHED = 9;

const redraw = () => window.dispatchEvent(new Event('underchassis-changed'));

/** @param {HTMLElement} main @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showSales(main) {
  document.title = `${_('Sales log')} · Underchassis`;
  const list = new SalesList();
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Notebook') }, '‹'),
      h('div', {}, h('h1', {}, _('Sales log')), h('p', { class: 'sub' }, _('What like sets fetched')))),
    h('div', { class: 'page sales' }, h('a', { class: 'button strong', href: '#/sales/new' }, _('Add a sale')),
      ...list.elements, h('div', { class: 'links' }, h('a', { class: 'button', href: '#/sales/import' }, _('Import from CSV')), list.toFile),
      h('a', { class: 'row-link', href: '#/record' }, _('How often the stated ranges held ›'))));
  await list.refresh();
  return list;
}

/** In what state it was, in small words; nothing where that is not known. */
function stateWords(sale, known) {
  const state = known?.states.find((row) => row.id === sale.state);
  return state?.label ?? (Number.isFinite(sale.log_offset) ? stateUnknownWithin(sale) : '');
}

class SalesList {
  constructor() {
    this.search = /** @type {HTMLInputElement} */ (h('input', { type: 'search', 'aria-label': _('Search the sales'), placeholder: _('Search') }));
    this.kind = select(_('Sold or asked'), [['', _('Sold and asked')], ['sold', _('Sold')], ['asked', _('Asked')]]);
    this.family = select(_('Kind of set'), [['', _('All kinds of set')]]);
    this.filters = h('div', { class: 'fields' }, this.kind, this.family);
    this.list = h('div', { class: 'sale-list' });
    this.toFile = h('button', { class: 'button', onclick: () => this.export() }, _('Export as CSV'));
    this.elements = [this.search, this.filters, this.list];
    this.search.addEventListener('input', () => this.draw());
    for (const filter of [this.kind, this.family]) filter.addEventListener('change', () => this.draw());
  }

  /** Reads the log anew. */
  async refresh() {
    const sales = await listSales();
    const kinds = await saleKinds(sales);
    const families = [...new Set(sales.map((sale) => sale.family))];
    // Without its tables a sale is shown all the same.
    const terms = new Map(await Promise.all(families.map(async (id) => [id, await saleTerms(id).catch(() => null)])));
    this.rows = sales.map((sale) => {
      const known = terms.get(sale.family);
      const words = { what: kindName(kinds, sale), state: stateWords(sale, known), own: known?.currency ?? '' };
      const text = [words.what, words.state, sayPrice(sale), sale.price, kindWord(sale.kind), sale.date, sale.place, sale.note].join(' ').toLowerCase();
      return { sale, words, text };
    });
    this.offer(families.map((id) => [id, kinds.families.find((row) => row.id === id)?.name ?? id]));
    this.draw();
  }

  /** Shows the filters that have something to tell apart. */
  offer(families) {
    const chosen = this.family.value;
    this.family.replaceChildren(this.family.options[0], ...families.map(([value, name]) => h('option', { value }, name)));
    this.family.value = families.some(([id]) => id === chosen) ? chosen : '';
    this.family.hidden = families.length < 2;
    this.kind.hidden = new Set(this.rows.map(({ sale }) => sale.kind)).size < 2 && this.kind.value === '';
    this.search.hidden = this.rows.length < SEARCHED && this.search.value === '';
    this.filters.hidden = this.family.hidden && this.kind.hidden;
    this.toFile.hidden = !this.rows.some(({ sale }) => !sale.demo);
  }

  draw(limit = AT_ONCE) {
    const words = this.search.value.toLowerCase().split(/\s+/).filter(Boolean);
    const hits = this.rows.filter(({ sale, text }) => words.every((word) => text.includes(word))
      && (!this.kind.value || sale.kind === this.kind.value) && (!this.family.value || sale.family === this.family.value));
    const none = this.rows.length === 0
      ? _('No sales yet. Write down what sets like yours fetched or were offered for, and the price ranges follow what you saw.')
      : _('No sale holds these words.');
    this.list.replaceChildren(...[hits.length === 0 && h('p', {}, none), ...hits.slice(0, limit).map((row) => this.row(row)),
      hits.length > limit && h('button', { class: 'button', onclick: () => this.draw(limit + AT_ONCE) }, _n('Show more of {count} sale', 'Show more of {count} sales', hits.length))].filter(Boolean));
  }

  row({ sale, words }) {
    const name = `${words.what}, ${sayPrice(sale)}`;
    return saleRow(sale, words, {
      aside: () => this.change(sale.aside ? _('{sale}: counts again.', { sale: name }) : _('{sale}: set aside. It counts nowhere.', { sale: name }),
        () => keepSale({ ...sale, aside: !sale.aside }), () => keepSale(sale)),
      remove: () => this.change(_('{sale}: removed.', { sale: name }), () => binSales([sale.id], true), () => binSales([sale.id], false)),
    });
  }

  async change(said, act, undo) {
    try {
      await act();
      withUndo(said, undo);
    } catch (problem) {
      sayUnsaved(problem);
    }
    redraw();
  }

  async export() {
    const count = await downloadSales();
    notice('export', _n('{count} sale exported.', '{count} sales exported.', count));
  }
}
