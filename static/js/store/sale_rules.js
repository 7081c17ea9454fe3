/** What a recorded sale may hold. Each rule takes a value and gives what is wrong with it, or nothing. */
import { _ } from '../language.js';
import { localDay } from './found_set.js';

const formWords = () => _('It does not have the form of a sale.');
const OLDEST = '1900-01-01';

/** Longest texts, in letters. */
export const LONGEST = { place: 200, note: 400 };

const within = (value, least, most) => typeof value === 'number' && value >= least && value <= most;
const isText = (value) => typeof value === 'string';
const isName = (value) => isText(value) && value !== '' && value.length <= 200;
const unless = (right, sentence = formWords()) => (right ? '' : sentence);
const orNull = (rule) => (value) => (value === null ? '' : rule(value));

/** Today where the phone is, as YYYY-MM-DD. */
export const today = () => localDay(new Date());

/** YYYY-MM-DD, or nothing when the calendar has no such day. @param {number} year @param {number} month @param {number} day */
export function dateOf(year, month, day) {
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCMonth() === month - 1 && date.getUTCDate() === day && year > 999 ? date.toISOString().slice(0, 10) : '';
}

function isDate(value) {
  return isText(value) && /^\d{4}-\d\d-\d\d$/.test(value) && dateOf(...value.split('-').map(Number)) === value;
}

export const RULES = {
  price: (value) => unless(within(value, 0.01, 1e12), _('Write a price above 0, such as 120.')),
  currency: (value) => unless(isText(value) && /^[A-Z]{3}$/.test(value), _('Write the three letters of the currency, such as EUR.')),
  date: (value) => unless(isDate(value) && value >= OLDEST, _('Give the day, month and year of the sale.')),
  kind: (value) => unless(value === 'sold' || value === 'asked'),
  rate: orNull((value) => unless(within(value, 1e-9, 1e9), _('Write the rate as a number above 0, such as 0.92.'))),
  place: (value) => unless(isText(value) && value.length <= LONGEST.place, _('Keep the place to at most {longest} letters.', { longest: LONGEST.place })),
  note: (value) => unless(isText(value) && value.length <= LONGEST.note, _('Keep the note to at most {longest} letters.', { longest: LONGEST.note })),
};

/** What a sale may lack: what its set's findings did to the logarithm of its price. */
export const offsetRule = orNull((value) => unless(within(value, -10, 10), _('Write the offset as a number between -10 and 10, or leave it empty.')));

const ROW = {
  ...RULES,
  id: (value) => unless(isName(value)),
  family: (value) => unless(isName(value)),
  model_sheet: orNull((value) => unless(isName(value))),
  state: orNull((value) => unless(isName(value))),
  set: orNull((value) => unless(isName(value))),
  aside: (value) => unless(typeof value === 'boolean'),
  demo: (value) => unless(typeof value === 'boolean'),
  changed: (value) => unless(isName(value)),
};

/** What keeps a date out although it is one. @param {string} date */
export const future = (date) => unless(date <= today(), _('This day is still to come. A sale is recorded once it happened.'));

/**
 * What is wrong with a sale as it is kept or came in a file.
 * @param {any} sale
 * @returns {string} empty when it is whole
 */
export function damage(sale) {
  if (typeof sale !== 'object' || sale === null) return formWords();
  return Object.entries(ROW).map(([key, rule]) => (key in sale ? rule(sale[key]) : formWords())).find(Boolean) ?? offsetRule(sale.log_offset ?? null);
}
