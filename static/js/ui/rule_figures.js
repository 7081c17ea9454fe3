/** The figures of rule rows as people read them. Twin of webapp/pages/rule_figures.py. */
import { _, locale } from '../language.js';
import { figure } from './money.js';

/** A value rounded to tenths by its size, halves upward. @param {number} value */
function tenths(value) {
  return (Math.sign(value) * Math.floor(Math.abs(value) * 10 + 0.5)) / 10;
}

/** What a log effect does to a price in percent, with its sign and without the word for percent. */
export function change(logEffect) {
  const percent_ = tenths(100 * (Math.exp(logEffect) - 1));
  if (percent_ === 0) return '±0';
  return (percent_ > 0 ? '+' : '−') + figure(Math.abs(percent_));
}

/** The same with its percent sign. @param {number} logEffect */
export const percent = (logEffect) => `${change(logEffect)} %`;

/** A log effect [mean, sd]: its percent, and in brackets those one standard deviation to each side. */
export function effect([mean, sd]) {
  return sd ? _('{middle} ({low} to {high})', { middle: percent(mean), low: change(mean - sd), high: percent(mean + sd) }) : percent(mean);
}

/** How far one standard deviation of a log price reaches to each side. @param {number} sd */
export const spread = (sd) => _('{low} to {high}', { low: change(-sd), high: percent(sd) });

/** A share as so many of 100. @param {number} share */
export const ofHundred = (share) => _('{count} of 100', { count: figure(tenths(100 * share)) });

/** A share in percent. @param {number} share */
export const ofWhole = (share) => `${figure(tenths(100 * share))} %`;

/** Three estimates with their unit. @param {number[]} three @param {string} unit */
export function estimate([low, likely, high], unit) {
  if (low === high) return `${figure(likely)} ${unit}`;
  return _('{low} to {high} {unit}, likely {likely}', { low: figure(low), high: figure(high), unit, likely: figure(likely) });
}

/** Inches to the ten-thousandth, in which drills are listed. @param {number} value */
export const inches = (value) => _('{inches} in', { inches: new Intl.NumberFormat(locale(), { maximumFractionDigits: 4 }).format(Number(value.toFixed(4))) });

/** Words in one line: "a, b and c". @param {string[]} words @param {'and' | 'or'} [between] */
export function names(words, between = 'and') {
  if (words.length < 2) return words.join('');
  const ends = { first: words.slice(0, -1).join(', '), last: words.at(-1) };
  return between === 'or' ? _('{first} or {last}', ends) : _('{first} and {last}', ends);
}

/** The sentence for a supply from the lowest to the highest voltage. @param {number[]} volts */
export const supply = ([low, high]) => _('Supply: {low} to {high} V.', { low: figure(low), high: figure(high) });
