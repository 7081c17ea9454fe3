/** One photo that waits in the tray: why, and what can be done. */
import { _ } from '../language.js';
import { batch } from '../store/photo_batch.js';
import { fileByLabel, fileWaiting } from '../store/photo_filing.js';
import { binPhotos, movePhotos } from '../store/photos.js';
import { h } from './element.js';
import { select } from './fields.js';
import { setName } from './photo_belongs.js';
import { thumb } from './photo_strip.js';
import { sayTaken } from './photo_words.js';
import { sayUnsaved, withUndo } from './sale_words.js';
import { savingMark } from './saving_mark.js';
import { newSetForm } from './tray_new_set.js';
import { sayWaiting } from './tray_words.js';

const redraw = () => window.dispatchEvent(new Event('underchassis-changed'));

/**
 * @param {import('../store/photos.js').Photo} photo
 * @param {import('../store/found_set.js').FoundSet[]} sets
 */
export function trayRow(photo, sets) {
  const element = h('li', { class: 'tray-row' });
  const act = (doing) => {
    savingMark(element, doing);
    return doing.then(redraw, sayUnsaved);
  };
  const day = sayTaken(photo.taken);
  element.append(thumb(photo, _('Waiting photo, taken {day}', { day })), h('div', { class: 'tray-what' },
    h('p', {}, sayWaiting(photo.waiting)), h('p', { class: 'fine' }, _('Taken {day}', { day }))), actions(photo, sets, act));
  return element;
}

function actions(photo, sets, act) {
  const { id, waiting } = photo;
  const set = select(_('Set it belongs to'), [['', _('Choose a set')], ...sets.map((row) => [row.base.id, setName(row)])]);
  set.addEventListener('change', () => set.value && act(movePhotos([id], set.value)));
  const place = h('div', {});
  const offerNew = async () => {
    place.replaceChildren(await newSetForm(waiting.label, () => act(fileWaiting([...batch.reading]))));
    fresh.hidden = true;
    place.querySelector('select')?.focus();
  };
  const fresh = h('button', { class: 'button', hidden: waiting?.why !== 'unknown', onclick: () => offerNew().catch(sayUnsaved) }, _('New set with this label'));
  const remove = () => act(binPhotos([id], true)).then(() => withUndo(_('Photo removed.'), () => binPhotos([id], false)));
  return h('div', { class: 'tray-do' }, sets.length > 0 && set, place, h('div', { class: 'links' }, fresh,
    h('button', { class: 'button quiet', onclick: () => act(fileByLabel(id)) }, _('Read its label again')),
    h('button', { class: 'button quiet', onclick: remove }, _('Remove'))));
}
