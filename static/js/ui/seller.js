/** The seller's verdict: what to ask, below what the parts bring more, and what pays before selling. */
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
  const figures = [['low', fair.low], ['middle', fair.mid], ['high', fair.high], ['ask', ask], ['its parts', floor]];
  return h('section', { class: 'headline' }, h('h2', { class: 'verdict-word' }, first), h('p', { class: 'lead' }, rest.join(' ')),
    rangeDrawing(fair, ask, `The market would pay ${money.say(fair.low)} to ${money.say(fair.high)}; ask ${money.say(ask)}.`),
    h('dl', { class: 'range-figures' }, ...figures.map(([term, value]) => h('div', { class: term === 'ask' ? 'asked' : '' }, h('dt', {}, term), h('dd', {}, money.say(value))))));
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
  return h('section', { class: 'card' }, h('h2', {}, 'Before you sell'),
    h('p', {}, left < threshold ? 'Nothing left to look at would narrow the range by much.' : 'A buyer holds back for what he cannot tell. These looks narrow the range most for their time:'),
    left >= threshold && h('ol', { class: 'rows' }, ...looks.slice(0, MOST).map((look) => h('li', {}, h('a', { class: 'row-link', href: `${walk}/${look.check}` },
      h('span', {}, label(look.check)), h('span', { class: 'fine' }, lookWords(look, money)))))),
    h('p', {}, paying.length > 0 ? 'These mends bring in more than they take:' : 'No single mend would bring in more than it takes in materials and paid hours.'),
    paying.length > 0 && h('ol', { class: 'rows' }, ...paying.slice(0, MOST).map((mend) => h('li', { class: 'part' },
      h('span', {}, reasonLabel(pack, mend)), h('span', { class: 'fine' }, `${money.change(mend.gain)} for ${hours(mend.hours.p50)} and ${money.say(mend.materials.p50)}`)))),
    h('a', { class: 'row-link', href: `#/mends/${foundSet.base.id}` }, 'All mends by gain an hour ›'));
}

function lookWords({ seconds, narrows, worth }, money) {
  const decides = worth > 0 && money.say(worth) !== money.say(0) ? `, may change how to sell it (${money.say(worth)})` : '';
  return `${seconds} s · narrows ${money.say(narrows)}${decides}`;
}
