/** The first line of a table of sales: which column holds what. */
import { _ } from '../language.js';
import { plain } from './sale_cells.js';

/** What a column may be called, in any case and order. */
const NAMES = {
  date: ['date', 'when', 'day', 'sold on', 'date sold', 'sale date', 'date of sale', 'bought on'],
  price: ['price', 'amount', 'sum', 'sold for', 'paid', 'price paid', 'sale price', 'total', 'value', 'cost'],
  currency: ['currency', 'currency code', 'money'],
  kind: ['kind', 'sold or asked', 'sold asked', 'status', 'sale kind'],
  family: ['family', 'kind of set', 'category'],
  type: ['type', 'model', 'what', 'set', 'item', 'model sheet', 'name'],
  state: ['state', 'condition'],
  place: ['place', 'where', 'market', 'location', 'venue', 'seen at', 'fair'],
  note: ['note', 'notes', 'remark', 'remarks', 'comment', 'comments', 'description'],
  rate: ['rate', 'exchange rate', 'rate of exchange'],
  offset: ['offset', 'log offset'],
  aside: ['aside', 'set aside'],
};
/** The columns of the app's own file, in order. */
export const COLUMNS = ['date', 'price', 'currency', 'kind', 'family', 'type', 'state', 'place', 'note', 'rate', 'offset', 'aside'];

/** The names of columns are the same in every language. */
const expectedWords = () => _('Expected is a table as a spreadsheet saves it under the name CSV, whose first line names its columns: date and price, and if you like currency, kind, type, state, place, note.');

/** @typedef {{at: Record<string, number>, currency: string | null, unread: string[], first: number}} Head columns by meaning, the currency that the price's name says, names that mean nothing here, and the row after the head */

/**
 * @param {string[][]} rows
 * @param {(code: string) => boolean} isCurrency
 * @returns {Head}
 * @throws {Error} a sentence, when there is no column for the date or none for the price
 */
export function readHead(rows, isCurrency) {
  const first = rows.findIndex((row) => row.some((cell) => cell.trim() !== ''));
  if (first < 0) throw refusal(_('This file is empty.'));
  const head = { at: {}, currency: null, unread: [], first: first + 1 };
  rows[first].forEach((cell, index) => {
    const { name, currency } = column(cell, isCurrency);
    if (name === undefined || name in head.at) return cell.trim() && head.unread.push(cell.trim());
    head.at[name] = index;
    head.currency ??= currency;
    return undefined;
  });
  const lacking = ['date', 'price'].filter((name) => !(name in head.at));
  if (lacking.length === 1) throw refusal(_('No column of this file is called {name}.', { name: lacking[0] }));
  if (lacking.length > 1) throw refusal(_('No column of this file is called {first}, and none {second}.', { first: lacking[0], second: lacking[1] }));
  return head;
}

const refusal = (why) => new Error([why, expectedWords()].join(' '));

/** What a column's name means; that of the price may hold its currency, as in "Price (EUR)". */
function column(cell, isCurrency) {
  const words = (text) => plain(text.replace(/[^\p{L}\d]+/gu, ' '));
  const meaning = (text) => Object.keys(NAMES).find((name) => NAMES[name].includes(words(text)));
  const name = meaning(cell);
  const sign = { '€': 'EUR', '£': 'GBP' }[cell.match(/[€£]/)?.[0]];
  if (name) return { name, currency: name === 'price' ? sign ?? null : null };
  const code = cell.toUpperCase().match(/\b[A-Z]{3}\b(?=[^A-Z]*$)/)?.[0] ?? '';
  const rest = cell.replace(/ in\b/i, '').replace(new RegExp(`\\b${code}\\b(?=[^a-z]*$)`, 'i'), '');
  return code && isCurrency(code) && meaning(rest) === 'price' ? { name: 'price', currency: code } : {};
}
