/** The language of the screens. The English texts are the keys, so English needs no catalog. */

/** The code of the language in use. */
export const language = () => 'en';

/**
 * A text of the screens, its blanks filled.
 * @param {string} text one literal in English, with blanks such as {count}
 * @param {Record<string, any>} [blanks]
 */
export const _ = (text, blanks) => filled(text, blanks);

/**
 * A text that depends on a number; `{count}` is filled with it.
 * @param {string} one
 * @param {string} many
 * @param {number} count
 * @param {Record<string, any>} [blanks]
 */
export const _n = (one, many, count, blanks) => filled(count === 1 ? one : many, { count, ...blanks });

function filled(text, blanks) {
  return blanks ? text.replace(/\{(\w+)\}/g, (whole, name) => (name in blanks ? String(blanks[name]) : whole)) : text;
}
