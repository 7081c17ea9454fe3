/** One operation in words: what it is about, and what it says. */
import { figure } from './money.js';
import { sayAbout } from './photo_words.js';

const NAMES = {
  title: 'Name', place: 'Where', note: 'Note', label: 'Label', asking: 'Asking price', hour_rate: 'What an hour is worth', aim: 'What you want it for',
  region: 'ITU region', currency: 'Currency', outcome: 'What became of it', role: 'Buying or selling',
};

/** @param {any} pack of the set's family, or null @param {import('../store/operations.js').Operation} operation @returns {[string, string]} what it is about, and what it says */
export function findingWords(pack, { kind, record, value, after }) {
  if (kind === 'sets') return ['The set', value?.removed ? 'removed' : after.length > 0 ? 'brought back' : 'begun'];
  if (kind === 'photos') return [`Photo of ${sayAbout(pack, value?.about ?? '')}`, value?.removed ? 'removed' : 'kept'];
  if (kind === 'sales') return ['A sale', `${value?.removed ? 'removed: ' : ''}${value?.price ?? ''} ${value?.currency ?? ''}, ${value?.date ?? ''}`];
  if (kind === 'sheets') return ['Model sheet', `${value?.removed ? 'removed: ' : ''}${value?.document?.name || 'a draft'}`];
  const key = record.slice(record.indexOf('/') + 1);
  if (!key.startsWith('check/')) return [NAMES[key] ?? key, said(pack, key, value)];
  const check = pack?.checks.find((row) => key === `check/${row.id}`);
  return [check?.label ?? key.slice(6), foundWords(check, value ?? {})];
}

function said(pack, key, value) {
  if (value === null || value === undefined || value === '') return 'nothing';
  if (key === 'aim') return pack?.aims.find((row) => row.id === value)?.label ?? String(value);
  if (key === 'currency') return value.rate ? `${value.code}, at ${figure(value.rate)}` : String(value.code);
  if (key === 'outcome') return [value.what, value.price !== null && `${figure(value.price)} ${value.currency}`].filter(Boolean).join(', ');
  return typeof value === 'object' ? JSON.stringify(value) : typeof value === 'number' ? figure(value) : String(value);
}

/** What a check found, with its figure or list. */
function foundWords(check, { option, unseen, looked_over: over, holes, crystal_khz: crystal, coverage_khz: coverage, heater_strings: strings, text }) {
  const answer = check?.options.find((row) => row.id === option)?.label ?? option;
  return [answer ?? (unseen ? 'cannot be looked at here' : 'not checked'), over && 'looked over',
    holes?.length > 0 && `${holes.length === 1 ? '1 hole' : `${holes.length} holes`} (${holes.map((hole) => `${hole.diameter_mm} mm`).join(', ')})`,
    crystal && `${figure(crystal)} kHz`, coverage?.[0] && coverage[1] && `${figure(coverage[0])} to ${figure(coverage[1])} kHz`,
    strings?.length > 0 && `${strings.length === 1 ? '1 heater string' : `${strings.length} heater strings`}`, text].filter(Boolean).join(', ');
}

/** Who and when, such as "Phone, 26 Nov 2026, 20:31". @param {{by: string, at: string}} operation */
export function whoWhen({ by, at }) {
  const when = new Date(at);
  const shown = Number.isNaN(when.getTime()) ? '' : when.toLocaleString('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
  return [by || 'A device without a name', shown].filter(Boolean).join(', ');
}
