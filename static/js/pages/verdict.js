/** The Verdict screen: one sentence, the range, what moved it, what to do. */
import { appraise } from '../kernel/appraise.js';
import { readFindings } from '../kernel/findings.js';
import { openSet } from '../store/notebook.js';
import { loadReasons, prepareFor } from '../store/packs.js';
import { cautionBlocks } from '../ui/cautions.js';
import { h } from '../ui/element.js';
import { minorDigits, moneyWriter } from '../ui/money.js';
import { rangeDrawing } from '../ui/range.js';
import { waterfall } from '../ui/waterfall.js';
import { hours, matchSentence, reasonLabel, verdictSentence } from './words.js';

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export async function showVerdict(main, id) {
  const refresh = async () => {
    const foundSet = await openSet(id);
    if (!foundSet) {
      location.hash = '#/';
      return;
    }
    await loadReasons(foundSet.base.family);
    const prepared = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
    main.replaceChildren(...verdictPage(foundSet, prepared));
    document.title = `Verdict: ${foundSet.get('title') || prepared.pack.name} · Underchassis`;
  };
  await refresh();
  return { refresh };
}

function verdictPage(foundSet, prepared) {
  const { pack } = prepared;
  const { findings } = readFindings(foundSet.findings(prepared), prepared);
  const appraisal = appraise(prepared, findings, minorDigits(findings.currency));
  const money = moneyWriter(findings.currency, pack.model.rounding_share);
  const walk = `#/set/${foundSet.base.id}`;
  const { asking } = findings;
  const sub = [foundSet.base.demo ? 'Demo' : '', foundSet.get('place'), asking === null ? '' : `they ask ${money.say(asking)}`];
  return [
    h('header', { class: 'top' }, h('a', { class: 'back', href: walk, 'aria-label': 'Walk round' }, '‹'),
      h('div', {}, h('h1', {}, foundSet.get('title') || pack.name), h('p', { class: 'sub' }, sub.filter(Boolean).join(' · ')))),
    h('div', { class: 'page verdict' },
      prepared.unused && h('p', { class: 'wrong' }, `${prepared.unused} The figures are those of its kind: ${pack.name}.`),
      headline(pack, appraisal, asking, money),
      h('section', { class: 'card' }, h('h2', {}, 'What moves it'), movement(pack, appraisal, money)),
      ...cautionBlocks(pack, appraisal.cautions),
      lookNext(pack, appraisal, walk, money),
      work(pack, appraisal, findings, money),
      agreement(pack, appraisal, money),
      scores(pack, appraisal, foundSet),
      notChecked(pack, appraisal, foundSet),
      h('p', { class: 'fine' }, `An estimate from rule tables and what you saw, not an appraisal in the legal sense. Tables: ${pack.name}.`)),
  ];
}

function headline(pack, appraisal, asking, money) {
  const { fair } = appraisal.price;
  const text = verdictSentence(pack, appraisal, asking, money);
  const [first, ...rest] = text.split(/(?<=[.!?]) /);
  const asked = asking === null ? '' : `; they ask ${money.say(asking)}`;
  return h('section', { class: 'headline' },
    h('h2', { class: 'verdict-word' }, first),
    h('p', { class: 'lead' }, rest.join(' ')),
    rangeDrawing(fair, asking, `The market would pay ${money.say(fair.low)} to ${money.say(fair.high)}${asked}.`),
    h('dl', { class: 'range-figures' },
      figurePair('low', money.say(fair.low)), figurePair('middle', money.say(fair.mid)), figurePair('high', money.say(fair.high)),
      asking !== null && figurePair('they ask', money.say(asking), 'asked')));
}

/** What was compared, what does not fit first, then what cannot be told yet. */
function agreement(pack, appraisal, money) {
  const order = ['does not fit', 'cannot tell yet', 'fine'];
  const worth = new Map(appraisal.reasons.map((row) => [row.what, row.amount]));
  const rows = appraisal.consistency.toSorted((a, b) => order.indexOf(a.result) - order.indexOf(b.result));
  return h('section', { class: 'card' }, h('h2', {}, 'What fits together'), ...rows.map((match) => {
    const amount = ['_foreign', '_misfit', ''].map((end) => worth.get(`${match.check === 'serial' ? 'book' : match.check}${end}`))
      .find((value) => value !== undefined);
    return h('p', { class: `match ${match.result.split(' ')[0]}` },
      h('strong', {}, `${pack.words[`name-${match.check}`]}, ${match.result}: `), matchSentence(pack, match),
      match.logEffect !== 0 && amount !== undefined && h('span', { class: 'sub' }, ` ${money.change(amount)}.`),
      match.result !== 'fine' && h('span', { class: 'sub' }, ` ${pack.words[`look-${match.check}`]}`));
  }));
}

function figurePair(term, value, kind = '') {
  return h('div', { class: kind }, h('dt', {}, term), h('dd', {}, value));
}

function movement(pack, appraisal, money) {
  const rows = appraisal.reasons.filter((row) => row.logEffect !== 0).map((row) => ({
    label: reasonLabel(pack, row),
    amount: row.amount,
    say: money.change,
    last: row.what === 'not checked',
    why: row.why ?? '',
    basis: row.basis,
    source: row.source ? pack.sources?.[row.source]?.title ?? null : null,
    href: `#/rules/${pack.family}${row.what === 'not checked' ? '' : `/${row.what}${row.option ? `/${row.option}` : ''}`}`,
  }));
  const { reference, as_is: asIs } = appraisal.price;
  const still = appraisal.reasons.length - rows.length;
  return h('div', {}, waterfall(rows,
    { label: 'A complete one, as made', value: reference.median, text: money.say(reference.median) },
    { label: 'This one as it stands, middle', value: asIs.p50, text: money.say(asIs.p50) }),
  appraisal.price.fair.mid > asIs.p50 && h('p', { class: 'why' }, `In parts it fetches more: middle ${money.say(appraisal.price.fair.mid)}.`),
  still > 0 && h('p', { class: 'why' }, `${still} ${still === 1 ? 'finding is' : 'findings are'} as made and ${still === 1 ? 'moves' : 'move'} nothing.`));
}

function lookNext(pack, appraisal, walk, money) {
  const { value, threshold } = appraisal.looking;
  if (value < threshold || appraisal.next_checks.length === 0) {
    return h('section', { class: 'card' }, h('h2', {}, 'Look next'), h('p', {}, 'Nothing left on the list is likely to change the answer.'));
  }
  return h('section', { class: 'card' }, h('h2', {}, 'Look next'), h('ol', { class: 'rows' },
    ...appraisal.next_checks.slice(0, 5).map((look) => {
      const check = pack.checks.find((row) => row.id === look.check);
      const worth = look.evi > 0 ? ` · ${money.say(look.evi)}` : '';
      return h('li', {}, h('a', { class: 'row-link', href: `${walk}/${check.id}` },
        h('span', {}, check.label), h('span', { class: 'fine' }, `${look.seconds} s${worth}`)));
    })));
}

function work(pack, appraisal, findings, money) {
  const { effort, price, worth } = appraisal;
  const aim = pack.aims.find((row) => row.id === findings.aim);
  const certain = effort.tasks.filter((line) => line.probability >= 1);
  const maybe = effort.tasks.filter((line) => line.probability < 1 && line.probability >= 0.05);
  const told = new Set(appraisal.cautions);
  return h('section', { class: 'card' }, h('h2', {}, `The work: ${aim.label}`),
    h('p', { class: 'lead' }, `${hours(effort.hours.p50)} to ${hours(effort.hours.p90)}, ${money.say(effort.materials.p50)} to ${money.say(effort.materials.p90)} in materials.`),
    h('p', {}, `On average worth ${money.say(price.as_is.mean)} as it stands; restored, the work paid, ${orNothing(price.restored_net.mean, money)}; `
      + `in parts ${orNothing(price.parts.mean, money)}. The best of these is the most to pay: ${money.say(worth.value)}.`),
    h('ol', { class: 'rows plan' }, ...certain.map((line) => planRow(pack, line, money, told))),
    maybe.length > 0 && h('details', {}, h('summary', {}, `${maybe.length} more only if what is not checked needs them`),
      h('ol', { class: 'rows plan' }, ...maybe.map((line) => planRow(pack, line, money, told)))));
}

/** A mean that the work may have eaten up. */
function orNothing(value, money) {
  return value > 0 ? money.say(value) : 'less than nothing';
}

/** One task of the plan, with those of its cautions that stand nowhere above it. */
function planRow(pack, line, money, told) {
  const task = pack.tasks.find((row) => row.id === line.task);
  const fresh = task.cautions.filter((id) => !told.has(id));
  for (const id of fresh) told.add(id);
  const maybe = line.probability < 1 ? `${Math.floor(100 * line.probability + 0.5)} % likely · ` : '';
  const items = line.items > 1 ? ` (${line.items} times)` : '';
  return h('li', {}, h('details', {}, h('summary', {}, h('span', {}, task.label + items),
    h('span', { class: 'fine' }, `${maybe}${hours(line.hours.p50)} · ${money.say(line.materials.p50)}`)),
  h('p', { class: 'why' }, `${task.why ?? ''} ${undoText(task.undo)}`,
    h('a', { class: 'row-link', href: `#/rules/${pack.family}/task.${task.id}` }, `Hours and materials rest on: ${task.basis}. Read the row ›`))),
  ...cautionBlocks(pack, fresh));
}

function undoText(undo) {
  return { 'can be undone': 'Can be undone.', partly: 'Can be undone only in part.', 'cannot be undone': 'Cannot be undone.' }[undo];
}

function scores(pack, appraisal, foundSet) {
  const percent = (value) => `${Math.floor(value + 0.5)} %`;
  const words = {
    completeness: 'of what belongs to it is there, by weight',
    originality: 'as it left the works',
    calibration: 'of what it needs to read true',
  };
  return h('section', { class: 'card' }, h('h2', {}, 'How complete, how original'),
    ...Object.entries(words).map(([name, text]) => {
      const { low, likely, high } = appraisal[name];
      const span = low === high ? percent(likely) : `about ${percent(likely)} (${percent(low)} to ${percent(high)})`;
      return h('p', {}, h('strong', {}, `${name[0].toUpperCase()}${name.slice(1)} ${span}`), ` ${text}.`);
    }),
    h('details', {}, h('summary', {}, 'Part by part'), h('ul', { class: 'rows' }, ...pack.parts.map((part) => partRow(pack, part, foundSet)))));
}

function partRow(pack, part, foundSet) {
  const check = pack.checks.find((row) => row.part === part.id);
  const option = check.options.find((row) => row.id === foundSet.found(check.id).option);
  return h('li', { class: 'part' }, h('span', {}, part.label), h('span', { class: 'fine' },
    option ? `${option.label} (${Math.floor(100 * option.state + 0.5)} % of weight ${part.weight})` : `not checked (weight ${part.weight})`));
}

function notChecked(pack, appraisal, foundSet) {
  const label = (id) => pack.checks.find((row) => row.id === id).label;
  const unseen = appraisal.not_checked.filter((id) => foundSet.found(id).unseen);
  const open = appraisal.not_checked.filter((id) => !unseen.includes(id));
  return h('section', { class: 'card' }, h('h2', {}, 'Not checked'),
    h('p', {}, open.length > 0 ? `${open.map(label).join(', ')}.` : 'Everything that could be looked at was.'),
    unseen.length > 0 && h('p', {}, h('strong', {}, 'Could not be looked at: '), `${unseen.map(label).join(', ')}.`));
}
