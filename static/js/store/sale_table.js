/** A table of sales to rows of the log and back. Nothing is stored here: each line gets its fate, and why. */
import { guarded } from './sale_cells.js';
import { COLUMNS } from './sale_head.js';
import { LineReader, Refusal } from './sale_line.js';

/**
 * @typedef {Object} Known what the lines may name
 * @property {{id: string, name: string, states: {id: string, label: string}[], currency: string}[]} families
 * @property {{id: string, name: string, family: string}[]} sheets
 * @property {(code: string) => boolean} isCurrency
 *
 * @typedef {{dayFirst: boolean | null, what: {family: string, model_sheet: string | null} | null, currency: string}} Answers what the file leaves open
 *
 * @typedef {Object} Line
 * @property {number} row as a spreadsheet counts
 * @property {string[]} cells
 * @property {'new' | 'here' | 'ask' | 'bad'} fate
 * @property {string} why for `bad` and `ask`
 * @property {string[]} remarks what was not taken as it stands
 * @property {any} [sale] its values
 */

/**
 * The fate of each line.
 * @param {string[][]} rows
 * @param {import('./sale_head.js').Head} head
 * @param {Known} known
 * @param {import('./sales.js').Sale[]} sales those that are here
 * @param {Answers} answers
 * @returns {{lines: Line[], order: number[] | null, noWhat: number, noCurrency: number}} `order` is a date whose order nothing tells
 */
export function readTable(rows, head, known, sales, answers) {
  const reader = new LineReader(rows, head, known, answers);
  const here = new Map();
  for (const sale of sales) if (!sale.demo) here.set(content(sale), (here.get(content(sale)) ?? 0) + 1);
  const lines = rows.map((cells, index) => ({ row: index + 1, cells })).slice(head.first).filter(({ cells }) => cells.some((cell) => cell.trim() !== ''))
    .map((line) => fated(line, reader, here));
  return { lines, order: reader.order === null ? reader.slashed.find(([first, second]) => first !== second) ?? null : null, noWhat: reader.noWhat, noCurrency: reader.noCurrency };
}

function fated(line, reader, here) {
  try {
    const { remarks, ...sale } = reader.read(line.cells);
    const left = here.get(content(sale)) ?? 0;
    here.set(content(sale), left - 1);
    return { ...line, fate: left > 0 ? 'here' : 'new', why: '', remarks, sale };
  } catch (problem) {
    if (!(problem instanceof Refusal)) throw problem;
    return { ...line, fate: problem.fate, why: problem.message, remarks: [] };
  }
}

/** What makes two sales the same; rate, offset and whether it counts can be added later. */
const content = ({ date, price, currency, kind, family, model_sheet: type, state, place, note }) => JSON.stringify([date, price, currency, kind, family, type, state, place, note]);

/** Beyond three digits before the point nobody takes the three after it for thousands. */
const written = (price) => String(price).replace(/^(\d{1,3}\.\d{3})$/, '$10');

/** The log as a table, its head first. @param {import('./sales.js').Sale[]} sales */
export function tableOf(sales) {
  return [COLUMNS, ...sales.map((sale) => [sale.date, written(sale.price), sale.currency, sale.kind, guarded(sale.family), guarded(sale.model_sheet ?? ''), guarded(sale.state ?? ''),
    guarded(sale.place), guarded(sale.note), sale.rate ?? '', sale.log_offset ?? '', sale.aside ? 'yes' : ''])];
}
