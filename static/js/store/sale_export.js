/** The sales log as a file for spreadsheets. */
import { writeCsv } from './csv.js';
import { download } from './exporting.js';
import { today } from './sale_rules.js';
import { tableOf } from './sale_table.js';
import { listSales } from './sales.js';

/** One's own sales as CSV, and how many they are; invented ones would be taken for real in another notebook. */
export async function salesCsv() {
  const own = (await listSales()).filter((sale) => !sale.demo);
  return { text: writeCsv(tableOf(own)), count: own.length };
}

/** Hands the log to the browser as a file. @returns {Promise<number>} how many sales it holds */
export async function downloadSales() {
  const { text, count } = await salesCsv();
  // Spreadsheets take a file for UTF-8 only when it begins with this mark.
  download(`underchassis-sales-${today()}.csv`, 'text/csv', `\ufeff${text}`);
  return count;
}
