/** What a thing on the shelf may hold: a spare, a want or a donor. */
import { _ } from '../language.js';

const formWords = () => _('It does not have the form of a thing on the shelf.');

const within = (value, least, most) => typeof value === 'number' && value >= least && value <= most;
const isName = (value) => typeof value === 'string' && value !== '' && value.length <= 200;
const orNull = (rule) => (value) => value === null || value === undefined || rule(value);

const WHOLE = {
  id: isName, changed: isName, kind: (value) => ['spare', 'want', 'donor'].includes(value),
};
/** A spare or a want is of a part, a donor of a found set. */
const PART = {
  family: isName, model_sheet: orNull(isName), part: isName, state: orNull((value) => within(value, 0, 1)), worth: orNull((value) => within(value, 0, 1e12)),
  count: (value) => Number.isInteger(value) && within(value, 1, 999),
};
const DONOR = { set: isName };

/**
 * What is wrong with a thing on the shelf as it is kept or came in a file.
 * @param {any} thing
 * @returns {string} empty when it is whole
 */
export function damage(thing) {
  if (typeof thing !== 'object' || thing === null) return formWords();
  const rules = { ...WHOLE, ...thing.kind === 'donor' ? DONOR : PART };
  return Object.entries(rules).every(([key, rule]) => rule(thing[key])) ? '' : formWords();
}
