/** What a lot may hold. Each rule takes a value and gives what is wrong with it, or nothing. */
import { RULES as SALE } from './sale_rules.js';

const FORM = 'It does not have the form of a lot.';
/** Longest name of a lot and longest number of a set in it, in letters. */
export const LONGEST_NAME = 120;
export const LONGEST_NUMBER = 20;

const within = (value, least, most) => typeof value === 'number' && value >= least && value <= most;
const isName = (value) => typeof value === 'string' && value !== '' && value.length <= 200;
const unless = (right, sentence = FORM) => (right ? '' : sentence);
const orNull = (rule) => (value) => (value === null ? '' : rule(value));

export const RULES = {
  name: (value) => unless(typeof value === 'string' && value.length <= LONGEST_NAME, `Keep the name to at most ${LONGEST_NAME} letters.`),
  asking: orNull((value) => unless(within(value, 0, 1e12), 'Write the price as a number, such as 450.')),
  margin: (value) => unless(within(value, 0, 1), 'Write a share from 0 to 100, such as 25.'),
  hour_rate: (value) => unless(within(value, 0, 1e9), 'Write what an hour is worth as a number, such as 15.'),
  hours_limit: orNull((value) => unless(within(value, 0, 1e6), 'Write the hours as a number, such as 40, or leave it empty.')),
  currency: orNull((value) => unless(typeof value === 'object', FORM) || SALE.currency(value.code) || SALE.rate(value.rate ?? null)),
};

const ROW = { ...RULES, id: (value) => unless(isName(value)), created: (value) => unless(isName(value)), changed: (value) => unless(isName(value)) };

/**
 * What is wrong with a lot as it is kept or came in a file.
 * @param {any} lot
 * @returns {string} empty when it is whole
 */
export function damage(lot) {
  if (typeof lot !== 'object' || lot === null) return FORM;
  return Object.entries(ROW).map(([key, rule]) => (key in lot ? rule(lot[key]) : FORM)).find(Boolean) ?? '';
}
