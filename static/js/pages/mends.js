/** What if: each finding that some work mends, what that brings and takes, the best gain an hour first. */
import { _ } from '../language.js';
import { cautionBlocks } from '../ui/cautions.js';
import { h } from '../ui/element.js';
import { hours, reasonLabel } from '../ui/words.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showMends = (main, id) => showAppraised(main, id, _('What if'), mendsPage);

function mendsPage(appraised) {
  const { foundSet, pack, findings, appraisal, money } = appraised;
  const { mends, lasting } = appraisal;
  const told = new Set();
  const aim = pack.aims.find((row) => row.id === findings.aim).label;
  const paid = findings.hour_rate > 0 ? _('An hour of your work counts {sum}.', { sum: money.say(findings.hour_rate) }) : _('Your hours count nothing; say what one is worth under “About it”.');
  return [
    pageHead(appraised, `#/verdict/${foundSet.base.id}`, _('What if it were mended')),
    h('div', { class: 'page' },
      sheetUnused(appraised),
      h('p', { class: 'lead' }, mends.length > 0 ? _('Each finding mended by itself, the best gain an hour first.') : _('Nothing was found so far that some work would mend.')),
      mends.length > 0 && h('p', { class: 'help' }, `${_('The gain is what the finding takes off now, the same figure as everywhere; of holes, as much as filling gives back.')} ${paid}`),
      h('ol', { class: 'rows mends' }, ...mends.map((mend) => mendRow(pack, mend, aim, money, findings.hour_rate, told))),
      mends.some((mend) => mend.shared) && h('p', { class: 'fine' }, _('Mends that share some work take less together than one by one.')),
      lasting.length > 0 && h('section', { class: 'card' }, h('h2', {}, _('What stays')),
        h('p', { class: 'help' }, _('No work in the tables takes this back.')),
        h('ul', { class: 'rows sums' }, ...lasting.map((row) => h('li', {}, h('span', {}, reasonLabel(pack, row)), h('span', { class: 'fall-text' }, money.change(row.amount)))))),
      h('p', { class: 'fine' }, _('Power-up is for a person trained for it, under the local code.')),
      h('a', { class: 'row-link', href: `#/plan/${foundSet.base.id}` }, _('The restoration plan ›'))),
  ];
}

function mendRow(pack, mend, aim, money, hourRate, told) {
  const label = (id) => pack.tasks.find((row) => row.id === id).label;
  return h('li', { class: 'card' },
    h('h3', {}, reasonLabel(pack, mend)),
    h('dl', { class: 'figures' }, pair(_('brings'), money.change(mend.gain)),
      pair(_('takes'), _('{low} to {high}', { low: hours(mend.hours.p50), high: hours(mend.hours.p90) })), pair(_('materials'), money.say(mend.materials.p50)),
      pair(_('an hour'), mend.per_hour === null ? '–' : money.change(mend.per_hour))),
    h('p', { class: mend.net > 0 ? 'pays' : 'help' }, verdictOf(mend, money, hourRate)),
    h('p', { class: 'fine' }, [
      _('Mended, the market would pay {low} to {high} for it.', { low: money.say(mend.then.p10), high: money.say(mend.then.p90) }),
      _('Work: {tasks}.', { tasks: mend.tasks.map(label).join('; ') }),
      mend.shared && _('Partly the same work as another mend.'),
      !mend.in_aim && _('Beyond your aim ({aim}).', { aim }),
    ].filter(Boolean).join(' ')),
    ...cautionBlocks(pack, fresh(pack, mend.tasks, told)));
}

/** The cautions of a mend's work that stand nowhere above it. */
function fresh(pack, tasks, told) {
  const called = pack.tasks.filter((row) => tasks.includes(row.id)).flatMap((row) => row.cautions ?? []);
  const first = [...new Set(called)].filter((id) => !told.has(id));
  for (const id of first) told.add(id);
  return first;
}

/** Whether it pays; the difference is that of the figures as they are shown. */
function verdictOf({ gain, materials, hours: { p50 }, net }, money, hourRate) {
  const left = money.round(gain) - money.round(materials.p50) - money.round(hourRate * p50);
  if (Math.sign(left) !== Math.sign(net)) return _('It would just about pay for itself.');
  return net > 0 ? _('It pays: {sum} more than it takes.', { sum: money.exactly(left) }) : _('It does not pay: {sum} less than it takes.', { sum: money.exactly(-left) });
}

function pair(term, value) {
  return h('div', {}, h('dt', {}, term), h('dd', {}, value));
}
