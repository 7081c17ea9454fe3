/** The pick lists of a lot, to print and take to the bench: for each set what it takes, what it gives, what is bought for it. */
import { _ } from '../language.js';
import { numberIn } from '../store/lots.js';
import { cautionBlocks } from '../ui/cautions.js';
import { h } from '../ui/element.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { nothingWords, planned, planningWords } from '../ui/lot_planned.js';
import { wasLookedAt } from '../ui/lot_rows.js';
import { WAYS } from '../ui/lot_view.js';
import { hours } from '../ui/words.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot */
export async function showPick(main, lot) {
  const body = h('div', { class: 'page lot-pick' }, h('p', { role: 'status' }, planningWords()));
  main.replaceChildren(lotHead(lot, `#/lot/${lot.id}`, _('Pick lists'), lotName(lot)), body);
  const refresh = async () => {
    const made = await planned(lot.id);
    if (!made) body.replaceChildren(h('p', {}, nothingWords()));
    else body.replaceChildren(...lists(made.view));
  };
  await refresh();
  return { refresh };
}

function lists(view) {
  const sets = view.reckoning.members.map((member, index) => ({ ...member, index }));
  const busy = sets.filter(({ index }) => view.plan.sets[index].way !== 'as_is');
  const kept = sets.filter(({ index, owned }) => !owned && view.plan.sets[index].way === 'as_is');
  return [
    h('p', { class: 'fine' }, `${view.how} ${capital(view.summary)}.`),
    h('div', { class: 'links' }, h('button', { class: 'button strong', onclick: () => window.print() }, _('Print'))),
    ...cautions(view, busy),
    busy.length === 0 && h('p', {}, _('No set is completed or broken.')),
    ...busy.map((set) => pickCard(view, set)),
    kept.length > 0 && h('section', { class: 'card' }, h('h2', {}, _('Kept as they are')), h('p', {}, kept.map(({ foundSet, index }) => numbered(view, foundSet, index)).join('; '))),
  ].filter(Boolean);
}

/** What can hurt whoever opens these sets: each caution once, before the first list. */
function cautions(view, busy) {
  const said = new Set();
  return busy.flatMap(({ prepared: { pack }, index }) => {
    const { standing } = view.reckoning.problem.figures[index].seen;
    const called = pack.checks.flatMap(({ options }, at) => options[standing.chosen[at]]?.cautions ?? []);
    const fresh = pack.cautions.filter((row) => (row.standing || called.includes(row.id)) && !said.has(row.id)).map(({ id }) => id);
    for (const id of fresh) said.add(id);
    return cautionBlocks(pack, fresh);
  });
}

function pickCard(view, { foundSet, index, owned }) {
  const row = view.plan.sets[index];
  const name = owned ? capital(view.name(index)) : numbered(view, foundSet, index);
  const takes = view.plan.moves.filter(({ to }) => to === index)
    .map((move) => _('{part}, from {name}', { part: view.moved(move), name: view.name(move.from) }));
  const gives = view.plan.moves.filter(({ from }) => from === index)
    .map((move) => _('{part}, to {name}', { part: view.moved(move), name: view.name(move.to) }));
  const buys = view.plan.buys.filter((buy) => buy.for === index).map(({ part, cost }) => `${view.part(part, index)} (${view.say(cost)})`);
  const sells = view.plan.salvage.filter(({ from }) => from === index).map(({ part }) => view.part(part, index));
  return h('section', { class: 'card pick' }, h('h2', {}, name, h('span', { class: 'tag' }, WAYS[row.way])),
    h('p', { class: 'fine' }, [foundSet.get('label'), row.hours > 0 ? hours(row.hours) : _('no work'), !wasLookedAt(foundSet) && _('not looked at yet')].filter(Boolean).join(' · ')),
    ...[[_('Take'), takes], [_('Buy'), buys], [_('Give'), gives], [_('Sell'), [sells.join('; ')].filter(Boolean)]].filter(([, list]) => list.length > 0)
      .map(([word, list]) => h('div', { class: 'pick-list' }, h('strong', {}, `${word}:`), h('ul', {}, ...list.map((words) => h('li', {}, words))))));
}

const numbered = (view, foundSet, index) => _('No. {number} {title}', { number: numberIn(foundSet), title: view.title(index) });
const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);
