/** What a complete one fetches: the tables' word, each comparable sale, and what follows from both. */
import { _, _n } from '../language.js';
import { h } from '../ui/element.js';
import { figure } from '../ui/money.js';
import { notice } from '../ui/notices.js';
import { referencePlot } from '../ui/reference_plot.js';
import { kindWord, stateUnknownWithin } from '../ui/sale_words.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/** Sales listed one by one, the latest first. */
const MOST = 100;

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showReference = (main, id) => showAppraised(main, id, _('Reference price'), referencePage);

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
    pageHead(appraised, `#/verdict/${base.id}`, _('What a complete one fetches')),
    h('div', { class: 'page' },
      sheetUnused(appraised),
      h('p', { class: 'lead' }, _('A complete one, as made and untested: about {middle} today ({low} to {high}).', { middle: money.say(reference.median), low: money.say(ends.now[0]), high: money.say(ends.now[2]) })),
      h('p', {}, movedWords(reference, used.length, money)),
      !base.demo && log.some((sale) => sale.demo) && h('p', { class: 'fine' }, _('The demo\'s sales count for the demo sets alone.')),
      h('section', { class: 'card' }, h('h2', {}, _('How it came about')), referencePlot(used, ends, money, pack.model.far_out), comparableTable(appraised, used, ends, refresh)),
      out.length + early.length > 0 && h('section', { class: 'card' }, h('h2', {}, _('Left out')),
        ...early.map((sale) => h('p', {}, _('{sale}: that day is still to come.', { sale: saleWords(sale) }), ' ', h('a', { href: `#/sales/${sale.id}` }, _('Set it right')))),
        ...out.map(({ sale }) => h('p', {},
          _('{price} of {day}: no rate from {currency} is given, and currencies are never mixed.', { price: `${sale.currency} ${sale.price}`, day: sale.date, currency: pack.reference.currency }), ' ',
          h('a', { href: `#/sales/${sale.id}` }, _('Give its rate'))))),
      aside.length > 0 && h('section', { class: 'card' }, h('h2', {}, _('Set aside by hand')), ...aside.map((sale) => h('p', { class: 'part' },
        h('span', {}, saleWords(sale)), asideButton(sale, false, refresh)))),
      h('p', { class: 'links' }, h('a', { class: 'button strong', href: `#/sales/new/${base.family}/${base.model_sheet ?? '-'}` }, _('Add a sale')),
        h('a', { class: 'button', href: '#/sales' }, _('The sales log'))),
      h('details', { class: 'card' }, h('summary', {}, _('How sales are weighed')), ...howWords(pack))),
  ];
}

/** P10, P50 and P90 of the tables' word, and of what follows with the sales, both without the scatter of like sets. */
function rangesOf({ model }, { prior, median, posterior_log_sd: sd }) {
  const ends = (middle, spread) => [-1, 0, 1].map((side) => middle * Math.exp(side * model.z90 * spread));
  return { prior: ends(prior.median, prior.log_sd), now: ends(median, sd) };
}

function movedWords({ prior, median }, count, money) {
  if (count === 0) return _('This is the tables\' own word, {price}. Log what like sets sold for, and it moves.', { price: money.say(prior.median) });
  const blanks = { before: money.say(prior.median), now: money.say(median), share: `${Math.floor(100 * (1 - prior.share) + 0.5)} %` };
  return _n('The tables say {before}; with {count} sale it is {now}. The sales carry {share} of the weight.', 'The tables say {before}; with {count} sales it is {now}. The sales carry {share} of the weight.', count, blanks);
}

function saleWords(sale) {
  return `${sale.currency} ${sale.price}, ${kindWord(sale.kind)} ${sale.date}${sale.place ? `, ${sale.place}` : ''}`;
}

function comparableTable({ pack, money, appraisal }, used, ends, refresh) {
  const priorShare = appraisal.price.reference.prior.share;
  const rest = used.slice(MOST);
  const heads = [_('Sale'), _('Like for like, today'), _('Weight'), ''].map((text) => h('th', { scope: 'col' }, text));
  const range = ([low, middle, high]) => _('{middle} ({low} to {high})', { middle: money.say(middle), low: money.say(low), high: money.say(high) });
  const whole = (label, three, share) => h('tr', {}, h('th', { scope: 'row' }, label), h('td', {}, range(three)), h('td', {}, share), h('td', {}));
  return h('table', { class: 'comparables' }, h('thead', {}, h('tr', {}, ...heads)), h('tbody', {},
    whole(_('The tables\' word'), ends.prior, percent(priorShare)),
    ...used.slice(0, MOST).map((row) => h('tr', {}, h('th', { scope: 'row' }, h('a', { href: `#/sales/${row.sale.id}` }, saleWords(row.sale)), h('span', { class: 'sub' }, stateWords(pack, row))),
      h('td', {}, money.say(row.price), row.huber < pack.model.far_out && h('strong', { class: 'far' }, ` ${_('far out: its weight is cut to {share}', { share: `${Math.floor(100 * row.huber + 0.5)} %` })}`)),
      h('td', {}, percent(row.share)), h('td', {}, asideButton(row.sale, true, refresh)))),
    rest.length > 0 && h('tr', {}, h('th', { scope: 'row' }, _('{count} more; the sales log has them', { count: rest.length })), h('td', {}), h('td', {}, percent(rest.reduce((sum, row) => sum + row.share, 0))), h('td', {})),
    whole(_('Now'), ends.now, '100 %')));
}

/** A share to the tenth of a percent. */
const percent = (share) => `${figure(Math.floor(1000 * share + 0.5) / 10)} %`;

/** In what state it sold, and whether its sum was brought to today's money. */
function stateWords(pack, { sale, month }) {
  const state = pack.states.find((row) => row.id === sale.state);
  const blanks = { state: state?.label ?? stateUnknownWithin(sale), currency: pack.reference.currency, rate: sale.rate, month };
  return ` ${broughtWords(sale.currency === pack.reference.currency, blanks)}`;
}

function broughtWords(own, blanks) {
  if (!own && blanks.rate) return _('{state}, at {rate} for one {currency}', blanks);
  if (!own) return _('{state}, at your rate for one {currency}', blanks);
  return blanks.month ? _('{state}, by the price index of {month}', blanks) : _('{state}, before the price index begins', blanks);
}

function asideButton(sale, aside, refresh) {
  return h('button', { class: 'button quiet', onclick: async () => {
    const { keepSale } = await import('../store/sales.js');
    await keepSale({ ...sale, aside }).catch((problem) => notice('save', problem.message, { kind: 'bad' }));
    await refresh();
  } }, aside ? _('Set aside') : _('Count it again'));
}

function howWords(pack) {
  const { reference } = pack;
  const text = [
    _('Each sale is brought to today\'s money by the consumer price index ({currency} only), and to the state of a complete one, as made, by the state it was in.', { currency: reference.currency }),
    _('A sale counts half after {years} years. One that lies far from the others counts less; set it aside if you know why.', { years: figure(reference.half_life_years) }),
    _('Asked prices run above sold ones: they are brought down and count less.'),
    _('Sales of this type count, and those of its kind where no type was named.'),
  ];
  return [...text.map((words) => h('p', {}, words)), h('a', { class: 'row-link', href: `#/rules/${pack.family}/asked` }, _('The row behind asked prices ›')),
    h('a', { class: 'row-link', href: `#/rules/${pack.family}/reference` }, _('The row behind the tables\' word ›'))];
}
