/** The restoration plan of an appraised set: what the page and the plain text say in the same words. */
import { _, _n } from '../language.js';
import { basisWords } from './basis_words.js';
import { byId } from './rule_row.js';
import { sayDay } from './sale_words.js';
import { hours } from './words.js';

/** A task less likely than this is counted, not listed. */
const LEAST = 0.05;
/** How a part is to be found, the hardest first. */
const findWords = () => ({ 'not to be had': _('not to be had'), hard: _('hard to find'), 'takes patience': _('takes patience to find'), easy: _('easy to find') });
const undoWords = () => ({ 'can be undone': _('Can be undone.'), partly: _('Can be undone only in part.'), 'cannot be undone': _('Cannot be undone.') });

/**
 * @typedef {Object} Task
 * @property {string} id
 * @property {string} [part] that it brings
 * @property {number} number it goes by, running on through the plan
 * @property {string} label with how many times
 * @property {string} hours
 * @property {string} materials
 * @property {string} chance empty for one that is certain
 * @property {string} undo
 * @property {boolean} lasting whether it cannot be undone
 * @property {string} why
 * @property {string} basis
 * @property {any[]} fresh rows of cautions that nothing before it said
 * @property {any[]} again rows of cautions that an earlier task said in full
 * @property {string} aboveWords names those that stand at the top
 *
 * @typedef {{label: string, tasks: Task[]}} Stage
 */

/**
 * Everything that the plan says; a heading is empty where nothing stands under it.
 * @param {any} appraised what pages/appraised.js gives
 */
export function planRows(appraised) {
  const { foundSet, pack, findings, appraisal, money } = appraised;
  const { hours: work, materials, tasks } = appraisal.effort;
  const listed = tasks.filter((line) => line.probability >= LEAST);
  const told = new Set();
  const entries = [...listed.filter(isCertain), ...listed.filter((line) => !isCertain(line))]
    .map((line, index) => ({ line, task: byId(pack.tasks, line.task), number: index + 1 }));
  const rows = entries.map((entry) => ({ stage: entry.task.stage, said: taskRow(appraised, entry, told) }));
  const few = tasks.length - listed.length;
  const title = foundSet.get('title');
  const certain = stages(pack, rows.filter(({ said }) => !said.chance));
  return {
    title: title && !title.includes(pack.name) ? `${title} (${pack.name})` : title || pack.name,
    aim: _('Aim: {aim}', { aim: byId(pack.aims, findings.aim).label }),
    written: _('Written {day}.', { day: sayDay(findings.today) }),
    totals: _('{hours} of work, {money} in materials ({currency}).', { hours: span(hours, work), money: span(money.say, materials), currency: findings.currency }),
    estimate: _('An estimate from rule tables and from what was seen. Work inside, and the first power-up, are for a person trained for them, under your local electrical code.'),
    top: pack.cautions.filter(({ id }) => appraisal.cautions.includes(id)),
    heading: heading(certain.length, tasks.length),
    certain,
    openHeading: _('Only if what is not checked needs it'),
    open: stages(pack, rows.filter(({ said }) => said.chance)),
    few: fewWords(few),
    partsNote: _('What one costs, low to high. The materials of the tasks hold it already.'),
    parts: partRows(appraised, entries),
    lasting: rows.map(({ said }) => said).filter(({ lasting }) => lasting),
    ...notChecked(appraised),
  };
}

const isCertain = (line) => line.probability >= 1;

/** Both points in words, or one where they read alike. */
const span = (say, { p50, p90 }) => between(say(p50), say(p90));

const between = (low, high) => (low === high ? low : _('{low} to {high}', { low, high }));

/** A likelihood in words. */
const chanceWords = ({ probability }) => _('{share}\u00a0% likely', { share: Math.min(99, Math.floor(100 * probability + 0.5)) });

function heading(certain, all) {
  if (certain > 0) return _('The plan');
  return all > 0 ? _('Nothing is certain to need doing so far') : _('Nothing to do: what was found calls for no work');
}

function fewWords(few) {
  if (few === 0) return '';
  return _n('{count} task less than {share} % likely is not listed; the totals count it by that.',
    '{count} tasks less than {share} % likely are not listed; the totals count them by that.', few, { share: 100 * LEAST });
}

function notChecked({ foundSet, pack, appraisal }) {
  const labels = (unseen) => appraisal.not_checked.filter((id) => Boolean(foundSet.found(id).unseen) === unseen).map((id) => byId(pack.checks, id).label);
  const [unchecked, unseen] = [labels(false), labels(true)];
  return {
    unchecked, unseen, uncheckedHeading: _('Not checked: {count}', { count: unchecked.length }),
    unseenHeading: _('Could not be looked at: {count}', { count: unseen.length }),
  };
}

function taskRow({ pack, money, appraisal }, { line, task, number }, told) {
  const rows = pack.cautions.filter(({ id }) => task.cautions.includes(id));
  const [above, below] = [true, false].map((there) => rows.filter(({ id }) => appraisal.cautions.includes(id) === there));
  const fresh = below.filter(({ id }) => !told.has(id));
  for (const { id } of fresh) told.add(id);
  return {
    id: task.id,
    part: task.part,
    number,
    label: line.items > 1 ? _('{task} ({count} times)', { task: task.label, count: line.items }) : task.label,
    hours: span(hours, line.hours),
    materials: line.materials.p90 > 0 ? _('{money} in materials', { money: span(money.say, line.materials) }) : _('no materials'),
    chance: isCertain(line) ? '' : chanceWords(line),
    undo: undoWords()[task.undo],
    lasting: task.undo === 'cannot be undone',
    why: task.why,
    basis: basisWords(task.basis),
    fresh,
    again: below.filter((row) => !fresh.includes(row)),
    aboveWords: above.length > 0 ? _('Mind the caution at the top: {cautions}.', { cautions: above.map((row) => row.title).join('; ') }) : '',
  };
}

/** Tasks under the stages in which they follow one another. @returns {Stage[]} */
function stages(pack, rows) {
  const groups = [];
  for (const { stage, said } of rows) {
    if (groups.at(-1)?.stage !== stage) groups.push({ stage, label: byId(pack.plan_stages, stage).label, tasks: [] });
    groups.at(-1).tasks.push(said);
  }
  return groups;
}

/** Parts that the listed tasks bring, the hardest to find first. */
function partRows({ pack, findings, money }, entries) {
  const found = findWords();
  const order = Object.keys(found);
  return entries.filter(({ task }) => task.part).map(({ line, task }) => {
    const { label, find, buy } = byId(pack.parts, task.part);
    const price = buy ? between(...[buy[0], buy[2]].map((sum) => money.say(sum * findings.rate))) : _('nobody sells it');
    return { label, words: found[find], price, chance: isCertain(line) ? _('certain') : chanceWords(line), rank: [order.indexOf(find), -line.probability] };
  }).sort((a, b) => a.rank[0] - b.rank[0] || a.rank[1] - b.rank[1]);
}

/** A caution in full. @param {any} row */
export const cautionWords = ({ title, look, text, who }) => [`${title}.`, look && _('Look for: {signs}', { signs: look }), text, who].filter(Boolean).join(' ');
