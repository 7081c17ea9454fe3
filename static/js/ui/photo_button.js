/** Takes or picks photos for one place of a set, with its mark until they are on the disk. */
import { _ } from '../language.js';
import { preparePhoto } from '../store/photo_intake.js';
import { addPhoto } from '../store/photos.js';
import { notice } from './notices.js';
import { photoPick } from './photo_pick.js';
import { savingMark } from './saving_mark.js';

/**
 * A button that adds photos.
 * @param {{set: string, about: string, label: string, text?: string, onAdded: (photo: import('../store/photos.js').Photo) => void}} place
 *   `label` says what the photos are of; `text` stands beside the drawing
 */
export function photoButton({ set, about, label, text, onAdded }) {
  const button = photoPick(label, (files) => savingMark(button, addPhotos(files, { set, about }, onAdded)), text);
  return button;
}

/**
 * Keeps chosen files one by one; what cannot be kept gets a sentence, and the others are kept all the same.
 * @param {File[]} files
 * @param {{set: string, about: string}} belongs
 * @param {(photo: import('../store/photos.js').Photo) => void} onAdded called for each once it is on the disk
 * @returns {Promise<void>} rejects when one of them was not kept
 */
export async function addPhotos(files, belongs, onAdded) {
  const problems = [];
  for (const file of files) {
    try {
      onAdded(await addPhoto(await preparePhoto(file), belongs));
    } catch (problem) {
      problems.push(problem.message);
    }
  }
  if (problems.length === 0) return;
  const kept = files.length > 1 ? [_('{kept} of {all} photos kept.', { kept: files.length - problems.length, all: files.length })] : [];
  notice('photo', [...kept, ...new Set(problems)].join(' '), { kind: 'bad' });
  throw new Error(problems[0]);
}
