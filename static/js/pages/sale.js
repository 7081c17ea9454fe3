/** The screen of one sale: entered in ten seconds, or changed. */
import { _ } from '../language.js';
import { dropDraft, keepDraft, keepTyped, lastSale, readDraft } from '../store/sale_draft.js';
import { kindName, saleKinds, saleTerms } from '../store/sale_kinds.js';
import { binSales, keepSale, listSales, newSale, openSale } from '../store/sales.js';
import { askPersistence } from '../sync/persistence.js';
import { h } from '../ui/element.js';
import { clearNotice, notice } from '../ui/notices.js';
import { SaleForm, typedOf } from '../ui/sale_form.js';
import { sayPrice, sayUnsaved, stateUnknown, withUndo } from '../ui/sale_words.js';

/**
 * Shows a sale, or the form of a new one.
 * @param {HTMLElement} main
 * @param {string[]} words of the address: `new`, perhaps with family and type (`-` for none), or the sale's id
 * @returns {Promise<{refresh: () => Promise<void>}>}
 */
export async function showSale(main, words) {
  const [id, family, type] = words;
  const sale = id === 'new' ? null : await openSale(id);
  if (id !== 'new' && (!sale || sale.removed)) return gone(main, sale);
  const sales = await listSales();
  const kinds = await saleKinds(sale ? [sale] : []);
  if (sale && !kinds.families.some((row) => row.id === sale.family)) throw new Error(_('The rule tables for this kind of set are not on this phone.'));
  const chosen = family ? { family, model_sheet: type === '-' ? null : type } : {};
  const rest = sale ? typedOf(sale) : await restOf(kinds, sales, chosen);
  const screen = new SaleScreen(main, { name: words.join('/'), sale, kinds: lately(kinds, sales), rest });
  await screen.begin(await readDraft(words.join('/')));
  return { refresh: async () => {} };
}

/** What stands in a new form: what was used last, with the type that the address names. */
async function restOf(kinds, sales, chosen) {
  const last = await lastSale();
  const known = ({ family, model_sheet: type = null }) => kinds.families.some((row) => row.id === family)
    && (type === null || kinds.types.some((row) => row.id === type && row.family === family));
  const what = [chosen, last, ...sales, { family: kinds.families[0].id }].find(known);
  const currency = last.currency ?? (await saleTerms(what.family)).currency;
  return typedOf({ currency, place: last.place ?? '', family: what.family, model_sheet: what.model_sheet });
}

/** The families, the one used last first. */
function lately({ families, types }, sales) {
  const used = [...new Set(sales.map((sale) => sale.family)), ...families.map((row) => row.id)];
  return { types, families: families.toSorted((a, b) => used.indexOf(a.id) - used.indexOf(b.id)) };
}

function gone(main, sale) {
  const back = () => binSales([sale.id], false).then(() => window.dispatchEvent(new Event('hashchange')), sayUnsaved);
  main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, sale ? _('This sale was removed') : _('This sale is not on this phone')),
    h('div', { class: 'links' }, sale && h('button', { class: 'button strong', onclick: back }, _('Take it back')), h('a', { class: 'button', href: '#/sales' }, _('To the sales log')))));
  return { refresh: async () => {} };
}

class SaleScreen {
  constructor(main, { name, sale, kinds, rest }) {
    Object.assign(this, { main, name, sale, kinds, rest });
    this.title = sale ? _('Change a sale') : _('Add a sale');
    this.draft = h('div', { class: 'sale-draft', role: 'status' });
  }

  /** Shows the form, with what was typed and never kept. @param {any} [draft] */
  async begin(draft) {
    const restored = draft && JSON.stringify({ ...this.rest, ...draft }) !== JSON.stringify(this.rest);
    this.typed = restored ? { ...this.rest, ...draft } : { ...this.rest };
    this.form = new SaleForm(this.typed, this.kinds, { unknown: stateUnknown(this.sale), terms: saleTerms, changed: () => this.changed(), keep: () => this.keep(false) });
    this.draft.replaceChildren(...(restored ? [h('p', {}, _('This is what you had begun. It is not kept yet.')),
      h('button', { type: 'button', class: 'button', onclick: () => dropDraft(this.name).then(() => this.begin(), sayUnsaved) }, this.sale ? _('As it was') : _('Begin afresh'))] : []));
    await this.form.show();
    this.main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: '#/sales', 'aria-label': _('Sales log') }, '‹'), h('h1', {}, this.title)),
      h('div', { class: 'page' }, this.draft, this.form.element), this.foot());
    document.title = `${this.title} · Underchassis`;
    window.scrollTo(0, 0);
    if (!this.sale) this.form.price.focus();
  }

  foot() {
    return h('div', { class: 'sale-foot' },
      h('button', { class: 'button strong', type: 'submit', form: 'sale-form' }, _('Keep')),
      !this.sale && h('button', { class: 'button', onclick: () => this.keep(true) }, _('Keep and add another')),
      this.sale && h('a', { class: 'button quiet', href: `#/history/sales/${this.sale.id}` }, _('History')));
  }

  changed() {
    keepDraft(this.name, this.typed).catch(sayUnsaved);
  }

  /** Keeps the sale, and goes back to the log or on to the next one. @param {boolean} another @param {boolean} [sure] over what another tab kept */
  async keep(another, sure = false) {
    const values = this.form.terms && this.form.check();
    if (!values || (!sure && await this.overtaken())) return;
    const sale = this.sale ? { ...this.sale, ...values, log_offset: values.state ? null : this.sale.log_offset ?? null } : newSale(values);
    try {
      await keepTyped(this.name, sale);
    } catch (problem) {
      sayUnsaved(problem);
      return;
    }
    const before = this.sale;
    withUndo(_('{set}, {price}: kept.', { set: kindName(this.kinds, sale), price: sayPrice(sale) }), () => (before ? keepSale(before) : binSales([sale.id], true)));
    askPersistence();
    if (!another) location.hash = '#/sales';
    else await this.next();
  }

  /** Whether the sale was changed or removed elsewhere while it stood here; then the person decides. */
  async overtaken() {
    const now = this.sale && await openSale(this.sale.id);
    if (!this.sale || (now?.changed === this.sale.changed && !now.removed)) return false;
    const anyway = () => {
      clearNotice('overtaken');
      this.sale = { ...now ?? this.sale, removed: false };
      this.keep(false, true);
    };
    const happened = !now || now.removed ? _('This sale was removed in another tab or on another device since it was opened here.')
      : _('This sale was changed in another tab or on another device since it was opened here.');
    notice('overtaken', happened, { kind: 'bad', actions: [
      [_('Keep what stands here'), anyway], [_('Leave it as it is there'), () => { clearNotice('overtaken'); location.hash = '#/sales'; }]] });
    return true;
  }

  /** The next one is likely of the same day and place. */
  async next() {
    this.rest = { ...this.typed, price: '', state: '', note: '' };
    await this.begin();
  }
}
