/** The restoration plan of one set: tasks in working order, parts to find, what cannot be undone; to print or pass on. */
import { _ } from '../language.js';
import { loadPack } from '../store/packs.js';
import { cautionBlocks } from '../ui/cautions.js';
import { h } from '../ui/element.js';
import { labelled, select } from '../ui/fields.js';
import { planRows } from '../ui/plan_rows.js';
import { planText } from '../ui/plan_text.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { textWays } from '../ui/text_ways.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showPlan = (main, id) => showAppraised(main, id, _('Plan'), planPage);

async function planPage(appraised, refresh) {
  const { foundSet, pack, findings } = appraised;
  const plan = planRows(appraised);
  const address = addresses(pack.family, await loadPack(pack.family));
  return [
    pageHead(appraised, `#/verdict/${foundSet.base.id}`, _('Restoration plan')),
    h('div', { class: 'page plan-page' },
      sheetUnused(appraised),
      aimField(foundSet, pack, findings.aim, refresh),
      h('p', { class: 'on-paper' }, `${plan.title}. ${plan.aim}.`),
      h('p', { class: 'lead plan-totals' }, plan.totals),
      h('p', {}, plan.estimate),
      textWays(() => planText(appraised)),
      ...cautionBlocks(pack, plan.top.map((row) => row.id)),
      h('h2', { class: 'plan-heading' }, plan.heading),
      ...plan.certain.map((stage) => stageSection(pack, stage, address)),
      plan.open.length > 0 && h('h2', { class: 'plan-heading' }, plan.openHeading),
      ...plan.open.map((stage) => stageSection(pack, stage, address)),
      plan.few && h('p', { class: 'fine' }, plan.few),
      partsCard(plan),
      listCard(_('What cannot be undone'), plan.lasting.map(({ number, label, chance }) => [`${number}. ${label}`, chance].filter(Boolean).join(', '))),
      listCard(plan.uncheckedHeading, plan.unchecked),
      listCard(plan.unseenHeading, plan.unseen),
      h('p', { class: 'fine' }, `${plan.written} ${_('Tables: {family}.', { family: pack.name })}`)),
  ];
}

function aimField(foundSet, pack, aim, refresh) {
  const choice = select(_('Aim'), pack.aims.map((row) => [row.id, row.label]));
  choice.value = aim;
  choice.addEventListener('change', async () => {
    try {
      await foundSet.put('aim', choice.value);
      await refresh();
      document.querySelector('.plan-aim select')?.focus();
    } catch (problem) {
      sayUnsaved(problem);
    }
  });
  return h('div', { class: 'plan-aim' }, labelled(_('What you want it for'), choice), h('p', { class: 'help' }, pack.aims.find((row) => row.id === aim).meaning));
}

/** Where a task stands among the rules; what only a type has goes by its part there. */
function addresses(family, { tasks }) {
  return ({ id, part }) => `#/rules/${family}/${tasks.some((task) => task.id === id) ? `task.${id}` : part}`;
}

function stageSection(pack, { label, tasks }, address) {
  return h('section', { class: 'plan-stage' }, h('h3', {}, label.charAt(0).toUpperCase() + label.slice(1)),
    h('ol', { class: 'plan-tasks', start: tasks[0].number }, ...tasks.map((task) => taskItem(pack, task, address))));
}

/** Cautions come before anything that says how it is done. */
function taskItem(pack, task, address) {
  return h('li', { 'data-task': task.id }, h('p', { class: 'plan-label' }, task.label),
    ...cautionBlocks(pack, task.fresh.map((row) => row.id)),
    ...task.again.map((row) => h('p', { class: 'plan-mind' }, h('strong', {}, _('Caution: {title}.', { title: row.title })), ' ', row.text)),
    task.aboveWords && h('p', { class: 'plan-mind' }, task.aboveWords),
    h('p', {}, task.chance && h('strong', {}, `${task.chance}; `), `${task.hours}; ${task.materials}. `, task.lasting ? h('strong', { class: 'plan-lasting' }, task.undo) : task.undo),
    h('p', { class: 'why' }, task.why),
    h('a', { class: 'plan-ground', href: address(task) }, _('Rests on: {basis} ›', { basis: task.basis })));
}

function partsCard({ parts, partsNote }) {
  return parts.length > 0 && h('section', { class: 'card' }, h('h2', {}, _('Parts to find')),
    h('p', { class: 'help' }, partsNote),
    h('ul', { class: 'rows' }, ...parts.map(({ label, words, price, chance }) => h('li', { class: 'part' },
      h('span', {}, `${label}: ${words}`), h('span', { class: 'fine' }, `${price}, ${chance}`)))));
}

function listCard(heading, labels) {
  return labels.length > 0 && h('section', { class: 'card' }, h('h2', {}, heading), h('ul', { class: 'rows' }, ...labels.map((label) => h('li', { class: 'part' }, label))));
}
