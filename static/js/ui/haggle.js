/** What to say about the price: up to five findings, what each is worth, and what the rest adds up to. */
import { _, _n } from '../language.js';
import { fillBlanks } from './money.js';
import { h } from './element.js';
import { saidLength } from './habits.js';
import { hours } from './words.js';

/**
 * @param {any} appraised what pages/appraised.js gives
 * @param {string} title
 * @param {string} lead what the points are good for
 */
export function haggleCard({ pack, findings, appraisal, money }, title, lead) {
  const { points, others, in_favour: better, not_checked: open } = appraisal.haggling;
  const mends = new Map(appraisal.mends.map((mend) => [mend.what, mend]));
  const { reference, as_is: asIs } = appraisal.price;
  const sum = (label, amount) => h('li', {}, h('span', {}, label), h('span', { class: 'fall-text' }, money.change(amount)));
  return h('section', { class: 'card haggle' }, h('h2', {}, title),
    h('p', { class: 'help' }, points.length > 0 ? lead : _('Nothing was found so far that is worth bringing up.')),
    h('ol', { class: 'points' }, ...points.map((point) => h('li', {},
      h('span', {}, pointSentence(pack, findings, point), mendWords(mends.get(point.what), money)),
      h('strong', { class: 'fall-text' }, money.change(point.amount))))),
    points.length > 0 && h('details', {}, h('summary', {}, _('How this adds up')), h('ul', { class: 'rows sums' },
      h('li', {}, h('span', {}, _('A complete one, as made')), h('span', { class: 'fall-text' }, money.say(reference.median))),
      sum(_n('This point', 'These {count} points', points.length), points.reduce((total, point) => total + point.amount, 0)),
      others.count > 0 && sum(_n('{count} smaller finding against it', '{count} smaller findings against it', others.count), others.amount),
      better.count > 0 && sum(_n('{count} finding in its favour', '{count} findings in its favour', better.count), better.amount),
      open !== 0 && sum(_('Everything not checked'), open),
      h('li', {}, h('strong', {}, _('As it stands, middle')), h('strong', { class: 'fall-text' }, money.say(asIs.p50)))),
    h('p', { class: 'why' }, _('Each figure is rounded for itself; unrounded they add up.'))));
}

function mendWords(mend, money) {
  if (!mend) return null;
  return h('span', { class: 'sub' }, ' ', _('Putting it right: about {hours} and {money}.', { hours: hours(mend.hours.p50), money: money.say(mend.materials.p50) }));
}

/** What may be said about a finding: the row's own sentence, or its check and answer. @param {any} pack @param {any} findings @param {{what: string, option?: string}} point */
export function pointSentence(pack, findings, { what, option }) {
  if (what === 'holes' && findings.holes.length > 0) {
    const place = (hole) => pack.holes.places.find((row) => row.id === hole.place).label;
    return fillBlanks(pack.words['say-holes'], { holes: findings.holes.map((hole) => _('{place}, about {size}', { place: place(hole), size: saidLength(hole.diameter_mm) })).join('; ') });
  }
  const check = pack.checks.find((row) => row.id === what);
  if (!check) return pack.words[`say-${what}`];
  const answer = check.options.find((row) => row.id === option);
  return answer.say ?? answer.tell ?? fillBlanks(pack.words['say-finding'], { check: check.label, answer: answer.label.charAt(0).toLowerCase() + answer.label.slice(1) });
}
