/** A description in the words that people read. Twin of webapp/pages/describing.py. */
import { describe } from '../kernel/describing/describe.js';
import { language } from '../language.js';
import { dayLocale, length } from './habits.js';
import { figure } from './money.js';
import { hours, reasonLabel } from './words.js';

/**
 * @typedef {Object} Seller what a seller adds to his findings
 * @property {string} title his name for the set
 * @property {string} words his own words
 * @property {import('../kernel/describing/describe.js').Wishes} wishes
 *
 * @typedef {{text: string, about: string[]}} Told
 *
 * @typedef {Object} View
 * @property {any} pack
 * @property {string} title
 * @property {string} name
 * @property {string} words
 * @property {{id: string, heading: string, paragraphs: Told[][]}[]} sections
 * @property {Told[]} short
 * @property {any[]} cautions rows of the pack
 * @property {{label: string, money: string}[]} reasons
 */

/**
 * The description ready for a page or a text.
 * @param {{prepared: any, pack: any, findings: any, money: any}} appraised
 * @param {Seller} seller
 * @returns {View}
 */
export function described({ prepared, pack, findings, money }, { title, words, wishes }) {
  const document = describe(prepared, findings, wishes);
  const told = (sentence) => filled(sentence, money);
  const { text: composed } = told(document.title);
  return {
    pack,
    title: composed,
    // What the title says already is no name.
    name: composed.startsWith(title) ? '' : title,
    words,
    sections: document.sections.map((section) => ({ ...section, paragraphs: section.paragraphs.map((lines) => lines.map(told)) })),
    short: document.short.map(told),
    cautions: pack.cautions.filter((row) => document.cautions.includes(row.id)),
    reasons: document.reasons.map((row) => ({ label: reasonLabel(pack, row), money: money.change(row.amount) })),
  };
}

/** A sentence with its blanks filled, in one pass: what fills a blank may itself hold braces. @returns {Told} */
function filled({ words, blanks, about }, money) {
  const text = words.replace(/\{(\w+)\}/g, (_whole, name) => inBlank(blanks[name], money));
  return { text: text.charAt(0).toUpperCase() + text.slice(1), about };
}

function inBlank({ kind, value }, money) {
  const writers = {
    figure, length_mm: length, hours, money: money.say, 'money-as-given': money.exactly, date: day,
    label: within, list: (labels) => labels.map(within).join(', '),
  };
  return writers[kind]?.(value) ?? String(value);
}

const day = (date) => new Date(`${date}T12:00:00`).toLocaleDateString(dayLocale(), { day: 'numeric', month: 'long', year: 'numeric' });

/** A label within a sentence: in English its first letter is small, but for an abbreviation's. @param {string} label */
const within = (label) => (language() === 'en' && /^.[a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label);
