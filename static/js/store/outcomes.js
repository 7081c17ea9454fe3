/** What became of a set, kept beside what the app had said of it. It feeds the sales log in the same transaction. */
import { openDatabase } from './database.js';
import { LONGEST, RULES, today } from './sale_rules.js';
import { newSale } from './sales.js';

/**
 * @typedef {Object} Stated what the app said when an outcome was first recorded; it never changes afterwards
 * @property {number} low
 * @property {number} mid
 * @property {number} high
 * @property {{p50: number, p90: number}} hours
 * @property {string} aim
 *
 * @typedef {Object} Outcome
 * @property {'bought' | 'passed' | 'sold'} what
 * @property {number | null} price null only for one that was passed
 * @property {string} currency that of `stated` too
 * @property {string} date YYYY-MM-DD
 * @property {number | null} hours really spent
 * @property {Stated} stated
 * @property {string | null} sale id of its row in the sales log
 *
 * @typedef {import('./found_set.js').FoundSet} FoundSet
 */

/** What became of a set; null while nothing is kept, and for what a damaged file brought. @param {FoundSet} foundSet @returns {Outcome | null} */
export function outcomeOf(foundSet) {
  const outcome = foundSet.get('outcome');
  const { what, price, currency, date, hours, stated } = outcome ?? {};
  const figures = [stated?.low, stated?.mid, stated?.high, stated?.hours?.p50, stated?.hours?.p90, price ?? 0, hours ?? 0];
  const whole = ['bought', 'passed', 'sold'].includes(what) && figures.every((value) => Number.isFinite(value) && value >= 0) && !RULES.currency(currency) && !RULES.date(date);
  return whole && (what === 'passed' || price !== null) ? outcome : null;
}

/**
 * Keeps what happened, and its sale; a change of either changes both.
 * @param {any} appraised what pages/appraised.js gives
 * @param {Outcome['what']} what
 * @param {number | null} price
 */
export async function keepOutcome({ foundSet, pack, findings, appraisal }, what, price) {
  const before = outcomeOf(foundSet);
  const old = await saleOf(foundSet);
  const { fair } = appraisal.price;
  const first = { hours: null, currency: findings.currency, stated: { ...fair, hours: appraisal.effort.hours, aim: findings.aim } };
  const date = before?.what === what ? before.date : today();
  const outcome = { ...first, ...before, what, price, date, sale: null };
  // A gift tells nothing about prices, and neither does one that was passed without a figure.
  if (RULES.price(price)) return write(foundSet, outcome, old && { ...old, removed: true });
  const said = { price, date, currency: outcome.currency, kind: what === 'passed' ? 'asked' : 'sold', removed: false };
  const sale = { ...old ?? firstSale(foundSet, pack, appraisal.price, outcome.currency), ...said };
  return write(foundSet, { ...outcome, sale: sale.id }, sale);
}

/** The set's sale as it is first put down; what is edited in the log later stays. */
function firstSale({ base, values }, pack, { as_is: asIs, reference }, currency) {
  const own = values.get('currency');
  return newSale({
    family: base.family, model_sheet: base.model_sheet, set: base.id, demo: Boolean(base.demo),
    place: (values.get('place') ?? '').slice(0, LONGEST.place), note: (values.get('title') || pack.name).slice(0, LONGEST.note),
    rate: own?.code === currency && currency !== pack.reference.currency ? own.rate ?? null : null,
    // A drilled one that went cheaply tells of no cheap complete one.
    log_offset: Math.log(asIs.p50 / reference.median),
  });
}

/** @param {FoundSet} foundSet @param {number | null} hours */
export const keepHours = (foundSet, hours) => foundSet.put('outcome', { ...foundSet.get('outcome'), hours });

/** Takes back what was kept, and bins its sale. @param {FoundSet} foundSet @returns {Promise<() => Promise<void>>} brings both again */
export async function takeBack(foundSet) {
  const outcome = foundSet.get('outcome');
  const sale = await saleOf(foundSet);
  await write(foundSet, null, sale && { ...sale, removed: true });
  return () => write(foundSet, outcome, sale);
}

/** The row of the log that an outcome made; one that came in a file may go by another id here. @param {FoundSet} foundSet */
export async function saleOf(foundSet) {
  const id = foundSet.get('outcome')?.sale;
  if (!id) return null;
  const sales = await (await openDatabase()).all('sales');
  return sales.find((sale) => sale.set === foundSet.base.id && (sale.id === id || sale.from === id)) ?? null;
}

/** Both in one transaction; what the disk refuses is not shown as kept. */
async function write(foundSet, outcome, sale) {
  const before = foundSet.get('outcome');
  const changed = new Date().toISOString();
  try {
    await foundSet.putAll({ outcome }, ({ put }) => sale && put('sales', { ...sale, changed }));
  } catch (problem) {
    foundSet.values.set('outcome', before);
    throw problem;
  }
}
