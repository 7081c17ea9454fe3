/** A new set for a photo of the tray, with the label that the photo shows. */
import { _ } from '../language.js';
import { openSet, newSet } from '../store/notebook.js';
import { packIndex } from '../store/packs.js';
import { listSheets, sheetName } from '../store/sheets.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';

/**
 * @param {string} label
 * @param {(set: string) => Promise<void>} made
 * @returns {Promise<HTMLElement>} asks for the type and starts the set
 */
export async function newSetForm(label, made) {
  const type = select(_('Type'), await types());
  const start = h('button', { class: 'button strong', onclick: async () => {
    const [family, sheet] = type.value.split('\n');
    const id = await newSet(family, sheet || null);
    await (await openSet(id)).put('label', label);
    await made(id);
  } }, _('Start a set with {label}', { label }));
  return h('div', { class: 'fields' }, labelled(_('What it is'), type), start);
}

/** Every type, shipped or made here, and each kind with its type not known. */
async function types() {
  const [{ families, sheets }, own] = await Promise.all([packIndex(), listSheets()]);
  return families.flatMap((family) => [
    ...Object.entries(sheets).filter(([, sheet]) => sheet.sheet.family === family.id).map(([id, sheet]) => [`${family.id}\n${id}`, sheet.name]),
    ...own.filter((row) => row.family === family.id && sheetName(row)).map((row) => [`${family.id}\n${row.id}`, sheetName(row)]),
    [`${family.id}\n`, _('{kind}, type not known', { kind: family.name })],
  ]);
}
