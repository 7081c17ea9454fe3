/** The seller's verdict: what to ask, below what the parts bring more, and what pays before selling. */
import { _ } from '../language.js';
import { hours, reasonLabel } from './words.js';
import { h } from './element.js';
import { fillBlanks } from './money.js';
import { rangeDrawing } from './range.js';

/** Looks and mends shown. */
const MOST = 5;

/** @param {any} appraised what pages/appraised.js gives */
export function sellerHeadline({ pack, appraisal, money }) {
  const { fair } = appraisal.price;
  const { ask, floor } = appraisal.selling;
  const [first, ...rest] = sellerSentence(pack, appraisal, money).split(/(?<=[.!?]) /);
  const figures = [[_('low'), fair.low], [_('middle'), fair.mid], [_('high'), fair.high], [_('ask'), ask, 'asked'], [_('its parts'), floor]];
  return h('section', { class: 'headline' }, h('h2', { class: 'verdict-word' }, first), h('p', { class: 'lead' }, rest.join(' ')),
    rangeDrawing(fair, ask, _('The market would pay {low} to {high}; ask {ask}.', { low: money.say(fair.low), high: money.say(fair.high), ask: money.say(ask) })),
    h('dl', { class: 'range-figures' }, ...figures.map(([term, value, kind = '']) => h('div', { class: kind }, h('dt', {}, term), h('dd', {}, money.say(value))))));
}

function sellerSentence(pack, { selling, price }, money) {
  const { way, ...sums } = { ...selling, ...price.fair };
  const keys = [`sell-${way.replace('_', '-')}`, ...(way === 'parts' ? [] : [selling.floor > 0 ? 'sell-floor' : 'sell-no-floor'])];
  const blanks = Object.fromEntries(['ask', 'worth', 'floor', 'low', 'mid', 'high'].map((key) => [key, money.say(sums[key])]));
  return keys.map((key) => fillBlanks(pack.words[key], blanks)).join(' ');
}

/**
 * Which looks and mends pay before selling.
 * @param {any} appraised what pages/appraised.js gives
 * @param {string} walk address of the walk round
 */
export function beforeSelling({ pack, appraisal, money, foundSet }, walk) {
  const { left, threshold, looks } = appraisal.selling;
  const paying = appraisal.mends.filter((mend) => mend.net > 0);
  const label = (id) => pack.checks.find((row) => row.id === id).label;
  return h('section', { class: 'card' }, h('h2', {}, _('Before you sell')),
    h('p', {}, left < threshold ? _('Nothing left to look at would narrow the range by much.') : _('A buyer holds back for what he cannot tell. These looks narrow the range most for their time:')),
    left >= threshold && h('ol', { class: 'rows' }, ...looks.slice(0, MOST).map((look) => h('li', {}, h('a', { class: 'row-link', href: `${walk}/${look.check}` },
      h('span', {}, label(look.check)), h('span', { class: 'fine' }, lookWords(look, money)))))),
    h('p', {}, paying.length > 0 ? _('These mends bring in more than they take:') : _('No single mend would bring in more than it takes in materials and paid hours.')),
    paying.length > 0 && h('ol', { class: 'rows' }, ...paying.slice(0, MOST).map((mend) => h('li', { class: 'part' },
      h('span', {}, reasonLabel(pack, mend)), h('span', { class: 'fine' }, _('{gain} for {hours} and {money}', { gain: money.change(mend.gain), hours: hours(mend.hours.p50), money: money.say(mend.materials.p50) }))))),
    h('a', { class: 'row-link', href: `#/mends/${foundSet.base.id}` }, _('All mends by gain an hour ›')));
}

function lookWords({ seconds, narrows, worth }, money) {
  const said = [_('{seconds} s', { seconds }), _('narrows {amount}', { amount: money.say(narrows) })].join(' · ');
  const decides = worth > 0 && money.say(worth) !== money.say(0);
  return decides ? _('{look}, may change how to sell it ({worth})', { look: said, worth: money.say(worth) }) : said;
}
