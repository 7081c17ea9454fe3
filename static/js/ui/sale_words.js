/** A sale in words: price, day, and the notice that keeps an undo. */
import { locale } from '../language.js';
import { dayLocale } from './habits.js';
import { clearNotice, notice } from './notices.js';

/** A price to the last digit, as it was written down. @param {{price: number, currency: string}} sale */
export function sayPrice({ price, currency }) {
  const digits = Number.isInteger(price) ? { minimumFractionDigits: 0, maximumFractionDigits: 0 } : {};
  return new Intl.NumberFormat(locale(), { style: 'currency', currency, ...digits }).format(price);
}

/** A day such as 1 Jun 2025. @param {string} date */
export function sayDay(date) {
  return new Date(`${date}T00:00:00Z`).toLocaleDateString(dayLocale(), { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' });
}

/** The state of a sale that names none: that of the set it came from, or not known. @param {any} sale */
export const stateUnknown = (sale) => (Number.isFinite(sale?.log_offset) ? 'As its findings say' : 'Not known');

/** @param {any} problem */
export const sayUnsaved = (problem) => notice('save', problem.message, { kind: 'bad' });

/** @param {number} count */
export const countSales = (count) => (count === 1 ? '1 sale' : `${count} sales`);

/** Says what was done; the undo stays until it is used or closed. @param {string} said @param {() => Promise<any>} undo */
export function withUndo(said, undo) {
  notice('sale', said, { actions: [['Undo', async () => {
    try {
      clearNotice('sale');
      await undo();
      window.dispatchEvent(new Event('underchassis-changed'));
    } catch (problem) {
      sayUnsaved(problem);
    }
  }]] });
}
