/** One line of a table of sales to the values of a sale, or a refusal that says why. */
import { _ } from '../language.js';
import { inOrder, orderOf, plain, readDate, readKind, readPrice, readRate, unguarded, writtenWithDollar } from './sale_cells.js';
import { future, LONGEST, offsetRule, RULES } from './sale_rules.js';

/** Letters read of a cell; beyond the longest note nothing is kept anyway. */
const LONGEST_CELL = 1000;
const YES = ['yes', 'y', 'true', '1', 'x'];
const UNKNOWN = ['', '-', '?', 'unknown', 'not known', 'type not known'];

/** Why a line cannot be taken in, or what it waits for. */
export class Refusal extends Error {
  constructor(why, fate = 'bad') {
    super(why.length > 300 ? `${why.slice(0, 200)} … ${why.slice(-80)}` : why);
    this.fate = fate;
  }
}

export class LineReader {
  constructor(rows, head, known, answers) {
    Object.assign(this, { head, known, answers, noWhat: 0, noCurrency: 0 });
    this.slashed = rows.slice(head.first).map((cells) => readDate(cells[head.at.date] ?? '')?.slashed).filter(Boolean);
    this.order = orderOf(this.slashed);
  }

  /** The values of a sale, and remarks. @param {string[]} cells */
  read(cells) {
    const cell = (name) => (cells[this.head.at[name] ?? -1] ?? '').trim().slice(0, LONGEST_CELL);
    const remarks = [];
    const { price, currency } = this.money(cell);
    const date = this.date(cell('date'), remarks);
    const kind = readKind(cell('kind'));
    if (!kind) throw new Refusal(_('“{text}” says neither sold nor asked.', { text: cell('kind') }));
    const what = this.what(unguarded(cell('family')), unguarded(cell('type')));
    const waits = waitWords(what, date);
    if (waits) throw new Refusal(waits, 'ask');
    const family = this.known.families.find((row) => row.id === what.family);
    const rate = this.rate(cell('rate'), currency, family);
    const { state, note } = stateAndNote(family, cell, remarks);
    const more = { log_offset: readOffset(cell('offset')), aside: YES.includes(plain(cell('aside'))) };
    return { ...more, ...what, price, currency, date, kind, state, place: cut('place', unguarded(cell('place')), remarks), note: cut('note', note, remarks), rate, remarks };
  }

  money(cell) {
    const { price, currency: beside, dollar } = readPrice(cell('price'));
    if (cell('price') === '') throw new Refusal(_('It has no price.'));
    if (price === undefined) throw new Refusal(_('The price “{text}” is not a number.', { text: cell('price') }));
    refuse(RULES.price(price));
    const column = readPrice(`${cell('currency')}1`);
    const said = [column.currency, beside, this.head.currency].filter(Boolean);
    if (cell('currency') !== '' && column.price === undefined) throw new Refusal(_('“{text}” is no currency code.', { text: cell('currency') }));
    const [first] = said;
    if (said.some((code) => code !== first)) throw twoCurrencies(said);
    if (first && !this.known.isCurrency(first)) throw new Refusal(_('“{text}” is no currency code.', { text: first }));
    const signed = dollar || column.dollar;
    if (signed && first && !writtenWithDollar(first)) throw twoCurrencies(['$', first]);
    if (!first && !signed) this.noCurrency += 1;
    return { price, currency: first ?? (signed ? 'USD' : this.answers.currency) };
  }

  /** The day; null while nothing tells the order of its numbers. */
  date(text, remarks) {
    if (text === '') throw new Refusal(_('It has no date.'));
    const found = readDate(text);
    if (!found) throw new Refusal(_('The date “{text}” cannot be read. Write it as in 2025-06-01.', { text }));
    if (found.monthOnly) remarks.push(_('Taken as the first of the month.'));
    const date = found.date ?? this.inOrder(text, found.slashed);
    if (date === null) return null;
    refuse(RULES.date(date) && _('There is no such day as “{text}”.', { text }));
    refuse(future(date));
    return date;
  }

  inOrder(text, slashed) {
    const order = this.order ?? this.answers.dayFirst;
    if (order === 'both') throw new Refusal(_('In “{text}” nobody can tell day and month: this file has some dates with the day first, some with the month. Write it as in 2025-06-01.', { text }));
    if (order === null && slashed[0] !== slashed[1]) return null;
    return inOrder(slashed, order ?? true);
  }

  /** Family and type, each by id or name; null while neither is said. */
  what(familyText, typeText) {
    const called = (text) => (row) => plain(row.id) === plain(text) || plain(row.name) === plain(text);
    const { families, sheets } = this.known;
    const given = !UNKNOWN.includes(plain(familyText));
    const family = given ? families.find(called(familyText)) : families.find(called(typeText));
    if (given && !family) throw new Refusal(_('No kind of set is called “{text}” here.', { text: familyText }));
    if (UNKNOWN.includes(plain(typeText)) || (family && called(typeText)(family))) return family ? { family: family.id, model_sheet: null } : this.asked();
    const types = sheets.filter(called(typeText)).filter((row) => !family || row.family === family.id);
    if (types.length > 1) throw new Refusal(_('More than one type is called “{text}” here.', { text: typeText }));
    if (types.length === 0) {
      throw new Refusal(family ? _('No type is called “{text}” here in this kind. Make a model sheet for it, or leave the type empty.', { text: typeText })
        : _('No type is called “{text}” here. Make a model sheet for it, or leave the type empty.', { text: typeText }));
    }
    return { family: types[0].family, model_sheet: types[0].id };
  }

  asked() {
    this.noWhat += 1;
    return this.answers.what;
  }

  rate(text, currency, family) {
    const rate = readRate(text);
    if (rate === undefined) throw new Refusal(_('The rate “{text}” is not a number.', { text }));
    refuse(RULES.rate(rate));
    return currency === family.currency ? null : rate;
  }
}

function twoCurrencies(codes) {
  const currencies = codes.reduce((first, last) => _('{first} and {last}', { first, last }));
  return new Refusal(_('It names two currencies, {currencies}.', { currencies }));
}

/** What a line waits for, or nothing. */
function waitWords(what, date) {
  if (!what && !date) return _('It waits for what it is and what comes first, day or month.');
  if (!what) return _('It waits for what it is.');
  return date ? '' : _('It waits for what comes first, day or month.');
}

/** What its findings did to the logarithm of the price, or null. @param {string} text */
function readOffset(text) {
  if (text === '') return null;
  const offset = Number(text.replace(',', '.').replace('\u2212', '-'));
  refuse(offsetRule(offset));
  return offset;
}

function refuse(why) {
  if (why) throw new Refusal(why);
}

/** A state by id or in words; another word for it goes into the note. */
function stateAndNote(family, cell, remarks) {
  const text = unguarded(cell('state'));
  const note = unguarded(cell('note'));
  const state = family.states.find((row) => plain(row.id) === plain(text) || plain(row.label) === plain(text));
  if (state || UNKNOWN.includes(plain(text))) return { state: state?.id ?? null, note };
  remarks.push(_('The state “{text}” is not in the tables; it went into the note.', { text }));
  return { state: null, note: [note, text].filter(Boolean).join('; ') };
}

function cut(name, text, remarks) {
  const longest = LONGEST[name];
  if (text.length > longest) remarks.push(name === 'place' ? _('The place was cut after {longest} letters.', { longest }) : _('The note was cut after {longest} letters.', { longest }));
  return text.slice(0, LONGEST[name]).trim();
}
