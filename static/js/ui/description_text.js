/** A description as plain text, good to paste anywhere. Twin of webapp/pages/description_text.py. */
import { wrap } from './plan_text.js';

/**
 * The description in lines of at most 76 letters; the short one fits a notice or a card on the table.
 * @param {import('./describing.js').View} view
 * @param {{short: boolean, faces: {label: string, rows: string[]}[]}} form `faces`: the drawings of holes in words
 */
export function descriptionText(view, { short, faces }) {
  const { words } = view.pack;
  const head = [...wrap(view.title), ...wrap(plain(view.name))];
  if (short) {
    const mind = `${words['heading-cautions']}: ${view.cautions.map((row) => row.title).join('; ')}.`;
    return joined([...head, '', ...paragraph(view.short), '', ...wrap(mind)]);
  }
  return joined([
    ...head,
    ...section(words['heading-short'], paragraph(view.short)),
    ...section(words['heading-own-words'], own(view)),
    ...section(words['heading-cautions'], view.cautions.flatMap((row) => wrap(caution(words, row), '! ', '  '))),
    ...view.sections.flatMap((one) => told(view, one, faces)),
    '', ...wrap(words['how-made']),
  ]);
}

const joined = (lines) => `${lines.join('\n').trimEnd()}\n`;

function told(view, { id, heading, paragraphs }, faces) {
  const lines = paragraphs.flatMap(paragraph);
  if (id === 'holes') for (const { label, rows } of faces) lines.push(...wrap(`${label}:`), ...rows.flatMap((row) => wrap(row, '- ', '  ')));
  if (id === 'price' && view.reasons.length > 0) {
    lines.push(...wrap(view.pack.words['reasons-lead']), ...view.reasons.flatMap((row) => wrap(`${row.label}: ${row.money}`, '- ', '  ')));
  }
  return section(heading, lines);
}

function own({ words, pack }) {
  if (!words.trim()) return [];
  const lines = words.split(/\r\n|[\n\r]/).flatMap((line) => (plain(line).trim() ? wrap(plain(line), '> ') : ['>']));
  return [...lines, ...wrap(pack.words['words-apart'])];
}

const caution = (words, { title, look, text, who }) => [`${title}.`, words['caution-look'].replace('{look}', () => look), text, who].join(' ');

const paragraph = (sentences) => wrap(plain(sentences.map((sentence) => sentence.text).join(' ')));

/** Lines under a heading; neither where there are none. */
const section = (heading, lines) => (lines.length > 0 ? ['', ...wrap(heading.toUpperCase()), ...lines] : []);

/** A text without what no line may hold. @param {string} text */
const plain = (text) => text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, ' ');
