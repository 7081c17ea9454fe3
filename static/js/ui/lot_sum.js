/** How the worth of a lot and the most to bid come from the worth of its sets: each step with its amount. */
import { _ } from '../language.js';
import { h } from './element.js';
import { figure } from './money.js';
import { hours } from './words.js';

const sum = (list) => list.reduce((total, one) => total + one, 0);

/** @param {import('./lot_view.js').LotView} view */
export function lotSum(view) {
  const { plan, reckoning } = view;
  const { margin, hour_rate: hourRate } = reckoning.lot;
  const worthOf = (owned) => sum(plan.sets.filter((row) => row.owned === owned).map(({ value }) => value));
  const steps = [
    [_('Your own sets and shelf, by what the lot changes'), worthOf(true) + plan.to_shelf - plan.from_shelf - plan.alone],
    [_('To buy'), -sum(plan.buys.map(({ cost }) => cost))],
    [_('Materials'), -plan.materials],
    [_('{hours} of work, at {amount} an hour', { hours: hours(plan.hours), amount: view.money.exactly(hourRate) }), -plan.hours * hourRate],
  ];
  return h('details', {}, h('summary', {}, _('How this comes')), h('ul', { class: 'rows lot-sum' },
    row(_('The sets of the lot, as planned'), view.say(worthOf(false))),
    ...steps.filter(([, value]) => Math.abs(value) > 0.004).map(([words, value]) => row(words, view.money.change(value))),
    row(_('Worth to you'), view.say(plan.total)),
    margin > 0 && plan.total > 0 ? row(_('Your margin, {share} %', { share: figure(Number((margin * 100).toFixed(2))) }), view.money.change(plan.bid - plan.total)) : null));
}

const row = (words, amount) => h('li', { class: 'part' }, h('span', {}, words), h('span', { class: 'fine' }, amount));
