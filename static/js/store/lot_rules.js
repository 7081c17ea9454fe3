/** What a lot may hold. Each rule takes a value and gives what is wrong with it, or nothing. */
import { _ } from '../language.js';
import { RULES as SALE } from './sale_rules.js';

const formWords = () => _('It does not have the form of a lot.');
/** Longest name of a lot and longest number of a set in it, in letters. */
export const LONGEST_NAME = 120;
export const LONGEST_NUMBER = 20;

const within = (value, least, most) => typeof value === 'number' && value >= least && value <= most;
const isName = (value) => typeof value === 'string' && value !== '' && value.length <= 200;
const unless = (right, sentence = formWords()) => (right ? '' : sentence);
const orNull = (rule) => (value) => (value === null ? '' : rule(value));

export const RULES = {
  name: (value) => unless(typeof value === 'string' && value.length <= LONGEST_NAME, _('Keep the name to at most {longest} letters.', { longest: LONGEST_NAME })),
  asking: orNull((value) => unless(within(value, 0, 1e12), _('Write the price as a number, such as 450.'))),
  margin: (value) => unless(within(value, 0, 1), _('Write a share from 0 to 100, such as 25.')),
  hour_rate: (value) => unless(within(value, 0, 1e9), _('Write what an hour is worth as a number, such as 15.')),
  hours_limit: orNull((value) => unless(within(value, 0, 1e6), _('Write the hours as a number, such as 40, or leave it empty.'))),
  currency: orNull((value) => unless(typeof value === 'object') || SALE.currency(value.code) || SALE.rate(value.rate ?? null)),
};

const ROW = { ...RULES, id: (value) => unless(isName(value)), created: (value) => unless(isName(value)), changed: (value) => unless(isName(value)) };

/**
 * What is wrong with a lot as it is kept or came in a file.
 * @param {any} lot
 * @returns {string} empty when it is whole
 */
export function damage(lot) {
  if (typeof lot !== 'object' || lot === null) return formWords();
  return Object.entries(ROW).map(([key, rule]) => (key in lot ? rule(lot[key]) : formWords())).find(Boolean) ?? '';
}
