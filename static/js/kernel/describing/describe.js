/** The description of a found set: title, sections, short form, and what goes beside them. Twin of describe.py. */
import { cautions, notChecked } from '../appraise.js';
import { p90 } from '../effort.js';
import { fairRange, numbers } from '../numbers.js';
import { crystal, familyName, heaters, identity, inShort, notCompared } from './agreeing.js';
import { beside, calibration, condition, holes, kinds } from './sections.js';
import { damaged, seen, STORY, tell, WITH_IT } from './seen.js';
import { blank, section, spoken } from './sentences.js';

/** How many findings the short form tells. */
const LARGEST = 3;

/**
 * @typedef {Object} Wishes what the seller wants told beside the findings
 * @property {'none' | 'asked' | 'range'} price
 * @property {number | null} asked in the findings' currency
 * @property {[string, string] | null} looked first and last day of looking
 * @property {string | null} written the day of writing
 */

/**
 * The description as a document; sentences are in the language of the pack, their blanks not yet filled.
 * @param {any} prepared of a pack with the reasons laid over it
 * @param {import('../findings.js').Findings} findings
 * @param {Wishes} wishes
 */
export function describe(prepared, findings, wishes) {
  const found = seen(prepared, findings, numbers(prepared, findings));
  const told = [
    identity(found), ...kinds(found), holes(found), calibration(found, crystal(found)), worn(found),
    beside(found, WITH_IT), beside(found, STORY), open(found), effort(found), price(found, wishes), dates(found, wishes),
  ];
  return {
    title: title(found),
    sections: told.filter((one) => one.paragraphs.length > 0),
    short: short(found, wishes),
    cautions: cautions(prepared, found.now.standing),
    reasons: wishes.price === 'range' ? moving(found.rows) : [],
    condition: damaged(found) ? 'damaged' : 'used',
    currency: findings.currency,
  };
}

function title({ pack }) {
  const family = blank('label', familyName(pack));
  if (!('sheet' in pack)) return spoken(pack, 'title-kind', ['family'], { family });
  return spoken(pack, 'title-type', ['model_sheet'], { type: blank('words', pack.name), family });
}

const worn = (found) => section(found.pack, 'condition', [...condition(found).paragraphs, heaters(found)]);

/** What was not checked, a paragraph for each stage; what could not be looked at or compared. */
function open(found) {
  const { prepared, pack, findings, now, told } = found;
  const ids = notChecked(prepared, now.standing);
  const checks = pack.checks.filter((check) => ids.includes(check.id));
  const unseen = checks.filter((check) => findings.unseen.has(check.id));
  const paragraphs = pack.stages.map((stage) => {
    const left = checks.filter((check) => check.stage === stage.id && !unseen.includes(check));
    return left.length > 0 ? [listing(found, 'tell-not-checked', left, { stage: blank('words', stage.title) })] : [];
  });
  if (unseen.length > 0) paragraphs.push([listing(found, 'tell-unseen', unseen)]);
  if (checks.length === 0) paragraphs.push([spoken(pack, 'tell-all-checked', told.map((one) => one.check.id))]);
  const names = notCompared(found);
  if (names.length > 0) paragraphs.push([spoken(pack, 'tell-not-compared', ['consistency'], { names: blank('list', names) })]);
  return section(pack, 'not-checked', paragraphs);
}

const listing = ({ pack }, word, checks, blanks = {}) =>
  spoken(pack, word, checks.map((check) => check.id), { checks: blank('list', checks.map((check) => check.label)), ...blanks });

/** What the work for the seller's aim takes by the tables, and whether open checks are in it. */
function effort({ pack, findings, now: { effort: work } }) {
  const { z90 } = pack.model;
  const told = [spoken(pack, 'tell-effort', ['effort'], {
    aim: blank('label', pack.aims.find((row) => row.id === findings.aim).label),
    least: blank('hours', work.hours[0]),
    most: blank('hours', p90(work.hours, z90)),
    low: blank('money', work.materials[0]),
    high: blank('money', p90(work.materials, z90)),
  })];
  if (work.lines.some((line) => line.probability > 0 && line.probability < 1)) told.push(spoken(pack, 'tell-effort-open', ['effort']));
  return section(pack, 'effort', [told]);
}

const price = (found, wishes) => section(found.pack, 'price', [priceTold(found, wishes)]);

function priceTold({ pack, prepared, now }, { price: wanted, asked }) {
  const told = [];
  if (wanted !== 'none' && asked !== null) told.push(spoken(pack, 'tell-asked', ['asked'], { asked: blank('money-as-given', asked) }));
  if (wanted === 'range') {
    const fair = Object.entries(fairRange(prepared, now)).map(([key, value]) => [key, blank('money', value)]);
    told.push(spoken(pack, 'tell-range', ['price'], Object.fromEntries(fair)));
  }
  return told;
}

/** What moves the price, the largest first. */
const moving = (rows) => rows.filter((row) => row.logEffect !== 0).map(({ what, option, amount }) => ({ what, option, amount }));

function dates({ pack }, { looked, written }) {
  const told = [];
  const [first, last] = (looked ?? []).map((day) => blank('date', day));
  if (looked) {
    told.push(looked[0] === looked[1] ? spoken(pack, 'tell-looked-day', ['looked'], { day: first }) : spoken(pack, 'tell-looked', ['looked'], { first, last }));
  }
  if (written) told.push(spoken(pack, 'tell-written', ['written'], { day: blank('date', written) }));
  return section(pack, 'dates', [told]);
}

/** The largest findings, how many more there are, how much was not checked, and the price if wanted. */
function short(found, wishes) {
  const { pack, prepared, rows, now: { standing } } = found;
  const all = rows.filter((row) => row.what !== 'not checked' && row.logEffect !== 0);
  const told = all.slice(0, LARGEST).map((row) => briefly(found, row));
  const others = all.slice(LARGEST).map((row) => row.what);
  if (others.length === 1) told.push(spoken(pack, 'tell-more-one', others));
  if (others.length > 1) told.push(spoken(pack, 'tell-more', others, { count: blank('figure', others.length) }));
  const left = notChecked(prepared, standing);
  const counts = { count: blank('figure', left.length), all: blank('figure', standing.shown.filter(Boolean).length) };
  told.push(left.length > 0 ? spoken(pack, 'tell-open', left, counts) : spoken(pack, 'tell-all-checked', ['family']));
  return [...told, ...priceTold(found, wishes)];
}

/** One finding as the full form tells it, or in a sentence that stands by itself. */
function briefly(found, row) {
  const one = found.told.find((told) => told.what === row.what);
  return one ? tell(found, one) : inShort(found, row.what);
}
