/** A row of thumbnails, each the way to its photo. */
import { _ } from '../language.js';
import { h } from './element.js';
import { sayTaken } from './photo_words.js';
import { useStyle } from './style_sheet.js';

/**
 * @param {import('../store/photos.js').Photo[]} photos
 * @param {string} what what they are of
 */
export function photoStrip(photos, what) {
  useStyle('photos');
  return h('ul', { class: 'photo-strip' }, ...photos.map((photo, index) => h('li', {}, thumb(photo, _('Photo {number} of {what}, taken {day}', { number: index + 1, what, day: sayTaken(photo.taken) })))));
}

/** @param {import('../store/photos.js').Photo} photo @param {string} alt */
export function thumb(photo, alt) {
  const image = /** @type {HTMLImageElement} */ (h('img', { alt, width: 72, height: 72 }));
  image.onload = () => URL.revokeObjectURL(image.src);
  image.src = URL.createObjectURL(photo.thumb);
  return h('a', { class: 'thumb', href: `#/photo/${photo.id}` }, image);
}
