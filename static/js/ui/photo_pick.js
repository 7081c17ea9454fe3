/** The small button that opens the phone's own chooser; phones offer camera and gallery in it. */
import { _ } from '../language.js';
import { h, svg } from './element.js';

/**
 * @param {string} what what it is of, for who cannot see where the button stands
 * @param {(files: File[]) => void} choose
 * @param {string} [text] beside the drawing
 */
export function photoPick(what, choose, text = '') {
  const input = /** @type {HTMLInputElement} */ (h('input', { type: 'file', accept: 'image/*', multiple: true, 'aria-label': _('Photo of {what}', { what }) }));
  input.addEventListener('change', () => {
    const files = [...input.files ?? []];
    input.value = '';
    if (files.length > 0) choose(files);
  });
  return h('label', { class: `photo-pick${text && ' button'}` }, input,
    svg('svg', { viewBox: '0 0 24 24', 'aria-hidden': 'true' }, svg('path', { d: 'M3 7h4l2-3h6l2 3h4v12H3z' }), svg('circle', { cx: 12, cy: 13, r: 4 })), text);
}
