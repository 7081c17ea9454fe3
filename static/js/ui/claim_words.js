/** Claims in words: what the seller told, and what was found instead. */
import { optionWords } from '../kernel/describing/seen.js';
import { _ } from '../language.js';
import { length } from './habits.js';
import { pointSentence } from './haggle.js';
import { fillBlanks, figure } from './money.js';

/**
 * @typedef {Object} Beside what was told beside what was found
 * @property {any} pack
 * @property {import('../kernel/findings.js').Findings} told
 * @property {import('../kernel/findings.js').Findings} findings
 * @property {(number | null)[]} holes for each told hole the number of the found one
 */

/** The check that a claim is about. @param {any} pack @param {string} id */
export function checkOf(pack, id) {
  const [kind, name] = id.split('/');
  if (kind === 'check') return pack.checks.find((check) => check.id === name);
  return pack.checks.find((check) => (kind === 'figure' ? check.asks === name : check.asks_holes));
}

/** What the seller told. @param {Beside} beside @param {string} id */
export function toldWords({ pack, told }, id) {
  const [kind, name] = id.split('/');
  if (kind === 'untold') return _('The seller did not tell of it.');
  if (kind === 'hole') return holeWords(pack, told.holes[Number(name)]);
  const check = checkOf(pack, id);
  return kind === 'figure' ? figureWords(pack, check, told) : optionWords(pack, check, check.options.find((option) => option.id === told.answers[check.id]));
}

/** What was found, in words that may be said across the table. @param {Beside} beside @param {string} id */
export function foundWords({ pack, findings, holes }, id) {
  const [kind, name] = id.split('/');
  const number = kind === 'hole' ? holes[Number(name)] : Number(name);
  if (kind === 'hole' && number === null) return _('It is not there.');
  if (kind === 'hole' || kind === 'untold') return holeWords(pack, findings.holes[number]);
  const check = checkOf(pack, id);
  if (kind === 'figure') return figureWords(pack, check, findings);
  return pointSentence(pack, findings, check.asks_holes && findings.holes.length > 0 ? { what: 'holes' } : { what: check.id, option: findings.answers[check.id] });
}

const placeOf = (pack, hole) => pack.holes.places.find((place) => place.id === hole.place).label;
const holeWords = (pack, hole) => fillBlanks(pack.words[`tell-hole-${hole.as_found ?? 'open'}`], { size: length(hole.diameter_mm), place: placeOf(pack, hole) });

function figureWords({ words }, check, { nameplate, serial, book_serial: book, order, crystal_khz: crystal, coverage_khz: coverage, heater_strings: strings }) {
  const answer = (label, text) => fillBlanks(words['tell-answer'], { check: label, answer: text });
  switch (check.asks) {
    case 'nameplate': return fillBlanks(words['tell-nameplate'], { text: nameplate });
    case 'serial': return fillBlanks(words['tell-serial'], { number: serial });
    case 'book': return fillBlanks(words['tell-book'], { number: book });
    case 'coverage': return fillBlanks(words['tell-coverage'], { from: figure(coverage[0]), to: figure(coverage[1]) });
    case 'crystal': return fillBlanks(words['tell-crystal'], { crystal: figure(crystal) });
    case 'order': return answer(check.label, order);
    default: return answer(words['name-heaters'], strings.map(heaterWords).join('; '));
  }
}

const heaterWords = (string) => string.map((place) => place.map(({ volts, amps }) => `${figure(volts)} V ${figure(amps)} A`).join(' ∥ ')).join(' + ');
