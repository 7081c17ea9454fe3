/** What a set in an imported file may hold: each rule takes a value and tells whether it is whole. */
import { areClaims } from './claim_rules.js';
import { typedLabel } from './label_text.js';
import { LONGEST_NUMBER } from './lot_rules.js';
import { RULES as SALE } from './sale_rules.js';

const isText = (value) => typeof value === 'string' && value.length <= 4000;
const within = (least, most) => (value) => typeof value === 'number' && value >= least && value <= most;
const sum = within(0, 1e12);
const khz = within(1, 1e7);
const orNothing = (rule) => (value) => value === null || value === undefined || rule(value);
const isNumber = (value) => Number.isInteger(value) && within(0, 500)(value);
const every = (rule) => (value) => Array.isArray(value) && value.length <= 5000 && value.every(rule);

/** By key of a finding; keys of other versions are kept as they are. */
const VALUES = {
  title: isText, label: (value) => isText(value) && typedLabel(value) === value, place: isText, note: isText, role: isText, aim: isText,
  asking: sum, hour_rate: sum, region: within(1, 3), currency: isCurrency, outcome: isOutcome, lot: isMembership, claims: areClaims,
};

const FOUND = {
  option: isText, text: isText, coverage_khz: every(orNothing(khz)), crystal_khz: khz, holes: every(isHole), no_hole: every(isNumber),
  heater_strings: every(every((place) => every(isHeater)([place].flat()))),
};

function isCurrency({ code, rate }) {
  return SALE.currency(code) === '' && SALE.rate(rate ?? null) === '';
}

/** Where it sits and how it was measured may be left out, but then wholly. */
function isHole(hole) {
  return isText(hole?.place) && within(0.1, 500)(hole.diameter_mm) && ['open', 'plugged', 'enlarged', undefined].includes(hole.as_found)
    && [true, false, undefined].includes(hole.by_eye) && (hole.x_mm === undefined) === (hole.y_mm === undefined)
    && [hole.x_mm, hole.y_mm].every((mm) => mm === undefined || within(0, 6000)(mm)) && orNothing(isNumber)(hole.claim) && orNothing(isText)(hole.photo) && orNothing(isSpot)(hole.in_photo) && orNothing(within(0, 500))(hole.plus_minus_mm);
}

/** Where a hole is in its photo: middle and radius in pixels. */
const isSpot = (spot) => Array.isArray(spot) && spot.length === 3 && spot.every(within(0, 20_000));

function isHeater(heater) {
  return within(0.1, 1000)(heater?.volts) && within(0.001, 1000)(heater.amps);
}

/** Which lot it is of, and what it is called there. */
function isMembership({ lot, number }) {
  return isText(lot) && lot !== '' && isText(number) && number.length <= LONGEST_NUMBER;
}

/** Its figures are looked at where they are counted. */
function isOutcome({ what, currency, stated }) {
  return isText(what) && SALE.currency(currency) === '' && typeof stated === 'object';
}

const fits = (rules, values) => typeof values === 'object' && Object.entries(rules).every(([key, rule]) => orNothing(rule)(Object.hasOwn(values, key) ? values[key] : null));

/** Whether the base record of a set is whole. @param {any} base */
export function isBase({ id, family, created, model_sheet: sheet }) {
  return [id, family, created, sheet ?? ''].every(isText);
}

/** Whether a finding is whole. @param {any} finding */
export function isFinding({ key, value, changed }) {
  return isText(key) && isText(changed) && (key.startsWith('check/') ? orNothing((found) => fits(FOUND, found))(value) : fits(VALUES, { [key]: value }));
}

/** Whether a set of a file is whole. @param {any} entry base record with `findings` */
export function isWhole(entry) {
  try {
    return isBase(entry) && entry.findings.every(isFinding);
  } catch {
    return false;
  }
}
