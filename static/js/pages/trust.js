/** How wide the range of one appraisal is, and from what: shares of the variance, drawn as a bar. */
import { _, _n } from '../language.js';
import { h, svg } from '../ui/element.js';
import { pageHead, sheetUnused, showAppraised } from './appraised.js';

/** Sources shown singly; the rest stands behind one line. */
const MOST = 10;

/** The kinds of doubt, in the order of the bar. */
const KINDS = {
  reference: () => _('what a complete one fetches'), scatter: () => _('like sets fetch unlike prices'),
  found: () => _('what your findings are worth'), open: () => _('what is not checked'),
};

/**
 * @param {HTMLElement} main
 * @param {string} id
 */
export const showTrust = (main, id) => showAppraised(main, id, _('How wide'), trustPage);

function trustPage(appraised) {
  const { foundSet, pack, appraisal, money } = appraised;
  const { parts, settled } = appraisal.spread;
  const { p10, p50, p90 } = appraisal.price.as_is;
  const shares = Object.fromEntries(Object.keys(KINDS).map((kind) => [kind, sum(parts.filter((part) => kindOf(part) === kind))]));
  const row = (part) => partRow(pack, part, parts[0].share, foundSet.base.id);
  return [
    pageHead(appraised, `#/verdict/${foundSet.base.id}`, _('How wide the range is, and from what')),
    h('div', { class: 'page' },
      sheetUnused(appraised),
      h('p', { class: 'lead' }, _('As it stands {low} to {high}, middle {middle}. In 8 of 10 cases the price should lie between the two.', { low: money.say(p10), high: money.say(p90), middle: money.say(p50) })),
      appraisal.price.fair.low > p10 && h('p', {}, _('In parts it fetches at least about {sum}, so the verdict\'s range begins there.', { sum: money.say(appraisal.price.fair.low) })),
      h('p', {}, settledWords(appraisal, settled, money)),
      h('section', { class: 'card' }, h('h2', {}, _('Where the doubt comes from')), shareBar(shares), legend(shares)),
      h('section', { class: 'card' }, h('h2', {}, _('One by one')), h('p', { class: 'help' }, _('Shares of the variance of the price, as a ratio. They add up to 100 %.')),
        h('ol', { class: 'rows doubts' }, ...parts.slice(0, MOST).map(row)),
        parts.length > MOST && h('details', {}, h('summary', {}, _n('{count} smaller one: {share}', '{count} smaller ones: {share}', parts.length - MOST, { share: percent(sum(parts.slice(MOST))) })),
          h('ol', { class: 'rows doubts' }, ...parts.slice(MOST).map(row)))),
      h('p', {}, _('Sales you log narrow the first part; looking narrows the last; nothing narrows what like sets fetch from one day to another.')),
      h('a', { class: 'row-link', href: `#/reference/${foundSet.base.id}` }, _('What a complete one fetches, and the sales behind it ›')),
      h('a', { class: 'row-link', href: '#/record' }, _('How often the stated ranges held ›'))),
  ];
}

const kindOf = ({ what, found }) => (what in KINDS ? what : found ? 'found' : 'open');
const sum = (parts) => parts.reduce((total, part) => total + part.share, 0);
const percent = (share) => (share > 0 && share < 0.005 ? _('under 1 %') : `${Math.floor(100 * share + 0.5)} %`);

function settledWords({ price: { as_is: now }, next_checks: looks }, { p10, p90 }, money) {
  if (looks.length === 0) return _('Everything that could be looked at was.');
  if (money.say(p10) === money.say(now.p10) && money.say(p90) === money.say(now.p90)) return _('What is left to look at would hardly narrow it.');
  return _('If you looked at all that is left, it would run over about as much as from {low} to {high}, somewhere around where your findings put it.', { low: money.say(p10), high: money.say(p90) });
}

function shareBar(shares) {
  let at = 0;
  const said = Object.entries(KINDS).map(([kind, words]) => `${words()} ${percent(shares[kind])}`).join(', ');
  return svg('svg', { class: 'shares', viewBox: '0 0 100 10', preserveAspectRatio: 'none', role: 'img', 'aria-label': _('Shares: {shares}.', { shares: said }) },
    ...Object.keys(KINDS).map((kind) => {
      const x = at;
      at += 100 * shares[kind];
      return svg('rect', { class: `share-${kind}`, x, y: 0, width: at - x, height: 10 });
    }));
}

function legend(shares) {
  return h('ul', { class: 'rows sums' }, ...Object.entries(KINDS).map(([kind, words]) => h('li', {},
    h('span', {}, h('span', { class: `swatch share-${kind}`, 'aria-hidden': 'true' }), words()), h('strong', { class: 'fall-text' }, percent(shares[kind])))));
}

function partRow(pack, part, widest, id) {
  const check = pack.checks.find((row) => row.id === part.what);
  const label = check ? check.label : pack.words[`reason-${part.what}`];
  const fill = h('span', { class: `fall-fill share-${kindOf(part)}` });
  fill.style.width = `${(100 * part.share) / widest}%`;
  const words = [h('span', {}, label, !part.found && h('span', { class: 'sub' }, ` ${_('not checked')}`)), h('span', { class: 'fall-text' }, percent(part.share)),
    h('span', { class: 'fall-bar', 'aria-hidden': 'true' }, fill)];
  return h('li', {}, check ? h('a', { class: 'doubt', href: `#/set/${id}/${check.id}` }, ...words) : h('div', { class: 'doubt' }, ...words));
}
