/** The sales log: what like sets fetched or were offered for. Each row is kept whole. */
import { openDatabase } from './database.js';
import { newId } from './operations.js';
import { today } from './sale_rules.js';
import { save } from './saving.js';

/**
 * @typedef {Object} Sale
 * @property {string} id
 * @property {string} family
 * @property {string | null} model_sheet null for one whose type is not known
 * @property {number} price
 * @property {string} currency
 * @property {string} date YYYY-MM-DD
 * @property {'sold' | 'asked'} kind
 * @property {string | null} state id of a state of the pack
 * @property {string} place
 * @property {string} note
 * @property {number | null} rate units of its currency for one of the pack's
 * @property {number | null} [log_offset] what the findings of the set it came from did to the logarithm of its price
 * @property {boolean} aside set aside by hand: it counts nowhere
 * @property {boolean} demo
 * @property {string | null} set id of the found set it came from
 * @property {string} changed
 * @property {string} [from] id of the sale it was in the file it came from
 * @property {boolean | 'demo'} [removed] `demo` for one that went with the demo sets
 */

/** A whole row; what is not given stands at rest. @param {Partial<Sale>} values @returns {Sale} */
export function newSale(values) {
  const rest = { model_sheet: null, date: today(), kind: 'sold', state: null, place: '', note: '', rate: null, log_offset: null, aside: false, demo: false, set: null };
  return /** @type {Sale} */ ({ ...rest, id: newId(), changed: new Date().toISOString(), ...values });
}

/** Those that are not in the bin, the latest first. @returns {Promise<Sale[]>} */
export async function listSales() {
  const key = (sale) => `${sale.date}\n${sale.changed}\n${sale.id}`;
  return (await (await openDatabase()).all('sales')).filter((sale) => !sale.removed)
    .sort((a, b) => (key(a) < key(b) ? 1 : -1));
}

/** One sale, be it in the bin. @param {string} id @returns {Promise<Sale | undefined>} */
export const openSale = async (id) => (await openDatabase()).get('sales', id);

/** @param {Sale} sale */
export const keepSale = (sale) => keepSales([sale]);

/** Keeps sales in one transaction, as changed now. @param {Sale[]} sales */
export function keepSales(sales) {
  const changed = new Date().toISOString();
  return save(({ put }) => {
    for (const sale of sales) put('sales', { ...sale, changed });
  });
}

/** Puts sales in the bin, or takes them out again, in one transaction. @param {string[]} ids @param {boolean} removed */
export async function binSales(ids, removed) {
  return keepSales((await Promise.all(ids.map(openSale))).map((sale) => ({ ...sale, removed })));
}

/** Sales of what this set is, of the demo for a demo set; its own is no evidence of what it will fetch. */
function like({ id, family, model_sheet: type, demo }, sales) {
  return sales.filter((sale) => sale.family === family && sale.set !== id && sale.demo === Boolean(demo)
    && (sale.model_sheet === type || !sale.model_sheet || !type));
}

/**
 * The sales that count for a found set.
 * @param {import('./found_set.js').Base} base
 * @param {Sale[]} sales
 */
export const comparablesFor = (base, sales) => like(base, sales).filter((sale) => !sale.aside);

/** Those that would count for it, had nobody set them aside. @param {import('./found_set.js').Base} base @param {Sale[]} sales */
export const asideFor = (base, sales) => like(base, sales).filter((sale) => sale.aside);

/** A sale in the contract's form. @param {Sale} sale */
export const comparable = ({ price, currency, date, state, kind, rate, log_offset: offset = null }) =>
  ({ price, currency, date, state, kind, rate, log_offset: offset });
