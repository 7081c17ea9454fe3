/** Photos of a set as a whole, and its label. */
import { _, _n } from '../language.js';
import { photosOf } from '../store/photos.js';
import { h } from './element.js';
import { labelField } from './label_field.js';
import { photoButton } from './photo_button.js';
import { photoStrip } from './photo_strip.js';

/**
 * @param {any} pack
 * @param {import('../store/found_set.js').FoundSet} foundSet
 * @param {(key: string, value: any) => void} put
 * @param {() => Promise<void>} changed tells the screen around
 */
export function aboutPhotos(pack, foundSet, put, changed) {
  const { id } = foundSet.base;
  const strip = h('div', {});
  const show = async () => {
    const all = await photosOf(id);
    const known = new Set(pack.checks.map((check) => `check/${check.id}`));
    // A photo of a check that these tables do not have is still one of the set.
    const whole = all.filter((photo) => !known.has(photo.about));
    strip.replaceChildren(...[whole.length > 0 && photoStrip(whole, _('the set as a whole')),
      all.length > whole.length && h('p', { class: 'fine' }, _n('{count} photo more at its checks.', '{count} photos more at its checks.', all.length - whole.length))].filter(Boolean));
  };
  show();
  const button = photoButton({ set: id, about: '', label: _('the set as a whole'), text: _('Photo of the whole'), onAdded: () => {
    show();
    changed();
  } });
  return h('section', { class: 'card', 'aria-label': _('Photos and label') }, strip, button, labelField(foundSet, put));
}
