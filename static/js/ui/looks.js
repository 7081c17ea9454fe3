/** What each remaining check could still change, in money and in seconds, and where one may stop. */
import { _, _n } from '../language.js';
import { h } from './element.js';

/** Looks shown before one asks for all. */
const FIRST = 6;

/**
 * @param {any} appraised what pages/appraised.js gives
 * @param {string} walk address of the walk round
 */
export function looksCard({ pack, findings, appraisal, money }, walk) {
  const { value, threshold } = appraisal.looking;
  const looks = appraisal.next_checks;
  const stop = value < threshold || looks.length === 0;
  const row = (look) => lookRow(pack, look, findings.asking !== null, walk, money);
  return h('section', { class: 'card' }, h('h2', {}, _('Look next')),
    h('p', {}, stopLine(pack, stop, findings.asking, appraisal, money)),
    looks.length > 0 && h('p', { class: 'help' }, _('Beside each look: what the worst and the best answer would do to the middle price, against what is usual.')),
    !stop && h('ol', { class: 'rows' }, ...looks.slice(0, FIRST).map(row)),
    looks.length > (stop ? 0 : FIRST) && h('details', {}, h('summary', {}, stop ? _n('{count} looks below the stop line', '{count} looks below the stop line', looks.length) : _('{count} more', { count: looks.length - FIRST })),
      h('ol', { class: 'rows' }, ...looks.slice(stop ? 0 : FIRST).map(row))));
}

function stopLine({ model }, stop, asking, { looking }, money) {
  if (stop) return _('You can stop. Nothing left on the list is likely to change the answer.');
  if (asking === null) return _('Go on looking: what is left still makes more than {share} % of the doubt about the price.', { share: 100 * model.spread_share });
  return _('Go on looking: all looks left are worth about {worth} to you together. Once that is below {threshold}, you can stop.', { worth: money.say(looking.value), threshold: money.say(looking.threshold) });
}

function lookRow(pack, { check: id, evi, seconds, worst, best }, asked, walk, money) {
  const check = pack.checks.find((one) => one.id === id);
  const amount = money.say(evi);
  const worth = evi > 0 && (asked ? _('worth {amount}', { amount }) : _('narrows {amount}', { amount }));
  const said = [_('{low} to {high}', { low: money.change(worst), high: money.change(best) }), _('{seconds} s', { seconds }), worth];
  return h('li', {}, h('a', { class: 'row-link', href: `${walk}/${id}` },
    h('span', {}, check.label), h('span', { class: 'fine' }, said.filter(Boolean).join(' · '))));
}
