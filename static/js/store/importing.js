/** An exported file back into the notebook. What is already here is never overwritten. */
import { _ } from '../language.js';
import { openDatabase } from './database.js';
import { exportDocument, FORM } from './exporting.js';
import { inLot, newLots, newThings, readLots } from './lot_import.js';
import { newId } from './operations.js';
import { incomingPhoto, readParts } from './photo_import.js';
import { refuseWithoutRoom } from './photos.js';
import { damage as saleDamage } from './sale_rules.js';
import { save } from './saving.js';
import { isWhole } from './set_rules.js';
import { damage } from './sheet_rules.js';
import { newSheetId } from './sheets.js';

/**
 * Takes what an exported file holds in. One that is here already and differs comes in
 * as a second one, and what names it in the file goes with it.
 * @param {Blob} chosen
 * @returns {Promise<{added: number, same: number, sheets: number, sales: number, lots: number, shelf: number, photos: number, left: number}>} `left`
 *   counts photos for which there was no room: what was found comes in without them
 */
export async function importNotebook(chosen) {
  const file = await readFile(chosen);
  const database = await openDatabase();
  const [sets, sheets, { sets: here }] = await Promise.all([database.all('sets'), database.all('sheets'), exportDocument()]);
  const goesBy = new Map();
  const newSheets = file.sheets.filter((sheet) => {
    const twin = sheets.find((row) => !row.removed && cameFrom(row, sheet) && plain(row) === plain(sheet));
    const taken = sheets.some((row) => row.id === sheet.id);
    goesBy.set(sheet.id, twin?.id ?? (taken ? newSheetId() : sheet.id));
    return !twin;
  });
  const photos = await newPhotos(database, file.photos);
  const lots = await newLots(database, file.lots);
  const entries = file.sets.map((entry) => ({
    ...entry, model_sheet: goesBy.get(entry.model_sheet) ?? entry.model_sheet ?? null, findings: entry.findings.map((finding) => inLot(pointed(finding, photos.ids), lots.ids)),
  }));
  const goesTo = new Map();
  const incoming = entries.filter((entry) => {
    const twin = here.find((set) => cameFrom(set, entry) && same(set, entry));
    goesTo.set(entry.id, twin?.id ?? (sets.some((row) => row.id === entry.id) ? newId() : entry.id));
    return !twin;
  });
  const sales = await newSales(database, file.sales.map((sale) => ({
    ...sale, model_sheet: goesBy.get(sale.model_sheet) ?? sale.model_sheet, set: goesTo.get(sale.set) ?? sale.set,
  })));
  const things = await newThings(database, file.shelf.map((thing) => (thing.set ? { ...thing, set: goesTo.get(thing.set) ?? thing.set } : thing)));
  const findings = ({ put }) => {
    for (const lot of lots.incoming) put('lots', lot);
    for (const thing of things) put('shelf', thing);
    for (const sale of sales) put('sales', sale);
    for (const sheet of newSheets) put('sheets', renamed(sheet, goesBy.get(sheet.id)));
    for (const { findings, ...base } of incoming) {
      const id = goesTo.get(base.id);
      put('sets', id === base.id ? base : { ...base, id, from: base.id });
      for (const finding of findings) put('findings', { ...finding, set: id });
    }
  };
  const left = await saveWithPhotos(findings, photos.incoming.map(({ row, blob }) => ({ row: placed(row, goesTo), blob })));
  return { added: incoming.length, same: entries.length - incoming.length, sheets: newSheets.length, sales: sales.length, lots: lots.incoming.length, shelf: things.length, photos: photos.incoming.length - left, left };
}

/** All in one transaction; where the photos find no room, the rest comes in without them. @returns {Promise<number>} photos left out */
async function saveWithPhotos(rest, photos) {
  try {
    await refuseWithoutRoom(photos.reduce((sum, { blob }) => sum + blob.size, 0));
    await save((stores) => {
      rest(stores);
      for (const { row, blob } of photos) {
        stores.put('photos', row);
        stores.put('photo_files', { id: row.id, blob });
      }
    });
    return 0;
  } catch (problem) {
    if (!problem.full || photos.length === 0) throw problem;
    await save(rest);
    return photos.length;
  }
}

/** Photos of the file that are not here yet, each under an id that nothing here has; and where each of the file is found. */
async function newPhotos(database, photos) {
  const here = photos.length > 0 ? await database.all('photos') : [];
  const ids = new Map();
  const incoming = photos.filter(({ row, blob }) => {
    const twin = here.find((other) => !other.removed && cameFrom(other, row) && other.bytes === blob.size);
    ids.set(row.id, twin?.id ?? (here.some((other) => other.id === row.id) ? newId() : row.id));
    return !twin;
  }).map(({ row, blob }) => ({ row: ids.get(row.id) === row.id ? row : { ...row, id: ids.get(row.id), from: row.id }, blob }));
  return { ids, incoming };
}

/** A finding whose holes name their photos as they are called here. */
function pointed(finding, ids) {
  const { value } = finding;
  if (!Array.isArray(value?.holes)) return finding;
  return { ...finding, value: { ...value, holes: value.holes.map((hole) => (ids.has(hole.photo) ? { ...hole, photo: ids.get(hole.photo) } : hole)) } };
}

/** A photo with its set as that is called here; one whose set is not in the file waits in the tray. */
function placed(row, goesTo) {
  const set = goesTo.get(row.set) ?? null;
  return set ? { ...row, set } : { ...row, set, about: '', waiting: row.waiting ?? { why: 'lost' } };
}

/** Those of the file that are not here yet, each under an id that nothing here has. */
async function newSales(database, sales) {
  const here = await database.all('sales');
  return sales.filter((sale) => !here.some((row) => !row.removed && cameFrom(row, sale) && plainSale(row) === plainSale(sale)))
    .map(({ removed, op, ...sale }) => (here.some((row) => row.id === sale.id) ? { ...sale, id: newId(), from: sale.id } : sale));
}

function renamed({ id, family, changed, document, form }, newName) {
  const from = newName === id ? {} : { from: id };
  return { id: newName, family, changed, form, document: { ...document, sheet: { ...document.sheet, id: newName } }, ...from };
}

/** Whether a row here is that of the file, or the second one that an earlier import made of it. */
const cameFrom = (row, entry) => row.id === entry.id || row.from === entry.id;

async function readFile(chosen) {
  const { text, photos } = await readParts(chosen);
  let document;
  try {
    document = JSON.parse(text);
  } catch {
    throw new Error(_('This file is not a notebook: it is not JSON. Choose a file that this app exported.'));
  }
  if (document?.['underchassis-notebook'] !== FORM || !Array.isArray(document.sets)) {
    throw new Error(_('This file is not a notebook that this version can read. Choose a file that this app exported.'));
  }
  document.sets.forEach((entry, index) => {
    if (!isWhole(entry)) throw new Error(_('Set {number} in this file is damaged. Nothing was taken in.', { number: index + 1 }));
  });
  return { sets: document.sets, sheets: readSheets(document.sheets ?? []), sales: readSales(document.sales ?? []), ...readLots(document), photos: await readPhotos(document.photos ?? [], photos) };
}

/** Photos may stand in the document itself, where another program wrote the file anew. */
async function readPhotos(inside, photos) {
  if (!Array.isArray(inside)) throw new Error(_('The photos in this file are damaged. Nothing was taken in.'));
  for (const photo of inside) photos.push(await incomingPhoto(photo, photos.length + 1));
  const twice = photos.findIndex(({ row }, index) => photos.findIndex((other) => other.row.id === row.id) < index);
  if (twice >= 0) throw new Error(_('Photo {number} in this file is damaged. It is there twice. Nothing was taken in.', { number: twice + 1 }));
  return photos;
}

function readSales(sales) {
  if (!Array.isArray(sales)) throw new Error(_('The sales in this file are damaged. Nothing was taken in.'));
  const seen = new Set();
  sales.forEach((sale, index) => {
    const wrong = saleDamage(sale) || (seen.has(sale.id) ? _('It is there twice.') : '');
    if (wrong) throw new Error(_('Sale {number} in this file is damaged. {why} Nothing was taken in.', { number: index + 1, why: wrong }));
    seen.add(sale.id);
  });
  return sales;
}

function readSheets(sheets) {
  if (!Array.isArray(sheets)) throw new Error(_('The model sheets in this file are damaged. Nothing was taken in.'));
  sheets.forEach((sheet, index) => {
    const twice = sheets.findIndex((other) => other?.id === sheet?.id) < index;
    const wrong = damage(sheet) || (twice ? _('It is there twice.') : '');
    if (wrong) throw new Error(_('Model sheet {number} in this file is damaged. {why} Nothing was taken in.', { number: index + 1, why: wrong }));
  });
  return sheets;
}

/** Two sets are the same when their model sheet and their findings are, in whatever order. */
function same(a, b) {
  const findings = (set) => JSON.stringify(set.findings.map(({ key, value }) => [key, value]).sort());
  return (a.model_sheet ?? null) === b.model_sheet && findings(a) === findings(b);
}

/** What a model sheet says, whatever it is called by and in whatever order it stands. */
function plain({ document, form = null }) {
  const sorted = (key, value) => (value?.constructor === Object ? Object.fromEntries(Object.entries(value).sort()) : value);
  return JSON.stringify([{ ...document, sheet: { ...document.sheet, id: '' } }, form], sorted);
}

/** What a sale says, whatever it is called by. */
function plainSale({ id, from, changed, removed, op, ...said }) {
  return JSON.stringify(Object.entries(said).sort());
}
