/** The heater voltage that an American tube number tells, if any. Twin of webapp/appraisal/tube_numbers.py. */

const SEPARATORS = /[ \t\r\n\u00a0/\u2010-\u2015\u2212-]/g;
const BARE = /^([0-9]+)([A-Za-z]{0,3})$/;
const DESCRIPTIVE = /^([0-9]{1,3})([A-Za-z]{1,3})([1-9][0-9]{0,3})([A-Za-z]{0,6})$/;
const UNKNOWN = 'not known to this table';

/**
 * The heater by a tube number as it is read off the tube; any text gives a reading.
 * @param {any} table
 * @param {string} number
 * @returns {{system: string, volts: number[], sentence: string, basis: string | null, source: string | null}}
 */
export function heaterOf(table, number) {
  const text = number.replace(SEPARATORS, '');
  if (!text) return said(table, 'empty', 'empty');
  const suffixes = table.suffixes.map((row) => row.suffix);
  const plain = BARE.exec(text);
  if (plain) {
    const suffix = plain[2].toUpperCase();
    return !suffix || suffixes.includes(suffix) ? bare(table, plain[1], suffix) : notKnown(table);
  }
  const parts = DESCRIPTIVE.exec(text);
  if (!parts || !madeOf(parts[4].toUpperCase(), suffixes)) return notKnown(table);
  return descriptive(table, parts[1], parts[2].toUpperCase(), parts[3], parts[4].toUpperCase());
}

/** A number without letters inside: by its length and size. */
function bare(table, figures, suffix) {
  const { older, industrial } = table;
  const number = figures + suffix;
  if (older.fewest_figures <= figures.length && figures.length <= older.most_figures) {
    return said(table, 'older numerical', 'older', older, { number });
  }
  const first = String(industrial.first);
  // Of one length the texts sort as the numbers do; longer ones are no tube numbers.
  if (figures.length === first.length && figures >= first) {
    return said(table, 'industrial, not descriptive', 'industrial', industrial, { number, first });
  }
  return notKnown(table);
}

/** A number of the form number, letters, number. */
function descriptive(table, lead, letters, last, suffix) {
  const number = lead + letters + last + suffix;
  const { not_used: notUsed, cathode_ray: { letter } } = table;
  if ([...letters].some((one) => notUsed.letters.includes(one))) {
    const apart = [...notUsed.letters].join(table.words.or);
    return said(table, UNKNOWN, 'letters-not-used', notUsed, { number, letters: apart });
  }
  if (letters[1] === letter) return said(table, UNKNOWN, 'cathode-ray', table.cathode_ray, { number, letter });
  if (Number(last) >= table.serials.first) return powerClass(table, lead, letters, number);
  const row = table.leads.find((one) => one.lead === lead);
  if (!row) return said(table, UNKNOWN, 'lead-not-known', {}, { number, lead });
  return receiving(table, row, number);
}

function powerClass(table, lead, letters, number) {
  const power = table.power_classes.find((row) => row.digit === lead);
  const letter = table.letters.find((row) => row.letter === letters);
  if (!power || !letter) return notKnown(table);
  const blanks = { number, power: power.label, letter: letter.label };
  return said(table, 'power class', 'power-class', power, blanks);
}

function receiving(table, row, number) {
  const { volts, note } = row;
  const word = ['cold', 'one', 'several'][Math.min(volts.length, 2)];
  const reading = said(table, 'receiving type', word, row, { number, volts: volts.join(table.words.or) });
  return { ...reading, volts, sentence: reading.sentence + (note ? ` ${note}` : '') };
}

function notKnown(table) {
  return said(table, UNKNOWN, 'not-known');
}

/** A reading without volts, in the sentence `word`, resting on a row. */
function said(table, system, word, { basis = null, source = null } = {}, blanks = {}) {
  const sentence = table.words[word].replace(/\{(\w+)\}/g, (_, name) => blanks[name]);
  return { system, volts: [], sentence, basis, source };
}

/** Whether a text is one or more of the pieces put together, or nothing. */
function madeOf(text, pieces) {
  return !text || pieces.some((piece) => text.startsWith(piece) && madeOf(text.slice(piece.length), pieces));
}
