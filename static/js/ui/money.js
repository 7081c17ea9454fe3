/** Money as people read it: rounded by the kernel's rule, written by the browser in the reader's locale. */
import { rounded } from '../kernel/money.js';
import { locale } from '../language.js';

/** @type {Map<string, Intl.NumberFormat>} */
const formats = new Map();

function format(currency, digits) {
  const name = `${currency} ${digits}`;
  let known = formats.get(name);
  if (!known) {
    known = new Intl.NumberFormat(locale(), {
      style: 'currency', currency, currencyDisplay: 'narrowSymbol',
      minimumFractionDigits: digits, maximumFractionDigits: digits,
    });
    formats.set(name, known);
  }
  return known;
}

/** Decimals of a currency's minor unit by ISO 4217; browsers have lists of their own. @param {string} currency @param {any} pack */
export const minorDigits = (currency, { minor_digits: unusual }) => unusual[currency] ?? 2;

/** Whether a text is a currency code of ISO 4217, as far as the browser knows. @param {string} code */
export function isCurrency(code) {
  if (!/^[A-Z]{3}$/.test(code)) return false;
  return Intl.supportedValuesOf ? Intl.supportedValuesOf('currency').includes(code) : true;
}

/**
 * A writer of money for one currency, rounded as the pack says.
 * @param {string} currency
 * @param {any} pack
 * @returns {{say: (value: number, down?: boolean) => string, change: (value: number) => string,
 *   round: (value: number) => number, exactly: (value: number) => string}} `exactly` writes what is rounded already
 */
export function moneyWriter(currency, pack) {
  const digits = minorDigits(currency, pack);
  const { rounding_share: share } = pack.model;
  const round = (value, down = false) => rounded(value, share, digits, down);
  const exactly = (value) => {
    // A difference of rounded amounts must not show the last bits of binary fractions.
    const shown = Number(value.toFixed(digits));
    return format(currency, Number.isInteger(shown) ? 0 : Math.max(1, digits)).format(shown);
  };
  const say = (value, down = false) => exactly(round(value, down));
  const change = (value) => {
    const shown = rounded(value, share, digits);
    return shown === 0 ? '±0' : (shown > 0 ? '+' : '−') + say(Math.abs(value));
  };
  return { say, change, round, exactly };
}

/** Fills the blanks of a sentence such as "Offer {offer}." @param {string} sentence @param {Record<string, any>} blanks */
export function fillBlanks(sentence, blanks) {
  return sentence.replace(/\{(\w+)\}/g, (_, name) => String(blanks[name] ?? ''));
}

/** @type {Intl.NumberFormat | undefined} */
let figures;

/** A figure such as a frequency, with thin thousands. @param {number} value */
export function figure(value) {
  figures ??= new Intl.NumberFormat(locale(), { maximumFractionDigits: 3 });
  return spaced(figures, value);
}

/** A number with thin thousands. @param {Intl.NumberFormat} format @param {number} value */
export const spaced = (format, value) => format.formatToParts(value).map((part) => (part.type === 'group' ? '\u202f' : part.value)).join('');

/** No number that a person types needs more letters. */
const LONGEST = 60;
/** Thousands in groups of three, as in 1,500 or 1.500,50. */
const GROUPED = [[/^\d{1,3}(,\d{3})+(\.\d+)?$/, ','], [/^\d{1,3}(\.\d{3})+,\d+$/, '.']];

/**
 * The number somebody typed, with a decimal point or comma, and spaces or commas between thousands.
 * @param {string} text
 * @returns {number | null | undefined} null for nothing typed, undefined for what is no number
 */
export function typedNumber(text) {
  if (text.length > LONGEST) return undefined;
  let plain = text.replace(/[\s\u00a0\u202f']/g, '');
  for (const [form, mark] of GROUPED) if (form.test(plain)) plain = plain.replaceAll(mark, '');
  plain = plain.replace(',', '.');
  if (plain === '') return null;
  return /^\d*\.?\d+$|^\d+\.$/.test(plain) ? Number(plain) : undefined;
}

/** The sum of money somebody typed: there 1.500 is fifteen hundred. @param {string} text */
export const typedPrice = (text) => typedNumber(/^\s*[1-9]\d{0,2}(\.\d{3})+\s*$/.test(text) ? text.replaceAll('.', '') : text);
