/** The ITU region, which says which bands are amateur bands. */
import { _ } from '../language.js';
import { labelled, select } from './fields.js';

const regions = () => [
  ['', _('not chosen')],
  ['1', _('1: Europe, Africa, Near East, Northern Asia')],
  ['2', _('2: the Americas')],
  ['3', _('3: South and East Asia, Oceania')],
];

/** A field for it. @param {import('../store/found_set.js').FoundSet} foundSet @param {(key: string, value: any) => void} put */
export function regionField(foundSet, put) {
  const region = select(_('ITU region'), regions());
  region.value = String(foundSet.get('region') ?? '');
  region.addEventListener('change', () => put('region', region.value ? Number(region.value) : null));
  return labelled(_('Your ITU region, for the amateur bands'), region);
}
