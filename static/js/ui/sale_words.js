/** A sale in words: price, day, and the notice that keeps an undo. */
import { _, _n, locale } from '../language.js';
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
export const stateUnknown = (sale) => (Number.isFinite(sale?.log_offset) ? _('As its findings say') : _('Not known'));

/** The same within a sentence. @param {any} sale */
export const stateUnknownWithin = (sale) => (Number.isFinite(sale?.log_offset) ? _('as its findings say') : _('not known'));

/** Whether it was sold or asked, in one word. @param {string} kind */
export const kindWord = (kind) => ({ sold: _('sold'), asked: _('asked') })[kind] ?? kind;

/** @param {any} problem */
export const sayUnsaved = (problem) => notice('save', problem.message, { kind: 'bad' });

/** @param {number} count */
export const countSales = (count) => _n('{count} sale', '{count} sales', count);

/** Says what was done; the undo stays until it is used or closed. @param {string} said @param {() => Promise<any>} undo */
export function withUndo(said, undo) {
  notice('sale', said, { actions: [[_('Undo'), async () => {
    try {
      clearNotice('sale');
      await undo();
      window.dispatchEvent(new Event('underchassis-changed'));
    } catch (problem) {
      sayUnsaved(problem);
    }
  }]] });
}
