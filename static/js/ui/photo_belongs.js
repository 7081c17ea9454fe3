/** Where a photo belongs: moved to another check or another set by choosing it. */
import { _ } from '../language.js';
import { allSets } from '../store/notebook.js';
import { loadPack } from '../store/packs.js';
import { movePhotos } from '../store/photos.js';
import { h } from './element.js';
import { labelled, select } from './fields.js';
import { sayUnsaved } from './sale_words.js';
import { savingMark } from './saving_mark.js';

/** The name of a set in a list. @param {import('../store/found_set.js').FoundSet} foundSet */
export const setName = (foundSet) => [foundSet.get('title') || foundSet.base.family, foundSet.get('label')].filter(Boolean).join(', ');

/** @param {import('../store/photos.js').Photo} photo */
export function belongsTo(photo) {
  const form = h('div', { class: 'fields' });
  const move = (set, about) => {
    const moving = movePhotos([photo.id], set, about);
    savingMark(form, moving);
    moving.then(() => window.dispatchEvent(new Event('underchassis-changed')), sayUnsaved);
  };
  const details = h('details', { class: 'belongs', ontoggle: async () => {
    if (form.childElementCount === 0) form.append(...await choices(photo, move));
  } }, h('summary', {}, _('Belongs to')), form);
  return details;
}

async function choices(photo, move) {
  const sets = await allSets();
  const own = sets.find(({ base }) => base.id === photo.set);
  const set = select(_('Set'), [...own ? [] : [['', _('no set yet')]], ...sets.map((row) => [row.base.id, setName(row)])]);
  set.value = photo.set ?? '';
  set.addEventListener('change', () => move(set.value, ''));
  if (!own) return [labelled(_('Set'), set)];
  const pack = await loadPack(own.base.family);
  const check = select(_('Part of it'), [['', _('the set as a whole')], ...pack.checks.map((row) => [`check/${row.id}`, row.label])]);
  check.value = photo.about;
  check.addEventListener('change', () => move(own.base.id, check.value));
  return [labelled(_('Set'), set), labelled(_('Part of it'), check)];
}
