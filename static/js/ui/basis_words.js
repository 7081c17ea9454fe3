/** What a row of the tables rests on, in words. */
import { _ } from '../language.js';

/** @param {string} basis as the tables have it */
export const basisWords = (basis) => ({
  published: _('published'), 'common practice': _('common practice'), 'from memory': _('from memory'), invented: _('invented'),
})[basis];
