/** What the server holds, and the ways out: another notebook, stopping, removing the copy. */
import { _, _n } from '../language.js';
import { localDay } from '../store/found_set.js';
import { sayBytes } from '../store/photo_intake.js';
import { contents, leave, removeFromServer } from '../sync/membership.js';
import { joinPart } from './backup_begin.js';
import { confirmed } from './confirm.js';
import { h } from './element.js';
import { notice } from './notices.js';
import { sayDay } from './sale_words.js';

const sayProblem = (problem) => notice('backup', problem.message, { kind: 'bad' });

/** @param {() => Promise<string>} keyNow @param {() => Promise<void>} draw */
export function serverCard(keyNow, draw) {
  const place = h('div', { role: 'status' });
  const look = h('button', { class: 'button', onclick: () => keyNow().then(contents).then((there) => place.replaceChildren(...heldParts(there)), sayProblem) }, _('See what the server holds'));
  return h('section', { class: 'card' }, h('h2', {}, _('The server')), look, place,
    h('details', {}, h('summary', {}, _('Another notebook, stop, or remove the copy')),
      h('h3', {}, _('Share a different notebook')), ...joinPart(),
      h('h3', {}, _('Stop')), confirmed(_('Stop on this device'), _('Nothing is removed, here or there. This device forgets the key: write it down first if no other device has it.'), _('Yes, stop here'), () => leave().then(draw, sayProblem)),
      confirmed(_('Remove the copy on the server'), _('The server forgets the whole notebook, for all devices that share it. What is on each device stays there. This cannot be taken back.'), _('Yes, remove it for all'), () => removeFromServer().then(draw, sayProblem))));
}

function heldParts({ sets, operations, bytes, photos, limits }) {
  const share = Math.round(100 * Math.max(bytes / limits.bytes, photos.bytes / limits.photo_bytes, operations / limits.operations, photos.count / limits.photos));
  const room = share < 1 ? _('Hardly any of its room is used.') : _('{share} % of its room is used.', { share });
  const pictures = photos.count > 0 ? _n('{count} photo ({size})', '{count} photos ({size})', photos.count, { size: sayBytes(photos.bytes) }) : _('no photos');
  return [h('p', {}, _n('{count} findings and changes ({bytes}), {photos}. {room}', '{count} findings and changes ({bytes}), {photos}. {room}', operations, { bytes: sayBytes(bytes), photos: pictures, room })),
    h('ul', { class: 'rows held' }, ...sets.slice(0, 200).map((row) => h('li', {}, h('strong', {}, row.title || row.family || _('A set without a name')),
      h('span', { class: 'fine' }, [row.removed && _('removed'), _n('{count} findings', '{count} findings', row.findings),
        row.photos > 0 && _n('{held} of {count} photo', '{held} of {count} photos', row.photos, { held: row.photos_held }), row.changed > 0 && sayDay(localDay(new Date(row.changed)))].filter(Boolean).join(' · '))))),
    sets.length > 200 && h('p', { class: 'fine' }, _('And {count} more.', { count: sets.length - 200 }))].filter(Boolean);
}
