/** The ITU region, which says which bands are amateur bands. */
import { labelled, select } from './fields.js';

const REGIONS = [
  ['', 'not chosen'],
  ['1', '1: Europe, Africa, Near East, Northern Asia'],
  ['2', '2: the Americas'],
  ['3', '3: South and East Asia, Oceania'],
];

/** A field for it. @param {import('../store/found_set.js').FoundSet} foundSet @param {(key: string, value: any) => void} put */
export function regionField(foundSet, put) {
  const region = select('ITU region', REGIONS);
  region.value = String(foundSet.get('region') ?? '');
  region.addEventListener('change', () => put('region', region.value ? Number(region.value) : null));
  return labelled('Your ITU region, for the amateur bands', region);
}
