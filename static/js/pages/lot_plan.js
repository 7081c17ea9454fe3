/** The plan of a lot: what to bid, who gives what to whom, what to buy, what is left over, what to look at before bidding. */
import { _, _n } from '../language.js';
import { h, setText } from '../ui/element.js';
import { keyOf, lotDrawing, rank } from '../ui/lot_drawing.js';
import { lotHead, lotName } from '../ui/lot_head.js';
import { LotSolving } from '../ui/lot_solving.js';
import { lotSum } from '../ui/lot_sum.js';
import { grouped } from '../ui/lot_view.js';
import { nothingWords, planned, planningWords } from '../ui/lot_planned.js';

/** @param {HTMLElement} main @param {import('../store/lots.js').Lot} lot */
export async function showLotPlan(main, lot) {
  const body = h('div', {}, h('p', { role: 'status' }, planningWords()));
  const solving = new LotSolving((plan) => show(plan));
  let view = null;
  const show = (plan) => {
    view = view.with(plan);
    setText(solving.how, view.how);
    body.replaceChildren(...sections(lot, view).filter(Boolean));
  };
  const page = h('div', { class: 'page lot-plan' }, solving.element, body);
  main.replaceChildren(lotHead(lot, `#/lot/${lot.id}`, _('Plan'), lotName(lot)), page);
  const refresh = async () => {
    const made = await planned(lot.id);
    if (!made) {
      solving.stop('');
      setText(solving.how, '');
      body.replaceChildren(h('p', {}, nothingWords()), h('a', { class: 'button strong', href: `#/lot/${lot.id}/add` }, _('Add sets')));
      return;
    }
    view = made.view;
    show(view.plan);
    solving.follow(made.planning, view.plan);
  };
  await refresh();
  return { refresh };
}

function sections(lot, view) {
  const { plan } = view;
  return [
    h('p', { class: 'lead' }, h('strong', {}, plan.bid > 0 ? _('Bid at most {bid}.', { bid: view.money.say(plan.bid, true) }) : _('The lot is not worth a bid.')), plan.asking === null ? '' : ` ${_('They ask {price}.', { price: view.say(plan.asking) })}`),
    h('p', {}, worthWords(view)),
    lotSum(view), exchangeSection(view), buysSection(view), salvageSection(view), looksSection(view),
    h('div', { class: 'links' }, h('a', { class: 'button', href: `#/lot/${lot.id}/pick` }, _('Pick lists')), h('a', { class: 'button', href: '#/shelf' }, _('My shelf'))),
  ];
}

function worthWords(view) {
  const { range, total, materials } = view.plan;
  const blanks = { range: view.range(range), total: view.say(total), plan: view.summary };
  return materials > 0 ? _('The lot is worth {range} to you, likely {total}: {plan}, materials for {materials}.', { ...blanks, materials: view.say(materials) })
    : _('The lot is worth {range} to you, likely {total}: {plan}.', blanks);
}

const section = (heading, ...children) => h('section', { class: 'card' }, h('h2', {}, heading), ...children);
const item = (what, amount = '') => h('li', { class: 'part' }, h('span', {}, what), amount && h('span', { class: 'fine' }, amount));

function exchangeSection(view) {
  const { moves } = view.plan;
  if (moves.length === 0) return section(_('Who gives what to whom'), h('p', {}, _('Nobody: no part of one set makes another worth more than it costs.')));
  const receivers = [...grouped(moves, ({ to }) => keyOf(to))].sort(([a], [b]) => rank(a) - rank(b));
  const rows = receivers.map(([to, own]) => h('li', { class: 'lot-exchange' }, h('strong', {}, capital(view.name(to)), typeof to === 'number' ? ` ${view.title(to)}` : ''),
    ...[...grouped(own, ({ from }) => keyOf(from)).values()].map((parts) => h('span', {}, _('{parts} from {name}', { parts: parts.map(view.moved).join('; '), name: view.name(parts[0].from) })))));
  return section(_('Who gives what to whom'), lotDrawing(view), h('ul', { class: 'rows' }, ...rows));
}

function buysSection(view) {
  const { buys } = view.plan;
  if (buys.length === 0) return null;
  const total = buys.reduce((sum, { cost }) => sum + cost, 0);
  return section(_('To buy'), h('p', { class: 'help' }, _('About {sum} in all.', { sum: view.say(total) })),
    h('ul', { class: 'rows' }, ...buys.map(({ part, for: who, cost }) => item(_('{part} for {name}', { part: capital(view.part(part, who)), name: view.name(who) }), view.say(cost)))));
}

function salvageSection(view) {
  const parts = [...grouped(view.plan.salvage, ({ part, from }) => view.part(part, from))].map(([part, rows]) => [part, rows, rows.reduce((sum, { worth }) => sum + worth, 0)]).sort((a, b) => b[2] - a[2]);
  if (parts.length === 0) return null;
  const total = parts.reduce((sum, row) => sum + row[2], 0);
  return section(_('Left over, to sell'), h('p', { class: 'help' }, _('About {sum} in all.', { sum: view.say(total) })), h('details', {}, h('summary', {}, _n('{count} kind of part', '{count} kinds of parts', parts.length)),
    h('ul', { class: 'rows' }, ...parts.map(([part, rows, worth]) => item(`${rows.length > 1 ? `${rows.length} × ` : ''}${part}`, view.say(worth))))));
}

/** Shown with the plan: enough to do before bidding, and no more. */
const MOST_LOOKS = 8;

function looksSection(view) {
  const looks = view.plan.looks.filter(({ set }) => !view.reckoning.members[set].owned).slice(0, MOST_LOOKS);
  if (looks.length === 0) return null;
  return section(_('Before you bid, look at'), h('p', { class: 'help' }, _('What would change the plan most for its time: the seconds it takes, and by how much the plan is likely to change.')), h('ul', { class: 'rows' }, ...looks.map(({ set, check, change, seconds }) => {
    const { foundSet, prepared } = view.reckoning.members[set];
    const label = prepared.pack.checks.find((row) => row.id === check)?.label ?? check;
    return h('li', {}, h('a', { class: 'row-link', href: `#/set/${foundSet.base.id}/${check}` }, h('span', {}, `${capital(view.name(set))}: ${label}`), h('span', { class: 'fine' }, `${seconds} s · ${view.say(change)}`)));
  })));
}

const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);
