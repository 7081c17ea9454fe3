/** What a complete one fetches: the tables' word, each comparable sale, and what follows from both. */
import { h } from '../ui/element.js';
import { notice } from '../ui/notices.js';
import { referencePlot } from '../ui/reference_plot.js';
import { stateUnknown } from '../ui/sale_words.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/** Sales listed one by one, the latest first. */
const MOST = 100;

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showReference = (main, id) => showAppraised(main, id, 'Reference price', referencePage);

async function referencePage(appraised, refresh) {
  const { foundSet, pack, appraisal, money, sales, early } = appraised;
  const { base } = foundSet;
  const { reference } = appraisal.price;
  const rows = reference.comparables.map((weighed, index) => ({ ...weighed, sale: sales[index] }));
  const used = rows.filter((row) => row.used);
  const out = rows.filter((row) => !row.used);
  const { asideFor, listSales } = await import('../store/sales.js');
  const log = await listSales();
  const aside = asideFor(base, log);
  const ends = rangesOf(pack, reference);
  return [
    pageHead(appraised, `#/verdict/${base.id}`, 'What a complete one fetches'),
    h('div', { class: 'page' },
      sheetUnused(appraised),
      h('p', { class: 'lead' }, `A complete one, as made and untested: about ${money.say(reference.median)} today (${money.say(ends.now[0])} to ${money.say(ends.now[2])}).`),
      h('p', {}, movedWords(reference, used.length, money)),
      !base.demo && log.some((sale) => sale.demo) && h('p', { class: 'fine' }, "The demo's sales count for the demo sets alone."),
      h('section', { class: 'card' }, h('h2', {}, 'How it came about'), referencePlot(used, ends, money, pack.model.far_out), comparableTable(appraised, used, ends, refresh)),
      out.length + early.length > 0 && h('section', { class: 'card' }, h('h2', {}, 'Left out'),
        ...early.map((sale) => h('p', {}, `${saleWords(sale)}: that day is still to come. `, h('a', { href: `#/sales/${sale.id}` }, 'Set it right'))),
        ...out.map(({ sale }) => h('p', {},
        `${sale.currency} ${sale.price} of ${sale.date}: no rate from ${pack.reference.currency} is given, and currencies are never mixed. `,
        h('a', { href: `#/sales/${sale.id}` }, 'Give its rate')))),
      aside.length > 0 && h('section', { class: 'card' }, h('h2', {}, 'Set aside by hand'), ...aside.map((sale) => h('p', { class: 'part' },
        h('span', {}, saleWords(sale)), asideButton(sale, false, refresh)))),
      h('p', { class: 'links' }, h('a', { class: 'button strong', href: `#/sales/new/${base.family}/${base.model_sheet ?? '-'}` }, 'Add a sale'),
        h('a', { class: 'button', href: '#/sales' }, 'The sales log')),
      h('details', { class: 'card' }, h('summary', {}, 'How sales are weighed'), ...howWords(pack))),
  ];
}

/** P10, P50 and P90 of the tables' word, and of what follows with the sales, both without the scatter of like sets. */
function rangesOf({ model }, { prior, median, posterior_log_sd: sd }) {
  const ends = (middle, spread) => [-1, 0, 1].map((side) => middle * Math.exp(side * model.z90 * spread));
  return { prior: ends(prior.median, prior.log_sd), now: ends(median, sd) };
}

function movedWords({ prior, median }, count, money) {
  if (count === 0) return `This is the tables' own word, ${money.say(prior.median)}. Log what like sets sold for, and it moves.`;
  const share = Math.floor(100 * (1 - prior.share) + 0.5);
  return `The tables say ${money.say(prior.median)}; with ${count} ${count === 1 ? 'sale' : 'sales'} it is ${money.say(median)}. The sales carry ${share} % of the weight.`;
}

function saleWords(sale) {
  return `${sale.currency} ${sale.price}, ${sale.kind} ${sale.date}${sale.place ? `, ${sale.place}` : ''}`;
}

function comparableTable({ pack, money, appraisal }, used, ends, refresh) {
  const priorShare = appraisal.price.reference.prior.share;
  const rest = used.slice(MOST);
  const heads = ['Sale', 'Like for like, today', 'Weight', ''].map((text) => h('th', { scope: 'col' }, text));
  const range = ([low, middle, high]) => `${money.say(middle)} (${money.say(low)} to ${money.say(high)})`;
  const whole = (label, three, share) => h('tr', {}, h('th', { scope: 'row' }, label), h('td', {}, range(three)), h('td', {}, share), h('td', {}));
  return h('table', { class: 'comparables' }, h('thead', {}, h('tr', {}, ...heads)), h('tbody', {},
    whole("The tables' word", ends.prior, percent(priorShare)),
    ...used.slice(0, MOST).map((row) => h('tr', {}, h('th', { scope: 'row' }, h('a', { href: `#/sales/${row.sale.id}` }, saleWords(row.sale)), h('span', { class: 'sub' }, stateWords(pack, row))),
      h('td', {}, money.say(row.price), row.huber < pack.model.far_out && h('strong', { class: 'far' }, ` far out: its weight is cut to ${Math.floor(100 * row.huber + 0.5)} %`)),
      h('td', {}, percent(row.share)), h('td', {}, asideButton(row.sale, true, refresh)))),
    rest.length > 0 && h('tr', {}, h('th', { scope: 'row' }, `${rest.length} more; the sales log has them`), h('td', {}), h('td', {}, percent(rest.reduce((sum, row) => sum + row.share, 0))), h('td', {})),
    whole('Now', ends.now, '100 %')));
}

/** A share to the tenth of a percent. */
const percent = (share) => `${Math.floor(1000 * share + 0.5) / 10} %`;

/** In what state it sold, and whether its sum was brought to today's money. */
function stateWords(pack, { sale, month }) {
  const state = pack.states.find((row) => row.id === sale.state);
  const index = sale.currency !== pack.reference.currency ? `, at ${sale.rate ?? 'your'} ${sale.rate ? 'for one' : 'rate for one'} ${pack.reference.currency}`
    : month ? `, by the price index of ${month}` : ', before the price index begins';
  return ` ${state?.label ?? stateUnknown(sale).toLowerCase()}${index}`;
}

function asideButton(sale, aside, refresh) {
  return h('button', { class: 'button quiet', onclick: async () => {
    const { keepSale } = await import('../store/sales.js');
    await keepSale({ ...sale, aside }).catch((problem) => notice('save', problem.message, { kind: 'bad' }));
    await refresh();
  } }, aside ? 'Set aside' : 'Count it again');
}

function howWords(pack) {
  const { reference } = pack;
  const text = [
    `Each sale is brought to today's money by the consumer price index (${reference.currency} only), and to the state of a complete one, as made, by the state it was in.`,
    `A sale counts half after ${reference.half_life_years} years. One that lies far from the others counts less; set it aside if you know why.`,
    'Asked prices run above sold ones: they are brought down and count less.',
    'Sales of this type count, and those of its kind where no type was named.',
  ];
  return [...text.map((words) => h('p', {}, words)), h('a', { class: 'row-link', href: `#/rules/${pack.family}/asked` }, 'The row behind asked prices ›'),
    h('a', { class: 'row-link', href: `#/rules/${pack.family}/reference` }, "The row behind the tables' word ›")];
}
