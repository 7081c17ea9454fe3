/** One operation in words: what it is about, and what it says. */
import { plain } from '../store/operations.js';
import { dayLocale } from './habits.js';
import { figure } from './money.js';
import { sayAbout } from './photo_words.js';

const NAMES = {
  title: 'Name', place: 'Where', note: 'Note', label: 'Label', asking: 'Asking price', hour_rate: 'What an hour is worth', aim: 'What you want it for',
  region: 'ITU region', currency: 'Currency', outcome: 'What became of it', role: 'Buying or selling', lot: 'Lot', claims: 'Copy of a seller’s page',
};

/**
 * @param {any} pack of the set's family, or null
 * @param {import('../store/operations.js').Operation} operation
 * @param {import('../store/operations.js').Operation[]} [beside] those that it is told from
 * @returns {[string, string]} what it is about, and what it says
 */
export function findingWords(pack, operation, beside = []) {
  const { kind, record, value, after } = operation;
  const gone = value?.removed ? 'removed' : '';
  if (kind === 'sets') return ['The set', gone || (after.length > 0 ? 'brought back' : 'begun')];
  if (kind === 'photos') return ['Photo', gone || `of ${sayAbout(pack, value?.about ?? '')}${beside.some((other) => other.value?.set !== value?.set) ? `, in ${value?.set ? 'one set' : 'the tray'}` : ''}`];
  if (kind === 'sales') return ['A sale', [gone, `${value?.price ?? ''} ${value?.currency ?? ''}`, value?.date, value?.kind, value?.place, value?.note, value?.aside && 'set aside'].filter(Boolean).join(', ')];
  if (kind === 'sheets') return [`Model sheet ${value?.document?.name || '(a draft)'}`, gone || fieldsThatDiffer(value, beside) || 'kept'];
  if (kind === 'lots') return ['The lot', gone || lotWords(value ?? {})];
  if (kind === 'shelf') return ['On the shelf', [gone, value?.kind, value?.part?.replaceAll('-', ' '), value?.count > 1 && `${value.count} of them`].filter(Boolean).join(', ')];
  const key = record.slice(record.indexOf('/') + 1);
  if (!key.startsWith('check/')) return [NAMES[key] ?? key, said(pack, key, value)];
  const check = pack?.checks.find((row) => key === `check/${row.id}`);
  return [check?.label ?? key.slice(6), foundWords(pack, check, value ?? {})];
}

/** A lot with the money it goes by. */
function lotWords({ name, asking, currency, margin, hour_rate: rate, hours_limit: limit }) {
  return [name || 'without a name', asking !== null && `they ask ${figure(asking)}`, currency?.code, margin > 0 && `margin ${figure(100 * margin)} %`,
    rate > 0 && `${figure(rate)} an hour`, limit !== null && `at most ${figure(limit)} h`].filter(Boolean).join(', ');
}

/** Fields of a sheet in which it differs from another. */
function fieldsThatDiffer(value, beside) {
  const fields = value?.form ?? {};
  const others = beside.map((other) => other.value?.form ?? {});
  return Object.keys(fields).filter((name) => others.some((other) => plain(other[name] ?? null) !== plain(fields[name])))
    .map((name) => `${name.replaceAll('_', ' ')}: ${typeof fields[name] === 'string' ? fields[name] || 'empty' : plain(fields[name])}`).join('; ');
}

function said(pack, key, value) {
  if (value === null || value === undefined || value === '') return 'nothing';
  if (key === 'aim') return pack?.aims.find((row) => row.id === value)?.label ?? String(value);
  if (key === 'region') return `Region ${value}`;
  if (key === 'role') return value === 'seller' ? 'selling' : 'buying';
  if (key === 'currency') return value.rate ? `${value.code}, at ${figure(value.rate)}` : String(value.code);
  if (key === 'claims') return String(value.title);
  if (key === 'lot') return value.number ? `no. ${value.number}` : 'in a lot';
  if (key === 'outcome') return [value.what, value.price !== null && `${figure(value.price)} ${value.currency}`].filter(Boolean).join(', ');
  return typeof value === 'object' ? plain(value) : typeof value === 'number' ? figure(value) : String(value);
}

/** What a check found, with its figure or list. */
function foundWords(pack, check, { option, unseen, looked_over: over, holes, crystal_khz: crystal, coverage_khz: coverage, heater_strings: strings, text }) {
  const answer = check?.options.find((row) => row.id === option)?.label ?? option;
  return [answer ?? (unseen ? 'cannot be looked at here' : 'not checked'), over && 'looked over',
    holes?.length > 0 && holes.map((hole) => holeWords(pack, hole)).join('; '),
    crystal && `${figure(crystal)} kHz`, coverage?.[0] && coverage[1] && `${figure(coverage[0])} to ${figure(coverage[1])} kHz`,
    strings?.length > 0 && strings.map((string) => `${string.flat().map(({ volts, amps }) => `${figure(volts)} V ${figure(amps)} A`).join(' + ')}`).join('; '), text].filter(Boolean).join(', ');
}

function holeWords(pack, { diameter_mm: diameter, place, as_found: left = 'open' }) {
  return [`${figure(diameter)} mm`, pack?.holes.places.find((row) => row.id === place)?.label ?? place, left].filter(Boolean).join(' ');
}

/** Who and when, such as "Phone, 26 Nov 2026, 20:31". @param {{by: string, at: string}} operation */
export function whoWhen({ by, at }) {
  const when = new Date(at);
  const shown = Number.isNaN(when.getTime()) ? '' : when.toLocaleString(dayLocale(), { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
  return [by || 'A device without a name', shown].filter(Boolean).join(', ');
}
