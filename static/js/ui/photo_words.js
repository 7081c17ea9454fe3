/** Photos in words: what one is of, and the day it was taken. */
import { _, _n } from '../language.js';
import { dayLocale } from './habits.js';

/** Such as 25 Nov, with the year where it is not this one. @param {string} taken */
export function sayTaken(taken) {
  const day = new Date(taken);
  const year = day.getFullYear() === new Date().getFullYear() ? {} : { year: /** @type {const} */ ('numeric') };
  return day.toLocaleDateString(dayLocale(), { day: 'numeric', month: 'short', ...year });
}

/** What a photo is of: a check of the pack, or the set as a whole. @param {any} pack @param {string} about */
export function sayAbout(pack, about) {
  return pack?.checks.find((check) => about === `check/${check.id}`)?.label ?? _('the set as a whole');
}

/** @param {number} count */
export const countPhotos = (count) => _n('{count} photo', '{count} photos', count);
