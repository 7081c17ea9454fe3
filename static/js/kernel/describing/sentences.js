/**
 * What a description is made of: sentences of the pack with blanks not yet written out. Twin of sentences.py.
 *
 * @typedef {{kind: string, value: any}} Blank
 * @typedef {{words: string, blanks: Record<string, Blank>, of: string[], about: string[]}} Sentence `of`: the findings
 *   whose effect it tells, as no other sentence does; `about`: all that it rests on
 * @typedef {{id: string, heading: string, paragraphs: Sentence[][]}} Section
 */

/** A blank of one kind. @param {string} kind @param {any} value @returns {Blank} */
export const blank = (kind, value) => ({ kind, value });

/**
 * The sentence `word` of the pack's words.
 * @param {any} pack
 * @param {string} word
 * @param {string[]} about
 * @param {Record<string, Blank>} [blanks]
 * @param {string[]} [of]
 * @returns {Sentence}
 */
export const spoken = (pack, word, about, blanks = {}, of = []) => ({ words: pack.words[word], blanks, of, about: [...new Set([...of, ...about])] });

/** The section `name`, without its empty paragraphs. @param {any} pack @param {string} name @param {Sentence[][]} paragraphs @returns {Section} */
export const section = (pack, name, paragraphs) => ({
  id: name, heading: pack.words[`heading-${name}`], paragraphs: paragraphs.filter((paragraph) => paragraph.length > 0),
});
