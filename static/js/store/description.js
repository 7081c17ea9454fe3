/** What a seller adds to his findings, and the document that a shared description is: no more than its page shows. */
import { localDay } from './found_set.js';
import { holesOf } from './hole_list.js';
import { photosOf } from './photos.js';

/**
 * @typedef {Object} Description the finding `description` of a set
 * @property {string} words the seller's own
 * @property {'none' | 'asked' | 'range'} price what is told of the price
 * @property {number | null} asked in the set's currency
 * @property {boolean} found whether search engines may list a shared page
 */

/** Most photos on a shared page, the server's limit. */
const MOST_PHOTOS = 60;

/** @param {import('./found_set.js').FoundSet} foundSet @returns {Description} */
export const descriptionOf = (foundSet) => ({ words: '', price: 'none', asked: null, found: false, ...foundSet.get('description') });

/** The findings that a description is made of: what an hour is worth, and what others asked, are nobody's business. */
export function toldFindings(foundSet, prepared, sales) {
  const { price } = descriptionOf(foundSet);
  const { hour_rate: _rate, asking: _asking, comparables, ...rest } = foundSet.findings(prepared, sales);
  return { ...rest, comparables: price === 'range' ? comparables.map(plainSale) : [] };
}

/** A sale without where it was and what was noted of it. */
const plainSale = ({ price, currency, date, state, kind, rate, log_offset: offset }) => ({ price, currency, date, state, kind, rate, log_offset: offset });

/** The wishes that a description is composed by. @param {import('./found_set.js').FoundSet} foundSet */
export function wishesOf(foundSet) {
  const { price, asked } = descriptionOf(foundSet);
  return { price, asked, looked: foundSet.looked(), written: localDay(new Date()) };
}

/**
 * The share document, as the server takes it.
 * @param {{foundSet: import('./found_set.js').FoundSet, prepared: any, pack: any, sales: any[], findings: any}} appraised
 * @param {string} language of the seller
 */
export async function shareDocument({ foundSet, prepared, pack, sales, findings }, language) {
  const { words } = descriptionOf(foundSet);
  const { price, asked, looked, written } = wishesOf(foundSet);
  const { model_sheet: sheet } = foundSet.base;
  const photos = (await photosOf(foundSet.base.id)).filter((photo) => photo.sha256).slice(0, MOST_PHOTOS);
  return {
    form: 1,
    findings: toldFindings(foundSet, prepared, sales),
    own_sheet: sheet?.startsWith('own-') ? await ownSheet(sheet) : null,
    title: foundSet.get('title') ?? '',
    words,
    price,
    asked: price === 'none' || asked === null ? null : { amount: asked, currency: findings.currency },
    looked,
    written,
    photos: photos.map(({ sha256, about }) => ({ sha256, about: about.replace(/^check\//, '') })),
    spots: holesOf(foundSet, pack).map(({ x_mm: x, y_mm: y }) => (x === undefined ? null : { x_mm: x, y_mm: y })),
    language,
  };
}

async function ownSheet(id) {
  const { openSheet, sheetName } = await import('./sheets.js');
  const sheet = await openSheet(id);
  return sheet && !sheet.removed ? { ...sheet.document, name: sheetName(sheet) } : null;
}
