/**
 * What a copy of a seller's page may hold, wherever it comes from: his server, a file, another device. Each rule takes a
 * value and tells whether it is whole.
 *
 * @typedef {Object} Claims
 * @property {string} from address of the page
 * @property {string} title
 * @property {string} written the day, YYYY-MM-DD
 * @property {any} findings those of FINDINGS, as the seller told them
 * @property {{amount: number, currency: string} | null} asked
 * @property {number} photos how many the page shows
 */

/** Bytes of a copy as JSON: it must travel to the second device as one operation. */
const LARGEST = 80_000;
/** Letters of a text that a plate or a page bears. */
export const LONGEST = 400;
/** Photos that a page shows at most. */
const MOST_PHOTOS = 60;

const within = (least, most) => (value) => typeof value === 'number' && value >= least && value <= most;
const matches = (pattern) => (value) => typeof value === 'string' && value.length <= 200 && pattern.test(value);
const orNothing = (rule) => (value) => value === null || value === undefined || rule(value);
const listOf = (rule, most, least = 0) => (value) => Array.isArray(value) && value.length >= least && value.length <= most && value.every(rule);
const shape = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);
const record = (rules) => (value) => shape(value) && Object.keys(value).every((key) => Object.hasOwn(rules, key)) && Object.entries(rules).every(([key, rule]) => rule(value[key]));

const isText = (value) => typeof value === 'string' && value.length <= LONGEST;
const isKhz = within(1, 1e7);
export const isId = matches(/^[a-z0-9]+(-[a-z0-9]+)*$/);
const isHole = record({ place: isId, diameter_mm: within(0.1, 500), as_found: (value) => ['open', 'plugged', 'enlarged'].includes(value) });
const isHeater = record({ volts: within(0.1, 1000), amps: within(0.001, 1000), tube: orNothing(isText) });
const isPlace = (value) => (Array.isArray(value) ? listOf(isHeater, 100, 1)(value) : isHeater(value));

/** By key of the findings that a page tells of. */
export const FINDINGS = {
  family: isId,
  model_sheet: orNothing(isId),
  answers: (value) => shape(value) && Object.keys(value).length <= 1000 && Object.entries(value).flat().every(isId),
  unseen: orNothing(listOf(isId, 1000)),
  holes: orNothing(listOf(isHole, 500)),
  coverage_khz: orNothing((value) => listOf(isKhz, 2, 2)(value) && value[0] < value[1]),
  crystal_khz: orNothing(isKhz),
  nameplate: orNothing(isText),
  serial: orNothing(isText),
  book_serial: orNothing(isText),
  order: orNothing(isText),
  heater_strings: orNothing(listOf(listOf(isPlace, 100, 1), 100)),
};

const CLAIMS = {
  from: matches(/^https?:\/\/[^\s/]+\/d\/[0-9a-f]{32}$/),
  title: isText,
  written: matches(/^\d{4}-\d{2}-\d{2}$/),
  findings: record(FINDINGS),
  asked: orNothing(record({ amount: within(0, 1e12), currency: matches(/^[A-Z]{3}$/) })),
  photos: (value) => Number.isInteger(value) && within(0, MOST_PHOTOS)(value),
};

/** The keys that are not as they should be; empty when all is. @param {any} claims @returns {string[]} */
export function faults(claims) {
  if (!shape(claims)) return Object.keys(CLAIMS);
  const wrong = Object.entries(CLAIMS).filter(([key, rule]) => !rule(claims[key])).map(([key]) => key);
  return wrong.includes('findings') && shape(claims.findings) ? [...wrong, ...Object.keys(FINDINGS).filter((key) => !FINDINGS[key](claims.findings[key]))] : wrong;
}

/** Whether a copy is small enough to travel. @param {any} claims */
export const travels = (claims) => new TextEncoder().encode(JSON.stringify(claims)).length <= LARGEST;

/** Whether a copy is whole. @param {any} claims */
export const areClaims = (claims) => faults(claims).length === 0 && Object.keys(claims).every((key) => Object.hasOwn(CLAIMS, key)) && travels(claims);
