/** Where many photos are dropped or chosen. */
import { _ } from '../language.js';
import { h } from './element.js';
import { photoPick } from './photo_pick.js';

/** @param {(files: File[]) => void} take */
export function photoDrop(take) {
  const zone = h('section', { class: 'card photo-drop',
    ondragover: (event) => {
      event.preventDefault();
      zone.classList.add('over');
    },
    ondragleave: () => zone.classList.remove('over'),
    ondrop: (event) => {
      event.preventDefault();
      zone.classList.remove('over');
      const files = [...event.dataTransfer?.files ?? []];
      if (files.length > 0) take(files);
    } },
  h('p', {}, _('A photo that shows a label of yours goes to the set that carries it. Choose or drop as many as you like; each is on this phone before its label is read.')),
  photoPick(_('many sets'), take, _('Choose photos')),
  h('details', {}, h('summary', {}, _('What is done with them')),
    h('p', { class: 'fine' }, _('Each is turned upright and made smaller, and its place, time and other hidden notes are taken out before it is stored.')),
    h('p', { class: 'fine' }, _('Where this browser cannot read labels, or a photo’s form, the photo goes to the server that this app came from, which reads it and keeps nothing. Without a signal it waits here.'))));
  return zone;
}
