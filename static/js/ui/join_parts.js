/** A notebook that another device has: what it holds, and a yes or no before anything is shared. */
import { _, _n } from '../language.js';
import { backupOf } from '../store/backup.js';
import { openDatabase } from '../store/database.js';
import { allSets } from '../store/notebook.js';
import { backupWatch } from '../sync/backup_watch.js';
import { contents, join } from '../sync/membership.js';
import { h } from './element.js';
import { notice } from './notices.js';
import { countPhotos } from './photo_words.js';

/** @param {string} key @returns {Promise<HTMLElement[]>} */
export async function joinParts(key) {
  if (!window.isSecureContext) return [h('p', {}, _('This address is neither https nor localhost: the key would be read on the way. Open the app over https, then scan the symbol again.'))];
  if (!(await openDatabase()).kept) return [h('p', {}, _('This browser keeps nothing, as private windows often do. Open the app in a usual window, then scan the symbol again.'))];
  const [own, here] = await Promise.all([backupOf(), allSets()]);
  if (own?.key === key) return [h('p', {}, _('This device shares that notebook already.'))];
  let there;
  try {
    there = await contents(key);
  } catch (problem) {
    const again = h('button', { class: 'button', onclick: async () => again.parentElement.replaceChildren(...await joinParts(key)) }, _('Try again'));
    return [h('p', { class: 'wrong', role: 'alert' }, problem.message), again];
  }
  const replaced = own && backupWatch.state.lost;
  const sets = there.sets.filter((row) => !row.removed).length;
  const mine = here.filter(({ base }) => !base.demo).length;
  const say = (count) => _n('{count} set', '{count} sets', count);
  const held = { sets: say(sets), photos: countPhotos(there.photos.count), own: say(mine) };
  return [h('p', {}, mine === 0 ? _('That notebook holds {sets} and {photos}. This device has no set of its own.', held) : _('That notebook holds {sets} and {photos}. This device has {own}.', held)),
    h('p', {}, _('If you share it, everything here goes there and everything there comes here. Say yes only if the key is yours: whoever has the same key sees and changes all of it.')),
    own && !replaced && h('p', {}, _('This device is backed up to another notebook so far. That one stays on the server as it is, and gets nothing new from here.')),
    replaced && h('p', {}, _('The key that this device had was replaced. If this is the new one, all goes on as before.')),
    h('button', { class: 'button strong', onclick: async () => {
      try {
        await join(key);
        location.hash = '#/backup';
        window.dispatchEvent(new Event('hashchange'));
      } catch (problem) {
        notice('save', problem.message, { kind: 'bad' });
      }
    } }, _('Share this notebook'))].filter(Boolean);
}
