/**
 * A seller's claims beside what a buyer found: what agrees, what differs, and what the differences are worth.
 * Twin of webapp/appraisal/claims.py.
 *
 * What is not checked stands as it was told. So the differences lead from the price of what was told to that of the same
 * with every difference in it, and their log effects add up to just that.
 *
 * @typedef {'agrees' | 'differs' | 'not checked'} State
 * @typedef {{id: string, state: State}} Claim `check/<id>`, `figure/<what is asked>` or `hole/<number in the list>`
 * @typedef {{id: string, log_effect: number, amount: number}} Difference a claim's id, or `untold/<number>` for a found
 *   hole that nobody told of
 * @typedef {{claims: Claim[], differences: Difference[], checked: number, amount: number, holes: (number | null)[]}} Checked
 *   both in the order of the walk; `holes`: for each told hole the number of the found one
 */
import { curveEffects, pairHoles, severityChanges } from './claimed_holes.js';
import { plainSerial } from './matching.js';
import { coverageEffect, misfits, shares } from './price.js';
import { moneyScale } from './reasons.js';
import { stand } from './standing.js';

export const AGREES = 'agrees';
export const DIFFERS = 'differs';
export const OPEN = 'not checked';

const spelled = (text) => (text.toLowerCase().match(/[^ \t\r\n]+/g) ?? []).join(' ');
const numbered = (text) => plainSerial(text) || spelled(text);
const asItIs = (value) => JSON.stringify(value);
const heating = (strings) => JSON.stringify(strings.map((string) => string.map((place) => place.map(({ volts, amps }) => [volts, amps]))));

/** Figures by what their check asks: where they stand in the findings, and what of them is compared. */
export const FIGURES = {
  nameplate: ['nameplate', spelled],
  serial: ['serial', numbered],
  order: ['order', spelled],
  coverage: ['coverage_khz', asItIs],
  crystal: ['crystal_khz', asItIs],
  book: ['book_serial', numbered],
  heaters: ['heater_strings', heating],
};
/** Figures from which each comparison is made, the one that its change is laid to first. */
const COMPARED = {
  crystal: ['figure/crystal', 'figure/coverage'], serial: ['figure/book', 'figure/serial'], heaters: ['figure/heaters'], designation: ['figure/nameplate'], finish: [],
};
const isThere = (value) => (Array.isArray(value) ? value.length > 0 : Boolean(value));

/**
 * The claims of `said` beside `found`, of which `now` holds the numbers, in the currency of `found`. What was told of a
 * follow-up falls away with the answer that opened it.
 * @param {any} prepared
 * @param {any} now
 * @param {import('./findings.js').Findings} found
 * @param {import('./findings.js').Findings} said
 * @param {import('./claimed_holes.js').Links} [links]
 * @returns {Checked}
 */
export function claims(prepared, now, found, said, links = { answers: [], gone: [] }) {
  const told = { ...said, aim: found.aim, region: found.region };
  const before = stand(prepared, told);
  const pairs = pairHoles(prepared.pack, told.holes, found.holes, links, saysNone(prepared, now.standing));
  const states = new Map(statesOf(prepared, before, now.standing, told, found, pairs));
  // That there are none, or some, was told as an answer, and stands or falls as one.
  const answered = told.holes.length === 0 && before.chosen[prepared.holeCheck] >= 0;
  const changes = answered ? new Map() : severityChanges(prepared.pack, told.holes, found.holes, pairs);
  const effects = new Map([...effectsOf(prepared, before, told, found, states), ...curveEffects(prepared.pack, told.holes, changes)]);
  const scale = moneyScale(now.market);
  const differing = [...states].filter(([, state]) => state === DIFFERS).map(([id]) => id);
  const differences = [...new Set([...differing, ...changes.keys()])].map((id) => ({ id, log_effect: effects.get(id), amount: effects.get(id) * scale }));
  return {
    claims: [...states].map(([id, state]) => ({ id, state })),
    differences,
    checked: [...states.values()].filter((state) => state !== OPEN).length,
    amount: differences.reduce((sum, row) => sum + row.amount, 0),
    holes: pairs.found,
  };
}

function saysNone({ checks, holeCheck }, { chosen }) {
  return checks[holeCheck].options[chosen[holeCheck]]?.id === 'none';
}

/** Every claim and how it stands, check by check, each with its figure or its holes behind it. @returns {Iterable<[string, State]>} */
function* statesOf(prepared, before, after, told, found, pairs) {
  for (const [index, check] of prepared.checks.entries()) {
    const [claimed, chosen] = [before.chosen[index], after.chosen[index]];
    const listed = index === prepared.holeCheck && told.holes.length > 0;
    if (claimed >= 0 && !listed && !differsAbove(prepared, before, after, index)) yield [`check/${check.id}`, stateOf(chosen >= 0, chosen === claimed)];
    const { asks } = prepared.pack.checks[index];
    if (Object.hasOwn(FIGURES, asks ?? '')) {
      const [key, compared] = FIGURES[asks];
      const seen = isThere(found[key]);
      if (isThere(told[key])) yield [`figure/${asks}`, stateOf(seen, seen && compared(told[key]) === compared(found[key]))];
    }
    if (listed) for (const [at, number] of pairs.found.entries()) yield [`hole/${at}`, stateOf(number !== null || pairs.gone.has(at), pairs.agreeing.has(at))];
  }
}

/** @returns {State} */
const stateOf = (seen, same) => (!seen ? OPEN : same ? AGREES : DIFFERS);

function differsAbove({ checks }, before, after, index) {
  for (let { parent } = checks[index]; parent >= 0; { parent } = checks[parent]) {
    if (after.chosen[parent] >= 0 && after.chosen[parent] !== before.chosen[parent]) return true;
  }
  return false;
}

/** The log effect of each answer and figure that differs. */
function effectsOf(prepared, before, told, found, states) {
  const after = stand(prepared, withDifferences(prepared, told, found, states));
  const [old, now] = [before, after].map((standing) => shares(prepared, standing, told.aim));
  const effects = new Map([...states].filter(([, state]) => state === DIFFERS).map(([id]) => [id, 0]));
  prepared.checks.forEach((check, index) => {
    if (effects.has(`check/${check.id}`)) effects.set(`check/${check.id}`, now.mean[index] - old.mean[index]);
  });
  if (effects.has('figure/coverage')) effects.set('figure/coverage', coverageEffect(prepared, after).mean - coverageEffect(prepared, before).mean);
  for (const [comparison, change] of misfitChanges(prepared, before, after)) {
    const source = sourcesOf(prepared, comparison).find((id) => effects.has(id));
    effects.set(source, effects.get(source) + change);
  }
  return effects;
}

/** What was told, with what was found in the place of all that differs, follow-ups included. */
function withDifferences(prepared, told, found, states) {
  const differs = (id) => states.get(id) === DIFFERS;
  const answers = { ...told.answers };
  prepared.checks.forEach((check, index) => {
    if (!differs(`check/${check.id}`)) return;
    for (const one of tree(prepared, index)) {
      delete answers[one];
      if (Object.hasOwn(found.answers, one)) answers[one] = found.answers[one];
    }
  });
  const figures = Object.entries(FIGURES).filter(([asked]) => differs(`figure/${asked}`)).map(([, [key]]) => [key, found[key]]);
  const holes = differs(`check/${prepared.checks[prepared.holeCheck].id}`) ? found.holes : told.holes;
  return { ...told, answers, holes, ...Object.fromEntries(figures) };
}

/** A check and all follow-ups that hang on it. @returns {string[]} */
function tree(prepared, index) {
  return [prepared.checks[index].id, ...prepared.checks.flatMap((check, child) => (check.parent === index ? tree(prepared, child) : []))];
}

/** By comparison, what no longer fits, or fits now, adds to the logarithm of the price. */
function misfitChanges(prepared, before, after) {
  const changes = new Map();
  for (const [sign, standing] of /** @type {[number, any][]} */ ([[-1, before], [1, after]])) {
    for (const [, comparison, effect] of misfits(prepared, standing)) changes.set(comparison, (changes.get(comparison) ?? 0) + sign * effect.mean);
  }
  return [...changes].filter(([, change]) => change !== 0);
}

/** The claims that a comparison rests on, the one that its change is laid to first. @returns {string[]} */
function sourcesOf({ checks, crystalCheck, bookCheck, comparable }, comparison) {
  const answers = { crystal: [crystalCheck], serial: [bookCheck], finish: comparable.map(([, index]) => index) };
  const sources = [...COMPARED[comparison]];
  for (let index of answers[comparison] ?? []) {
    for (; index >= 0; index = checks[index].parent) sources.push(`check/${checks[index].id}`);
  }
  return sources;
}
