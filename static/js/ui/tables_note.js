/** Says when a kind's tables are not in the language of the screens. */
import { _, language } from '../language.js';
import { h } from './element.js';

/** @param {any} pack */
export const tablesNote = (pack) => pack.language !== language() && h('p', { class: 'sub' }, _('The tables of this kind are in English so far.'));
