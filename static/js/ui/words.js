/** Engine results in the words that people read. */
import { _ } from '../language.js';
import { fillBlanks, figure } from './money.js';

/** What a reason is about. @param {any} pack @param {{what: string, option: string | null}} reason */
export function reasonLabel(pack, reason) {
  const check = pack.checks.find((row) => row.id === reason.what);
  if (!check) return pack.words[`reason-${reason.what === 'not checked' ? 'open' : reason.what}`];
  return `${check.label}: ${check.options.find((row) => row.id === reason.option).label}`;
}

/** The verdict's sentence. @param {any} pack @param {any} appraisal @param {number | null} asking @param {any} money */
export function verdictSentence(pack, appraisal, asking, money) {
  const { verdict, worth, price } = appraisal;
  return fillBlanks(pack.words[sentenceId(verdict, asking)], {
    worth: money.say(worth.value),
    low: money.say(price.fair.low),
    high: money.say(price.fair.high),
    asking: asking === null ? '' : money.say(asking),
    offer: verdict.offer === null ? '' : money.say(verdict.offer, true),
    way: pack.words[`way-${worth.way.replace('_', '-')}`],
  });
}

/** What to do if one had to decide before looking any longer; empty where the verdict says it. */
export function meanwhileSentence(pack, { verdict: { meanwhile } }, asking, money) {
  if (!meanwhile) return '';
  return fillBlanks(pack.words[sentenceId(meanwhile, null).replace('verdict', 'meanwhile')], {
    asking: money.say(asking), offer: meanwhile.offer === null ? '' : money.say(meanwhile.offer, true),
  });
}

function sentenceId(verdict, asking) {
  if (verdict.word === 'offer less' && verdict.offer === null) return 'verdict-no-offer';
  if (verdict.word === 'pay it' && asking === 0) return 'verdict-gift';
  return verdict.word === 'no price yet' ? 'verdict-no-price' : `verdict-${verdict.word.replaceAll(' ', '-')}`;
}

/** The sentence of a consistency result. @param {any} pack @param {any} match */
export function matchSentence(pack, match) {
  const blanks = Object.fromEntries(Object.entries(match.blanks)
    .map(([name, value]) => [name, typeof value === 'number' ? figure(value) : value]));
  const sentence = fillBlanks(pack.words[match.words], blanks);
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** Hours, to the half below ten. @param {number} value */
export function hours(value) {
  if (value < 0.75) return _('{minutes} min', { minutes: Math.max(5, Math.round(value * 12) * 5) });
  return _('{hours} h', { hours: value < 10 ? figure(Math.floor(2 * value + 0.5) / 2) : Math.floor(value + 0.5) });
}
