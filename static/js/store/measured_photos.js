/** What measuring in photos leaves behind: the thing of known size in each, and what was chosen last. */
import { openDatabase } from './database.js';
import { changePhotos } from './photos.js';
import { save } from './saving.js';

/**
 * @typedef {Object} KeptReference of a photo, so that the next hole in it is one tap
 * @property {'card' | 'label' | 'coin'} kind
 * @property {string} [id] of the card or coin
 * @property {[number, number]} size_mm
 * @property {[number, number][]} outline as it was placed
 * @property {boolean} as_given not refined
 */

const LAST = 'last-reference';

/** What was measured by last. @returns {Promise<{kind: string, id?: string, side_mm?: number} | undefined>} */
export const lastReference = async () => (await (await openDatabase()).get('meta', LAST))?.value;

/** @param {{kind: string, id?: string, side_mm?: number}} choice */
export const rememberReference = (choice) => save(({ put }) => put('meta', { key: LAST, value: choice }));

/** @param {string} photo its id @param {KeptReference} reference */
export const keepReference = (photo, reference) => changePhotos([photo], (row) => ({ ...row, reference }));
