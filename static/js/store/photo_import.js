/** Photos out of an exported file, each looked at before anything is stored. */
import { _ } from '../language.js';
import { sha256Of } from './digest.js';
import { withoutMetadata } from './jpeg_segments.js';
import { FIRST, LAST } from './photo_export.js';
import { thumbOf } from './photo_intake.js';
import { damage } from './photo_rules.js';

const MOST_BYTES = 20_000_000;

/** @typedef {{row: any, blob: Blob}} Incoming */

/**
 * An exported file, read line by line: its photos are never in memory as text all at once.
 * @param {Blob} file
 * @returns {Promise<{text: string, photos: Incoming[]}>} the document without photos, and they
 */
export async function readParts(file) {
  const head = [];
  const photos = [];
  let at = 'head';
  for await (const line of linesOf(file)) {
    if (at === 'head' && line === FIRST) at = 'photos';
    else if (at === 'photos' && line === LAST) at = 'end';
    else if (at === 'photos') photos.push(await incomingPhoto(parsed(line.replace(/^,/, '')), photos.length + 1));
    else head.push(line);
  }
  if (at === 'photos') throw new Error(_('This file ends in the middle of its photos. Nothing was taken in. Export it anew where it came from.'));
  return { text: head.join('\n') + (at === 'head' ? '' : '}'), photos };
}

async function* linesOf(file) {
  const reader = file.stream().pipeThrough(new TextDecoderStream()).getReader();
  let parts = [];
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    const lines = next.value.split('\n');
    for (const line of lines.slice(0, -1)) {
      yield [...parts, line].join('').replace(/\r$/, '');
      parts = [];
    }
    parts.push(lines.at(-1));
  }
  yield parts.join('');
}

function parsed(line) {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

/** @param {any} photo @param {number} number @returns {Promise<Incoming>} rejects with a sentence */
export async function incomingPhoto(photo, number) {
  const refuse = (why) => new Error(_('Photo {number} in this file is damaged. {why} Nothing was taken in.', { number, why }));
  const wrong = damage(photo);
  if (wrong) throw refuse(wrong);
  const blob = await jpegFrom(photo.jpeg);
  const bitmap = blob && await createImageBitmap(blob).catch(() => null);
  const { id, set, about, taken, changed, width, height, waiting } = photo;
  if (!bitmap || bitmap.width !== width || bitmap.height !== height) throw refuse(_('It does not hold the picture that it names.'));
  const thumb = await thumbOf(bitmap);
  bitmap.close();
  return { row: { id, set, about, taken, changed, width, height, bytes: blob.size, sha256: await sha256Of(blob), thumb, ...waiting && { waiting } }, blob };
}

/** Whoever made the file, no metadata come in with it. @param {any} text @returns {Promise<Blob | null>} */
async function jpegFrom(text) {
  if (typeof text !== 'string' || text.length > MOST_BYTES * 1.4) return null;
  try {
    const letters = atob(text);
    return await withoutMetadata(new Blob([Uint8Array.from(letters, (letter) => letter.charCodeAt(0))]));
  } catch {
    return null;
  }
}
