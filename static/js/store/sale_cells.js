/** Cells of a table of sales as people write them: prices, rates, dates, words for sold and asked. */
import { dateOf } from './sale_rules.js';

const MONTHS = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ');
const LONG_MONTHS = 'january february march april may june july august september october november december'.split(' ');
const SIGNS = { '€': 'EUR', '£': 'GBP', US$: 'USD' };
const KINDS = {
  sold: ['', 'sold', 'sale', 'sold for', 'bought', 'paid', 'hammer'],
  asked: ['asked', 'asking', 'asking price', 'ask', 'offered', 'offer', 'for sale', 'listed', 'unsold'],
};

/** A cell without what stands around it, in one case. @param {string} text */
export const plain = (text) => text.trim().replace(/\s+/g, ' ').toLowerCase();

/** `sold`, `asked`, or nothing for another word. @param {string} text */
export function readKind(text) {
  return Object.keys(KINDS).find((kind) => KINDS[kind].includes(plain(text)));
}

/**
 * A price, and the currency that stands with it. A lone "$" is told from the others, since many countries have one.
 * @param {string} text
 * @returns {{price: number | undefined, currency: string | null, dollar: boolean}} price undefined where no number can be read
 */
export function readPrice(text) {
  const mark = text.match(/US\$|[€£$]|[a-z]{3}(?![a-z$])/i)?.[0] ?? '';
  const price = readAmount(text.replace(mark, ''));
  return { price, currency: mark === '$' || mark === '' ? null : SIGNS[mark.toUpperCase()] ?? mark.toUpperCase(), dollar: mark === '$' };
}

/** Whether people write a currency with a "$". @param {string} code */
export function writtenWithDollar(code) {
  return new Intl.NumberFormat('en', { style: 'currency', currency: code, currencyDisplay: 'narrowSymbol' }).format(0).includes('$');
}

/** No sum of money needs more letters. */
const LONGEST_NUMBER = 40;
/** Thousands in groups of three by one mark or by spaces, and how the rest is told from them. */
const AMOUNTS = [
  [/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/, ','],
  [/^[1-9]\d{0,2}(\.\d{3})+(,\d+)?$/, '.'],
  [/^[1-9]\d{0,2}( \d{3})+([.,]\d+)?$/, ' '],
  [/^(\d+[.,]?\d*|[.,]\d+)$/, ''],
];

/** In an amount "1.500" is fifteen hundred, "1.50" one and a half. */
function readAmount(text) {
  const given = text.replace(/[\s\u00a0\u202f'’]+/g, ' ').trim().replace(/[.,][-–—]+$/, '');
  const form = given.length <= LONGEST_NUMBER && AMOUNTS.find(([pattern]) => pattern.test(given));
  return form ? Number(given.replaceAll(form[1], '').replace(',', '.')) : undefined;
}

/** A rate, or null for an empty cell; undefined where no number can be read. Here "1.500" is one and a half. @param {string} text */
export function readRate(text) {
  const given = text.trim().replace(',', '.');
  if (given === '') return null;
  if (given.length > LONGEST_NUMBER) return undefined;
  return /^(\d+\.?\d*|\.\d+)(e-?\d+)?$/.test(given) ? Number(given) : undefined;
}

const monthNamed = (word) => {
  const name = word.toLowerCase().replace(/^sept$/, 'sep');
  return Math.max(MONTHS.indexOf(name), LONG_MONTHS.indexOf(name)) + 1;
};
/** Forms of a date, and what stands where: year, month, day. */
const DATES = [
  [/^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?$/, ([y, m, d]) => [y, m, d]],
  [/^(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})$/, ([d, m, y]) => [y, m, d]],
  [/^(\d{1,2})(?:st|nd|rd|th)?[ .-]+([a-z]+)[ .,-]+(\d{4})$/i, ([d, m, y]) => [y, monthNamed(m), d]],
  [/^([a-z]+)[ .]+(\d{1,2})(?:st|nd|rd|th)?[ ,]+(\d{4})$/i, ([m, d, y]) => [y, monthNamed(m), d]],
  [/^(\d{4})[-/.](\d{1,2})$/, ([y, m]) => [y, m]],
  [/^(\d{1,2})[-/.](\d{4})$/, ([m, y]) => [y, m]],
  [/^([a-z]+)[ .,]+(\d{4})$/i, ([m, y]) => [y, monthNamed(m)]],
];
/** The form whose order differs from country to country. */
const SLASHED = /^(\d{1,2})[/-](\d{1,2})[/-](\d{4})$/;

/**
 * A date.
 * @param {string} text
 * @returns {{date: string, monthOnly?: boolean} | {slashed: number[]} | null} the three numbers of a date such as 1/6/2025; null for no date
 */
export function readDate(text) {
  const given = text.trim();
  const slashed = given.match(SLASHED);
  if (slashed) return { slashed: slashed.slice(1).map(Number) };
  for (const [pattern, parts] of DATES) {
    const found = given.match(pattern);
    if (!found) continue;
    const [year, month, day = 1] = parts(found.slice(1)).map(Number);
    const date = dateOf(year, month, day);
    return date ? { date, monthOnly: found.length === 3 } : null;
  }
  return null;
}

/** The date that three numbers stand for. @param {number[]} slashed @param {boolean} dayFirst */
export const inOrder = ([first, second, year], dayFirst) => (dayFirst ? dateOf(year, second, first) : dateOf(year, first, second));

/**
 * Which order all dates such as 1/6/2025 of a file have.
 * @param {number[][]} dates
 * @returns {boolean | null | 'both'} day first, or null when nothing tells, 'both' when they contradict one another
 */
export function orderOf(dates) {
  const dayFirst = dates.some(([first, second]) => first > 12 && second <= 12);
  const monthFirst = dates.some(([first, second]) => second > 12 && first <= 12);
  if (dayFirst && monthFirst) return 'both';
  return dayFirst || monthFirst ? dayFirst : null;
}

/** Spreadsheets take a text that begins so for a formula; an apostrophe before it keeps it a text. */
const FORMULA = /^'*[=+\-@]/;
export const guarded = (text) => (FORMULA.test(text) ? `'${text}` : text);
export const unguarded = (text) => (text.startsWith("'") && FORMULA.test(text) ? text.slice(1) : text);
