/** What the reader is used to: how numbers and dates are written, and what lengths are in. */
import { language, locale } from '../language.js';
import { spaced, typedNumber } from './money.js';

export { locale };

/** The locale that days are written for. English has the day first and the month in letters, wherever it is read. */
export const dayLocale = () => (language() === 'en' ? 'en-GB' : locale());

/** Where a person's choice is kept. */
const CHOICE = 'underchassis-lengths';
const MM_PER_INCH = 25.4;
/** Regions where people measure in inches. */
const INCH_REGIONS = ['US', 'LR', 'MM'];
/** Whole inches with a fraction, or a fraction alone, as on a drill. */
const FRACTION = /^\s*(?:(\d{1,3})\s+)?(\d{1,3})\s*\/\s*([1-9]\d{0,2})\s*$/;

/** The person's choice on this device; null for what is usual here, or when the browser gives nothing. */
export function chosenUnit() {
  try {
    return localStorage.getItem(CHOICE);
  } catch {
    return null;
  }
}

/** Keeps what lengths are in on this device; throws when the browser keeps nothing. @param {'mm' | 'inch' | null} unit */
export function chooseUnit(unit) {
  if (unit) localStorage.setItem(CHOICE, unit);
  else localStorage.removeItem(CHOICE);
}

/** What is usual where the browser says it is. @returns {'mm' | 'inch'} */
export const usualUnit = () => (INCH_REGIONS.includes(new Intl.Locale(navigator.language).region ?? '') ? 'inch' : 'mm');

/** What lengths are in. @returns {'mm' | 'inch'} */
export function lengthUnit() {
  const chosen = chosenUnit();
  return chosen === 'mm' || chosen === 'inch' ? chosen : usualUnit();
}

/** Millimetres in the unit that lengths are in. */
export const unitInMm = () => (lengthUnit() === 'inch' ? MM_PER_INCH : 1);

/**
 * A length as the reader is used to it: "16 mm" or "0.63 in". Inches to the hundredth, from ten on to the tenth;
 * millimetres to the tenth.
 * @param {number} mm
 */
export const length = (mm) => written(mm, digitsOf(mm), named());

/** The same without its unit. @param {number} mm */
export const lengthFigure = (mm) => written(mm, digitsOf(mm));

/** A measured length with its doubt, to the tenth of a millimetre or the thousandth of an inch. @param {number} mm @param {number} doubt above 0 */
export function measuredLength(mm, doubt) {
  const [digits, least] = lengthUnit() === 'inch' ? [3, 0.001 * MM_PER_INCH] : [1, 0.1];
  return `${written(mm, digits, named())} ± ${written(Math.max(doubt, least), digits)}`;
}

/** A length as it is said across a table: in whole millimetres, or in inches. @param {number} mm */
export const saidLength = (mm) => length(lengthUnit() === 'inch' ? mm : Math.max(1, Math.floor(mm + 0.5)));

const digitsOf = (mm) => (lengthUnit() === 'inch' && Math.abs(mm) < 10 * MM_PER_INCH ? 2 : 1);

/** @returns {Intl.NumberFormatOptions} */
const named = () => ({ style: 'unit', unit: lengthUnit() === 'inch' ? 'inch' : 'millimeter', unitDisplay: 'short' });

function written(mm, digits, options = {}) {
  return spaced(new Intl.NumberFormat(locale(), { ...options, maximumFractionDigits: digits }), mm / unitInMm());
}

/**
 * A length that somebody typed, in the unit that lengths are in; inches may end with a fraction, as in 1 3/8.
 * @param {string} text
 * @returns {number | null | undefined} millimetres, from inches to the thousandth; null for nothing typed, undefined for what is no length
 */
export function typedLength(text) {
  if (lengthUnit() === 'mm') return typedNumber(text);
  const [, whole, over, under] = FRACTION.exec(text) ?? [];
  const inches = under ? Number(whole ?? 0) + Number(over) / Number(under) : typedNumber(text);
  return typeof inches === 'number' ? Math.round(1000 * inches * MM_PER_INCH) / 1000 : inches;
}
