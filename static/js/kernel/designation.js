/**
 * What the pieces of a type designation say: letters, numbers and suffixes, each with its grounds.
 * Twin of webapp/appraisal/designation.py.
 *
 * @typedef {{piece: string, about: string, says: string, period: string, note: string,
 *   basis: string | null, source: string | null}} Line basis is null where a piece cannot be read
 */

export const PLACES = ['installation', 'equipment', 'purpose'];

/** A sentence of the tables with its {blanks} filled. */
export const fill = (sentence, blanks) => sentence.replace(/{([^{}]*)}/g, (_, blank) => blanks[blank]);

/** The compiled table of type designations, by what is looked up in it. */
export class Table {
  constructor(nomenclature) {
    this.words = nomenclature.words;
    this.indicators = new Map(Object.entries(nomenclature.indicators));
    this.families = nomenclature.families;
    this.grammar = new Map(nomenclature.grammar.map((row) => [row.id, row]));
    this.letters = new Map();
    for (const row of nomenclature.letters) {
      const key = row.place + row.letter;
      this.letters.set(key, [...this.rows(key), row]);
    }
    this.changes = this.grammar.get('modification').letters;
    this.powers = this.grammar.get('power-input').letters;
  }

  rows(key) {
    return this.letters.get(key) ?? [];
  }

  /** Whether each letter, in its place, has a meaning here. */
  knows(letters) {
    return PLACES.slice(0, letters.length).every((place, at) => this.letters.has(place + letters[at]));
  }

  /** What a letter says, with the periods where it changed its meaning. */
  meaning(place, letter) {
    const rows = this.rows(place + letter);
    if (rows.length === 0) return this.unknown(letter);
    if (rows.length === 1) return rows[0].meaning;
    return this.either(rows.map((row) => fill(this.words['in-period'], row)));
  }

  /** What the letters before a unit's number say. */
  item(code) {
    return this.indicators.get(code)?.meaning ?? this.unknown(code);
  }

  /** Words for letters that have no row. */
  unknown(letter) {
    return fill(this.words['unknown-letter'], { letter });
  }

  /** One or the other. */
  either(items) {
    return items.reduce((one, other) => fill(this.words.or, { one, other }));
  }

  /** A line for what cannot be read or is not known. */
  openLine(piece, about, says) {
    return line(piece, this.words[about], this.words[says], {});
  }

  /** A line whose grounds are a row of the grammar. */
  quoted(piece, about, says, grammar, blanks = {}) {
    const row = this.grammar.get(grammar);
    return line(piece, this.words[about], fill(this.words[says], blanks), { ...row, why: row.meaning });
  }

  /** The line for AN itself. */
  system() {
    return this.quoted('AN/', 'about-system', 'system', 'set');
  }

  /** The line for the number of a set or a unit. */
  number(about, number) {
    if (number.includes('?')) return this.openLine(number, about, 'unreadable');
    return this.quoted(number, about, 'number', 'serial', { number });
  }

  /** A line for each meaning of each letter, in their places. */
  letterLines(letters) {
    return PLACES.slice(0, letters.length).flatMap((place, at) => {
      const rows = this.rows(place + letters[at]);
      if (rows.length === 0) return [this.unread(letters[at], `about-${place}`)];
      return rows.map((row) => line(letters[at], this.words[`about-${place}`], row.meaning, row));
    });
  }

  /** The line for the letters before a unit's number. */
  indicator(code) {
    const row = this.indicators.get(code);
    if (!row) return this.unread(code, 'about-indicator');
    return line(code, this.words['about-indicator'], row.meaning, row);
  }

  /** What stands behind a number, in its usual form, and a line for each piece. */
  suffixes(changed, change, power, bracket) {
    const lines = [];
    if (change) {
      const n = this.changes.indexOf(change) + 1;
      lines.push(this.quoted(change, 'about-modification', 'modification', changed, { n }));
    }
    if (power) {
      const n = this.powers.indexOf(power) + 1;
      lines.push(this.quoted(power, 'about-power', 'power', 'power-input', { n }));
    }
    if (bracket) lines.push(this.bracket(bracket));
    return [lines.map((one) => one.piece).join(''), lines];
  }

  /** The line for a trainer's number. */
  training(n, grammar) {
    return this.quoted(`T${n}`, 'about-training', 'training', grammar, { n });
  }

  /** What a unit is used with: in words, and as lines. */
  home(letters, serial) {
    let [piece, says, grammar] = [`/${letters || '?'}`, 'several-sets', 'unit-several-sets'];
    if (serial) [piece, says, grammar] = [`/${letters}-${serial}`, 'part-of', 'unit-one-set'];
    else if (letters.length === 1) [says, grammar] = ['general-use', 'unit-general'];
    const blanks = { set: `AN/${letters}-${serial}`, letters, place: this.meaning(PLACES[0], letters[0]) };
    const first = piece.includes('?')
      ? this.openLine(piece, 'about-home', 'unreadable')
      : this.quoted(piece, 'about-home', says, grammar, blanks);
    return [first.says, [first, ...this.letterLines(letters)]];
  }

  bracket(raw) {
    if (raw === '()') return this.quoted('( )', 'about-undetermined', 'undetermined', 'undetermined');
    if (raw === '(V)') return this.quoted(raw, 'about-variable', 'variable', 'variable');
    const code = raw.replace(/[^A-Z]/g, '');
    const n = raw.replace(/[^0-9]/g, '');
    if (code === 'V') return this.quoted(`(V)${n}`, 'about-variable', 'configuration', 'configuration', { n });
    if (n) return this.quoted(`(${code}-${n})`, 'about-development', 'development-n', 'development', { n });
    return this.quoted(`(${code})`, 'about-development', 'development', 'development');
  }

  unread(piece, about) {
    return this.openLine(piece, about, piece.includes('?') ? 'unreadable' : 'unknown');
  }

  /** The families that go by the letters of a set, or by those of a unit and of what it is used with. */
  familiesOf(letters, code = '') {
    return Object.keys(this.families).sort().filter((key) => goesBy(this.families[key], letters, code));
  }

  /** The sentence that names them. */
  pointing(families) {
    if (families.length === 0) return this.words['points-nowhere'];
    return fill(this.words['points-to'], { families: this.either(families.map((key) => this.families[key].name)) });
  }
}

function line(piece, about, says, { period = '', why = '', basis = null, source = null }) {
  return { piece, about, says, period, note: why, basis, source };
}

function goesBy({ sets, units }, letters, code) {
  const fits = sets.some((pattern) => [...letters].every((letter, at) => ['?', letter].includes(pattern[at])));
  // A unit of general use may belong to any set; a family without sets is made of units alone.
  return code ? units.includes(code) && (fits || letters === 'U' || sets.length === 0) : fits;
}
