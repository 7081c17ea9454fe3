/** How often the stated ranges held, over all sets whose outcome is known. */
import { _ } from '../language.js';
import { allSets } from '../store/notebook.js';
import { outcomeOf } from '../store/outcomes.js';
import { loadPack } from '../store/packs.js';
import { h } from '../ui/element.js';
import { figure, moneyWriter } from '../ui/money.js';
import { outcomeWords } from '../ui/outcome_words.js';
import { reliability, reliabilityWords } from '../ui/reliability.js';
import { reliabilityDiagram } from '../ui/reliability_diagram.js';
import { sayDay } from '../ui/sale_words.js';
import { hours } from '../ui/words.js';

/** @param {HTMLElement} main */
export async function showRecord(main) {
  const refresh = async () => {
    const sets = await setsToCount();
    const rows = reliability(sets.map(outcomeOf));
    const listed = await Promise.all(sets.map(setItem));
    main.replaceChildren(
      h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Back') }, '‹'), h('h1', {}, _('How often it held'))),
      h('div', { class: 'page record' },
        sets.some(({ base }) => base.demo) && h('p', { class: 'notice' }, _('These are demo sets; nothing in them is real.')),
        h('p', { class: 'lead' }, reliabilityWords(rows[0])),
        ...(sets.length > 0 ? [diagramCard(rows), tableCard(rows), setsCard(listed)] : [])));
    document.title = `${_('How often it held')} · Underchassis`;
  };
  await refresh();
  return { refresh };
}

/** Those bought or sold; the demo's only where there are no others. */
async function setsToCount() {
  const settled = (await allSets()).filter((foundSet) => ['bought', 'sold'].includes(outcomeOf(foundSet)?.what));
  const own = settled.filter(({ base }) => !base.demo);
  return own.length > 0 ? own : settled;
}

function diagramCard(rows) {
  return h('section', { class: 'card' }, h('h2', {}, _('Stated, and held')), reliabilityDiagram(rows),
    h('p', { class: 'help' }, _('A mark on the dashed line held as often as was stated. The bars say how far chance alone may carry it: they hold the true share in 19 of 20 cases.')));
}

function tableCard(rows) {
  const whole = (share) => Math.floor(100 * share + 0.5);
  const head = [_('What was counted'), _('Stated'), _('Held'), _('Could be')].map((name) => h('th', { scope: 'col' }, name));
  return h('section', { class: 'card' }, h('h2', {}, _('In figures')), h('table', { class: 'record-table' }, h('thead', {}, h('tr', {}, ...head)),
    h('tbody', {}, ...rows.map(({ what, level, held, count, low, high }) => h('tr', {}, h('th', { scope: 'row' }, what), h('td', {}, `${whole(level)} %`),
      h('td', {}, count > 0 ? _('{held} of {count}', { held, count }) : _('none yet')), h('td', {}, count > 0 ? _('{low} to {high}', { low: whole(low), high: `${whole(high)} %` }) : '–'))))));
}

const setsCard = (items) => h('section', { class: 'card' }, h('h2', {}, _('The sets')), h('ul', { class: 'rows' }, ...items));

async function setItem(foundSet) {
  const { base } = foundSet;
  const outcome = outcomeOf(foundSet);
  const { stated } = outcome;
  const pack = await loadPack(base.family).catch(() => null);
  if (!pack) return h('li', {}, h('p', {}, _('{set}: the rule tables of its kind are not on this phone.', { set: foundSet.get('title') || base.family })));
  const money = moneyWriter(outcome.currency, pack);
  return h('li', {}, h('a', { class: 'row-link record-set', href: `#/verdict/${base.id}` },
    h('strong', {}, foundSet.get('title') || pack.name),
    h('span', {}, _('stated {low} to {high}, middle {middle}', { low: money.say(stated.low), high: money.say(stated.high), middle: money.say(stated.mid) })),
    h('span', {}, `${outcomeWords(outcome)}, ${sayDay(outcome.date)}`),
    stated.hours.p50 > 0 && h('span', { class: 'fine' }, hoursWords(stated.hours, outcome.hours))));
}

/** The hours that were stated, and those it took where they are known. */
function hoursWords({ p50, p90 }, really) {
  const stated = { low: hours(p50), high: hours(p90) };
  return really === null ? _('stated {low} to {high}', stated) : _('stated {low} to {high}, really {hours} h', { ...stated, hours: figure(really) });
}
