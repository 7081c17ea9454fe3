/** The buyer's answers to claims. They are findings like any other: nothing else says how a claim stands. */
import { NOTHING } from './found_set.js';

/** Where a figure is kept in what a check found, by what the check asks. */
export const KEYS = { coverage: 'coverage_khz', crystal: 'crystal_khz', heaters: 'heater_strings' };

/** @typedef {import('./found_set.js').Found} Found */

/** A check answered, or its answer taken back. @param {Found} found @param {any} check @param {string | null} option @returns {Found} */
export function withOption(found, check, option) {
  const before = check.asks_holes && option !== 'some' ? { ...found, ...NOTHING } : found;
  return { ...before, option, unseen: false, looked_over: false };
}

/** A figure taken over from the page, or taken back. @param {Found} found @param {string} asks @param {any} value null for none @returns {Found} */
export function withFigure(found, asks, value) {
  const key = KEYS[asks] ?? 'text';
  const none = { text: '', heater_strings: [] }[key] ?? null;
  return { ...found, unseen: false, [key]: value ?? none };
}

/**
 * One told hole looked at, or taken back.
 * @param {Found} found
 * @param {number[]} told numbers of all told holes
 * @param {number} at its number
 * @param {number | null} number where the buyer's hole stands in his list, if there is one
 * @param {import('../kernel/findings.js').Hole | 'gone' | null} hole as found; null for not looked at
 * @returns {Found}
 */
export function withHole(found, told, at, number, hole) {
  // Whoever said that there are none has looked for each.
  const gone = new Set(found.option === 'none' ? told : found.no_hole ?? []);
  const holes = [...found.holes ?? []];
  const some = holes.length > 0;
  if (typeof hole === 'object' && hole) holes.splice(number ?? holes.length, 1, { ...number === null ? {} : spotOf(holes[number], hole), ...hole, claim: at });
  else if (number !== null) holes.splice(number, 1);
  if (hole === 'gone') gone.add(at);
  else gone.delete(at);
  const option = holes.length > 0 ? 'some' : some || found.option === 'none' ? null : found.option;
  return { ...found, option, unseen: false, looked_over: false, holes, no_hole: [...gone] };
}

/** What stays of a hole as the buyer had it: where he placed it, and how he measured it while the size is the same. */
function spotOf(before, { place, diameter_mm: mm }) {
  if (before.place !== place) return {};
  if (before.diameter_mm === mm) return before;
  const { x_mm, y_mm } = before;
  return x_mm === undefined ? {} : { x_mm, y_mm };
}
