/** One operation in words: what it is about, and what it says. */
import { _ } from '../language.js';
import { plain } from '../store/operations.js';
import { dayLocale, length } from './habits.js';
import { leftWord } from './hole_words.js';
import { figure } from './money.js';
import { whatWord } from './outcome_words.js';
import { sayAbout } from './photo_words.js';
import { kindWord } from './sale_words.js';

/** What findings are about, by key. */
const names = () => ({
  title: _('Name'), place: _('Where'), note: _('Note'), label: _('Label'), asking: _('Asking price'), hour_rate: _('What an hour is worth'), aim: _('What you want it for'),
  region: _('ITU region'), currency: _('Currency'), outcome: _('What became of it'), role: _('Buying or selling'), lot: _('Lot'), claims: _('Copy of a seller’s page'),
});

/** Fields of a model sheet. */
const fields = () => ({
  name: _('name'), about: _('about'), coverage: _('coverage'), crystal: _('crystal'), service: _('service'), finish: _('finish'), book: _('book'), supply: _('supply'),
  heater_strings: _('heater strings'), median: _('median'), sure: _('sure'), absent: _('absent'), parts: _('parts'), extra: _('extra'),
});

/**
 * @param {any} pack of the set's family, or null
 * @param {import('../store/operations.js').Operation} operation
 * @param {import('../store/operations.js').Operation[]} [beside] those that it is told from
 * @returns {[string, string]} what it is about, and what it says
 */
export function findingWords(pack, operation, beside = []) {
  const { kind, record, value, after } = operation;
  const gone = value?.removed ? _('removed') : '';
  if (kind === 'sets') return [_('The set'), gone || (after.length > 0 ? _('brought back') : _('begun'))];
  if (kind === 'photos') return [_('Photo'), gone || photoWords(pack, value, beside)];
  if (kind === 'sales') return [_('A sale'), [gone, `${value?.price ?? ''} ${value?.currency ?? ''}`, value?.date, kindWord(value?.kind), value?.place, value?.note, value?.aside && _('set aside')].filter(Boolean).join(', ')];
  if (kind === 'sheets') {
    const name = value?.document?.name;
    return [name ? _('Model sheet {name}', { name }) : _('Model sheet (a draft)'), gone || fieldsThatDiffer(value, beside) || _('kept')];
  }
  if (kind === 'lots') return [_('The lot'), gone || lotWords(value ?? {})];
  if (kind === 'shelf') return [_('On the shelf'), [gone, thingWord(value?.kind), value?.part?.replaceAll('-', ' '), value?.count > 1 && _('{count} of them', { count: value.count })].filter(Boolean).join(', ')];
  const key = record.slice(record.indexOf('/') + 1);
  if (!key.startsWith('check/')) return [names()[key] ?? key, said(pack, key, value)];
  const check = pack?.checks.find((row) => key === `check/${row.id}`);
  return [check?.label ?? key.slice(6), foundWords(pack, check, value ?? {})];
}

/** What a photo is of, and where it is, where those beside it are elsewhere. */
function photoWords(pack, value, beside) {
  const what = sayAbout(pack, value?.about ?? '');
  if (beside.every((other) => other.value?.set === value?.set)) return _('of {what}', { what });
  return value?.set ? _('of {what}, in one set', { what }) : _('of {what}, in the tray', { what });
}

const thingWord = (kind) => ({ spare: _('spare'), want: _('want'), donor: _('donor') })[kind] ?? kind;

/** A lot with the money it goes by. */
function lotWords({ name, asking, currency, margin, hour_rate: rate, hours_limit: limit }) {
  return [name || _('without a name'), asking !== null && _('they ask {price}', { price: figure(asking) }), currency?.code, margin > 0 && _('margin {share} %', { share: figure(100 * margin) }),
    rate > 0 && _('{amount} an hour', { amount: figure(rate) }), limit !== null && _('at most {hours} h', { hours: figure(limit) })].filter(Boolean).join(', ');
}

/** Fields of a sheet in which it differs from another. */
function fieldsThatDiffer(value, beside) {
  const form = value?.form ?? {};
  const others = beside.map((other) => other.value?.form ?? {});
  return Object.keys(form).filter((name) => others.some((other) => plain(other[name] ?? null) !== plain(form[name])))
    .map((name) => [fields()[name] ?? name, typeof form[name] === 'string' ? form[name] || _('empty') : plain(form[name])].join(': ')).join('; ');
}

function said(pack, key, value) {
  if (value === null || value === undefined || value === '') return _('nothing');
  if (key === 'aim') return pack?.aims.find((row) => row.id === value)?.label ?? String(value);
  if (key === 'region') return _('Region {region}', { region: value });
  if (key === 'role') return value === 'seller' ? _('selling') : _('buying');
  if (key === 'currency') return value.rate ? _('{currency}, at {rate}', { currency: value.code, rate: figure(value.rate) }) : String(value.code);
  if (key === 'claims') return String(value.title);
  if (key === 'lot') return value.number ? _('no. {number}', { number: value.number }) : _('in a lot');
  if (key === 'outcome') return [whatWord(value.what), value.price !== null && `${figure(value.price)} ${value.currency}`].filter(Boolean).join(', ');
  return typeof value === 'object' ? plain(value) : typeof value === 'number' ? figure(value) : String(value);
}

/** What a check found, with its figure or list. */
function foundWords(pack, check, { option, unseen, looked_over: over, holes, crystal_khz: crystal, coverage_khz: coverage, heater_strings: strings, text }) {
  const answer = check?.options.find((row) => row.id === option)?.label ?? option;
  return [answer ?? (unseen ? _('cannot be looked at here') : _('not checked')), over && _('looked over'),
    holes?.length > 0 && holes.map((hole) => holeWords(pack, hole)).join('; '),
    crystal && `${figure(crystal)} kHz`, coverage?.[0] && coverage[1] && _('{from} to {to} kHz', { from: figure(coverage[0]), to: figure(coverage[1]) }),
    strings?.length > 0 && strings.map((string) => `${string.flat().map(({ volts, amps }) => `${figure(volts)} V ${figure(amps)} A`).join(' + ')}`).join('; '), text].filter(Boolean).join(', ');
}

function holeWords(pack, { diameter_mm: diameter, place, as_found: left }) {
  return [length(diameter), pack?.holes.places.find((row) => row.id === place)?.label ?? place, leftWord({ as_found: left })].filter(Boolean).join(' ');
}

/** Who and when, such as "Phone, 26 Nov 2026, 20:31". @param {{by: string, at: string}} operation */
export function whoWhen({ by, at }) {
  const when = new Date(at);
  const shown = Number.isNaN(when.getTime()) ? '' : when.toLocaleString(dayLocale(), { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
  return [by || _('A device without a name'), shown].filter(Boolean).join(', ');
}
