/** The language of the screens. The English texts are the keys, so English needs no catalog. */

/** Where a person's choice is kept: there before the first paint. */
export const CHOICE = 'underchassis-language';
/** Languages of the app beside English come with the shell. */
const { base, languages } = document.documentElement.dataset;
export const LANGUAGES = ['en', ...(languages ?? '').split(' ').filter(Boolean)];

let code = 'en';
/** @type {Record<string, string | string[]>} */
let texts = {};
/** Which of a translated text's forms goes with a number; -1 takes the last. @type {(count: number) => number} */
let form;

/** The code of the language in use. */
export const language = () => code;

/** The locale that numbers and dates are written for: the browser's own where it speaks the language in use. */
export const locale = () => navigator.languages.find((tag) => languageOf(tag) === code) ?? code;

/**
 * A text of the screens, its blanks filled.
 * @param {string} text one literal in English, with blanks such as {count}
 * @param {Record<string, any>} [blanks]
 */
export const _ = (text, blanks) => filled([texts[text] ?? text].flat()[0], blanks);

/**
 * A text that depends on a number; `{count}` is filled with it.
 * @param {string} one
 * @param {string} many
 * @param {number} count
 * @param {Record<string, any>} [blanks]
 */
export function _n(one, many, count, blanks) {
  const text = texts[one]?.at(form(count)) ?? (count === 1 ? one : many);
  return filled(text, { count, ...blanks });
}

function filled(text, blanks) {
  return blanks ? text.replace(/\{(\w+)\}/g, (whole, name) => (name in blanks ? String(blanks[name]) : whole)) : text;
}

const languageOf = (tag) => tag.split('-')[0];

/** The person's choice on this device, if there is one and the browser gives it. */
export function chosenLanguage() {
  try {
    return localStorage.getItem(CHOICE);
  } catch {
    return null;
  }
}

/** Brings the language in: the one chosen, else the first of the browser's that the app has, else English. */
export async function loadLanguage() {
  const wanted = [chosenLanguage(), ...navigator.languages.map(languageOf)].find((one) => LANGUAGES.includes(one));
  if (!wanted || wanted === 'en') return;
  try {
    const catalog = await (await fetch(`${base}lang/${wanted}.json`)).json();
    const rules = new Intl.PluralRules(wanted);
    form = (count) => catalog.plurals.indexOf(rules.select(count));
    texts = catalog.texts;
    code = wanted;
    document.documentElement.lang = wanted;
  } catch {
    // English needs no catalog.
  }
}
