/** What the server holds, and the ways out: another notebook, stopping, removing the copy. */
import { localDay } from '../store/found_set.js';
import { sayBytes } from '../store/photo_intake.js';
import { contents, leave, removeFromServer } from '../sync/membership.js';
import { joinPart } from './backup_begin.js';
import { confirmed } from './confirm.js';
import { h } from './element.js';
import { notice } from './notices.js';
import { countPhotos } from './photo_words.js';
import { sayDay } from './sale_words.js';

const sayProblem = (problem) => notice('backup', problem.message, { kind: 'bad' });

/** @param {() => Promise<string>} keyNow @param {() => Promise<void>} draw */
export function serverCard(keyNow, draw) {
  const place = h('div', { role: 'status' });
  const look = h('button', { class: 'button', onclick: () => keyNow().then(contents).then((there) => place.replaceChildren(...heldParts(there)), sayProblem) }, 'See what the server holds');
  return h('section', { class: 'card' }, h('h2', {}, 'The server'), look, place,
    h('details', {}, h('summary', {}, 'Another notebook, stop, or remove the copy'),
      h('h3', {}, 'Share a different notebook'), ...joinPart(),
      h('h3', {}, 'Stop'), confirmed('Stop on this device', 'Nothing is removed, here or there. This device forgets the key: write it down first if no other device has it.', 'Yes, stop here', () => leave().then(draw, sayProblem)),
      confirmed('Remove the copy on the server', 'The server forgets the whole notebook, for all devices that share it. What is on each device stays there. This cannot be taken back.', 'Yes, remove it for all', () => removeFromServer().then(draw, sayProblem))));
}

function heldParts({ sets, operations, bytes, photos, limits }) {
  const share = Math.round(100 * Math.max(bytes / limits.bytes, photos.bytes / limits.photo_bytes, operations / limits.operations, photos.count / limits.photos));
  const room = share < 1 ? 'Hardly any of its room is used.' : `${share} % of its room is used.`;
  const pictures = photos.count > 0 ? `${countPhotos(photos.count)} (${sayBytes(photos.bytes)})` : 'no photos';
  return [h('p', {}, `${operations} findings and changes (${sayBytes(bytes)}), ${pictures}. ${room}`),
    h('ul', { class: 'rows held' }, ...sets.slice(0, 200).map((row) => h('li', {}, h('strong', {}, row.title || row.family || 'A set without a name'),
      h('span', { class: 'fine' }, [row.removed && 'removed', `${row.findings} findings`, row.photos > 0 && `${row.photos_held} of ${countPhotos(row.photos)}`, row.changed > 0 && sayDay(localDay(new Date(row.changed)))].filter(Boolean).join(' · '))))),
    sets.length > 200 && h('p', { class: 'fine' }, `And ${sets.length - 200} more.`)].filter(Boolean);
}
