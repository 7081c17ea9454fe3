/** The label that a set carries: typed off the print, or read from a photo. */
import { _ } from '../language.js';
import { withoutMetadata } from '../store/jpeg_segments.js';
import { typedLabel } from '../store/label_text.js';
import { setsLabelled } from '../store/photo_filing.js';
import { preparePhoto } from '../store/photo_intake.js';
import { labelsIn } from '../store/photo_labels.js';
import { NoSignal } from '../store/photo_server.js';
import { h, setText } from './element.js';
import { labelled } from './fields.js';
import { photoPick } from './photo_pick.js';

/**
 * @param {import('../store/found_set.js').FoundSet} foundSet
 * @param {(key: string, value: any) => void} put
 */
export function labelField(foundSet, put) {
  const said = h('p', { class: 'wrong', role: 'alert' });
  const input = /** @type {HTMLInputElement} */ (h('input', { autocomplete: 'off', autocapitalize: 'characters', maxlength: 20, value: foundSet.get('label') ?? '', placeholder: _('none') }));
  const keep = async () => {
    const label = typedLabel(input.value);
    const wrong = input.value.trim() !== '' && !label;
    input.setAttribute('aria-invalid', String(wrong));
    setText(said, wrong ? _('Write the label as it stands below its square, such as K7Q2-007.') : '');
    if (wrong || label === (foundSet.get('label') ?? '')) return;
    put('label', label || null);
    const [other] = label ? (await setsLabelled(label)).filter(({ base }) => base.id !== foundSet.base.id) : [];
    if (other) setText(said, _('Another set has this label too: {set}. Photos with it wait until one of the two has another.', { set: other.get('title') || other.base.family }));
  };
  input.addEventListener('input', keep);
  // What was typed in small letters or without its dash then stands as it is kept.
  input.addEventListener('change', () => {
    input.value = typedLabel(input.value) || input.value.trim();
  });
  const pick = photoPick(_('the label'), async ([file]) => {
    setText(said, '');
    try {
      input.value = await labelFrom(file);
      await keep();
    } catch (problem) {
      setText(said, problem.message);
    }
  }, _('Read it from a photo'));
  return h('div', {}, labelled(_('Label'), input), said, pick);
}

/** The labels in a photo. @param {File} file @returns {Promise<string[]>} rejects with a sentence */
export async function labelsFrom(file) {
  const { blob } = await preparePhoto(file);
  return labelsIn(await withoutMetadata(file) ?? blob).catch((problem) => {
    throw problem instanceof NoSignal ? new Error(_('Reading a label needs a signal in this browser. Type it instead: it stands below the square.')) : problem;
  });
}

/** @param {File} file @returns {Promise<string>} rejects with a sentence */
async function labelFrom(file) {
  const labels = await labelsFrom(file);
  if (labels.length === 1) return labels[0];
  throw new Error(labels.length === 0 ? _('No label was found in this photo. Come closer, so that the square fills a third of it, or type the label.')
    : _('Several labels are in this photo: {labels}. Type the one that belongs to this set.', { labels: labels.join(', ') }));
}
