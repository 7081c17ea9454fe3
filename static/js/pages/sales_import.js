/** The screen that takes a table of sales in: what becomes of each line is shown before anything is stored. */
import { _, _n } from '../language.js';
import { decoded, parseCsv } from '../store/csv.js';
import { lastSale } from '../store/sale_draft.js';
import { readHead } from '../store/sale_head.js';
import { saleKinds, saleTerms } from '../store/sale_kinds.js';
import { readTable } from '../store/sale_table.js';
import { binSales, keepSales, listSales, newSale } from '../store/sales.js';
import { h } from '../ui/element.js';
import { labelled } from '../ui/fields.js';
import { isCurrency } from '../ui/money.js';
import { ImportPreview } from '../ui/sale_preview.js';
import { sayUnsaved, withUndo } from '../ui/sale_words.js';

const MOST_BYTES = 2_000_000;
const MOST_LINES = 5000;

/** @param {HTMLElement} main @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showSalesImport(main) {
  document.title = `${_('Import sales')} · Underchassis`;
  const place = h('div', {});
  const file = /** @type {HTMLInputElement} */ (h('input', { type: 'file', accept: '.csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain', 'aria-label': _('Table of sales') }));
  file.addEventListener('change', async () => {
    const [chosen] = file.files ?? [];
    if (!chosen) return;
    try {
      const preview = await opened(chosen);
      await preview.show();
      place.replaceChildren(preview.element);
      preview.element.scrollIntoView();
    } catch (problem) {
      place.replaceChildren(h('p', { class: 'wrong', role: 'alert' }, problem.message));
    }
    file.value = '';
  });
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/sales', 'aria-label': _('Sales log') }, '‹'), h('h1', {}, _('Import sales'))),
    h('div', { class: 'page sales-import' }, h('section', { class: 'card' },
      h('p', {}, _('A table as a spreadsheet saves it under the name CSV. Its first line names the columns: date and price, and if you like currency, kind, type, state, place, note. You see what becomes of each line before anything is kept.')),
      h('details', {}, h('summary', {}, _('How it is read')), ...howRead().map((rule) => h('p', { class: 'fine' }, rule))),
      labelled(_('Choose the file'), file)), place));
  return { refresh: async () => {} };
}

/** How a table is read, rule by rule. */
const howRead = () => [
  _('In a price, 1.234,50 and 1,234.50 and 1 234,50 are the same, and 1.500 is fifteen hundred.'),
  _('A € or £ beside the price counts as its currency. A $ counts as US dollars unless the line or the name of the column says another currency.'),
  _('Dates may stand as 2025-06-01, 01.06.2025, 1/6/2025, 1 June 2025 or 2025-06. With dots the day comes first. Whether 1/6 is June or January is settled for the whole file.'),
  _('A line without sold or asked counts as sold.'),
];

/** The preview of a file. @param {File} file @throws {Error} a sentence, when it is no table of sales */
async function opened(file) {
  if (file.size > MOST_BYTES) throw new Error(_('This file is larger than 2 MB. Split it, and take in one part after the other.'));
  const text = decoded(await file.arrayBuffer());
  if (text.includes('\0')) throw new Error(_('This file is no table as text. In the spreadsheet, save it under the name CSV, and choose that file.'));
  const { rows, unclosed } = parseCsv(text);
  if (unclosed > 0) throw new Error(_('Row {number} opens a quotation mark that is never closed, so what follows cannot be told from it. Mend that row, and choose the file again.', { number: unclosed }));
  if (rows.filter((row) => row.length > 0).length > MOST_LINES + 1) {
    throw new Error(_('This table has more than {most} lines. Split it, and take in one part after the other.', { most: MOST_LINES }));
  }
  const head = readHead(rows, isCurrency);
  const [sales, last] = await Promise.all([listSales(), lastSale()]);
  const { families, types } = await saleKinds(sales);
  const known = { sheets: types, isCurrency, families: await Promise.all(families.map(async (row) => ({ ...row, ...await saleTerms(row.id) }))) };
  return new ImportPreview(known, head, {
    currency: last.currency ?? known.families[0].currency,
    read: async (answers) => readTable(rows, head, known, await listSales(), answers),
    take,
  });
}

/** Stores what is to be taken in, in one transaction. @param {import('../store/sale_table.js').Line[]} lines */
async function take(lines) {
  const sales = lines.filter((line) => line.fate === 'new').map((line) => newSale(line.sale));
  const others = lines.length - sales.length;
  try {
    await keepSales(sales);
  } catch (problem) {
    sayUnsaved(problem);
    return;
  }
  const taken = _n('{count} sale taken in.', '{count} sales taken in.', sales.length);
  const left = others > 0 ? ` ${_n('{count} line was left out.', '{count} lines were left out.', others)}` : '';
  withUndo(taken + left, () => binSales(sales.map((sale) => sale.id), true));
  location.hash = '#/sales';
}
