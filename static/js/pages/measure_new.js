/** Which photo to measure in: a new one, or one that the set has already. */
import { _ } from '../language.js';
import { holeCheck } from '../store/hole_list.js';
import { openSet } from '../store/notebook.js';
import { prepareFor } from '../store/packs.js';
import { photosOf } from '../store/photos.js';
import { h } from '../ui/element.js';
import { photoButton } from '../ui/photo_button.js';
import { thumb } from '../ui/photo_strip.js';
import { sayAbout, sayTaken } from '../ui/photo_words.js';
import { useStyle } from '../ui/style_sheet.js';
import { pageHead } from './appraised.js';

/** @param {HTMLElement} main @param {string} id of the set; one that is not on this phone leads to the notebook @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showNewMeasure(main, id) {
  const draw = async () => {
    const foundSet = await openSet(id);
    if (!foundSet) {
      location.hash = '#/';
      return;
    }
    const { pack } = await prepareFor(foundSet.base.family, foundSet.base.model_sheet);
    main.replaceChildren(...elements(foundSet, pack, await photosOf(id)));
    document.title = `${_('Measure a hole')} · Underchassis`;
  };
  await useStyle('photos');
  await draw();
  return { refresh: draw };
}

function elements(foundSet, pack, photos) {
  const { id } = foundSet.base;
  const check = holeCheck(pack);
  const added = (photo) => { location.hash = `#/measure/${photo.id}`; };
  // Where holes are looked for first: photos of that check, then the others.
  const about = (photo) => Number(photo.about !== `check/${check.id}`);
  const sorted = [...photos].sort((one, other) => about(one) - about(other));
  const strip = sorted.map((photo) => {
    const link = thumb(photo, _('Measure in the photo of {what}, taken {day}', { what: sayAbout(pack, photo.about), day: sayTaken(photo.taken) }));
    link.setAttribute('href', `#/measure/${photo.id}`);
    return h('li', {}, link);
  });
  return [pageHead({ foundSet, pack }, `#/set/${id}/${check.id}`, _('Measure a hole in a photo')), h('div', { class: 'page photos measure-new' },
    h('p', { class: 'lead' }, _('Lay a bank card, a printed label or a coin flat on the panel, beside the hole. Take the photo from straight above, so near that both fill it.')),
    photoButton({ set: id, about: `check/${check.id}`, label: _('a hole'), text: _('Take or choose a photo'), onAdded: added }),
    strip.length > 0 && h('section', {}, h('h2', {}, _('Or one of this set’s photos')), h('ul', { class: 'photo-strip' }, ...strip)))];
}
