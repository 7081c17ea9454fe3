/** The restoration plan as plain text, good to paste anywhere. */
import { _ } from '../language.js';
import { cautionWords, planRows } from './plan_rows.js';

const WIDTH = 76;

/**
 * The plan in lines of at most 76 letters, with every caution in it.
 * @param {any} appraised what pages/appraised.js gives
 * @returns {string}
 */
export function planText(appraised) {
  const plan = planRows(appraised);
  const listed = (rows) => rows.flatMap((row) => wrap(row, '- ', '  '));
  return [
    ...wrap(_('Restoration plan: {set}', { set: plan.title })), ...wrap(`${plan.aim}. ${plan.written}`), ...wrap(plan.totals), '', ...wrap(plan.estimate),
    ...section(_('Cautions'), plan.top.flatMap((row) => wrap(cautionWords(row), '! ', '  '))),
    ...section(plan.heading, plan.certain.length > 0 ? plan.certain.flatMap(stage) : ['']),
    ...section(plan.openHeading, plan.open.flatMap(stage)),
    ...section('', wrap(plan.few)),
    ...section(_('Parts to find'), plan.parts.length > 0 ? [...wrap(plan.partsNote), ...plan.parts.flatMap(({ label, words, price, chance }) => wrap(`${label}: ${words}, ${price}, ${chance}`, '- ', '  '))] : []),
    ...section(_('What cannot be undone'), listed(plan.lasting.map(({ number, label, chance }) => [`${number}. ${label}`, chance].filter(Boolean).join(', ')))),
    ...section(plan.uncheckedHeading, listed(plan.unchecked)),
    ...section(plan.unseenHeading, listed(plan.unseen)),
  ].join('\n').trimEnd().replace(/\n{3,}/g, '\n\n').concat('\n');
}

/** Lines under a heading; neither where there are none. */
const section = (heading, lines) => (lines.length > 0 ? ['', ...wrap(heading.toUpperCase()), ...lines] : []);

function stage({ label, tasks }) {
  return ['', ...wrap(label.charAt(0).toUpperCase() + label.slice(1)), ...tasks.flatMap(taskLines)];
}

function taskLines({ number, label, chance, hours, materials, undo, why, basis, fresh, again, aboveWords }) {
  const indent = ' '.repeat(`${number}. `.length);
  const under = (text, first = '') => wrap(text, indent + first, indent + ' '.repeat(first.length));
  return [
    ...wrap(label, `${number}. `, indent),
    ...fresh.flatMap((row) => under(cautionWords(row), '! ')),
    ...again.flatMap((row) => under(`${row.title}. ${row.text}`, '! ')),
    ...under(aboveWords, '! '),
    ...under(`${[chance, hours, materials].filter(Boolean).join('; ')}. ${undo}`),
    ...under([why, _('Rests on: {basis}.', { basis })].join(' ')),
  ];
}

/**
 * A text in lines; a word too long for one is cut.
 * @param {string} text nothing gives no line
 * @param {string} [first] what the first line begins with
 * @param {string} [rest] what the others begin with
 */
export function wrap(text, first = '', rest = first) {
  const lines = [];
  let line = first;
  const width = WIDTH - rest.length;
  for (const word of text.split(/\s+/).filter(Boolean).flatMap((whole) => cut([...whole], width))) {
    const begun = line !== (lines.length > 0 ? rest : first);
    if (begun && [...line, ...word].length + 1 > WIDTH) {
      lines.push(line);
      line = rest + word;
    } else {
      line += (begun ? ' ' : '') + word;
    }
  }
  return text.trim() ? [...lines, line] : [];
}

function cut(letters, width) {
  const pieces = [];
  for (let at = 0; at < letters.length; at += width) pieces.push(letters.slice(at, at + width).join(''));
  return pieces;
}
