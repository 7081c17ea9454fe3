/** What most sets share (name, place, aim, region, currency) behind one button, with photos of the whole, its label, and the way to the model sheet. */
import { _ } from '../language.js';
import { h } from './element.js';

/**
 * @param {any} prepared
 * @param {() => import('../store/found_set.js').FoundSet} current the set as it is now
 * @param {(key: string, value: any) => void} put
 * @param {() => Promise<void>} photosChanged
 * @returns {{button: HTMLElement, panel: HTMLElement, refresh: () => void}} `refresh` fills an open panel anew
 */
export function aboutIt(prepared, current, put, photosChanged) {
  const panel = h('div', { hidden: true });
  const fill = async () => {
    const [{ purposeForm }, { aboutPhotos }] = await Promise.all([import('./purpose.js'), import('./about_photos.js')]);
    panel.replaceChildren(purposeForm(prepared.pack, current(), put), aboutPhotos(prepared.pack, current(), put, photosChanged), sheetLinks(prepared, current().base));
  };
  const button = h('button', { class: 'button quiet', 'aria-expanded': 'false', onclick: async () => {
    const opening = panel.hidden;
    panel.hidden = !opening;
    button.setAttribute('aria-expanded', String(opening));
    if (!opening) return;
    await fill();
    window.scrollTo(0, 0);
    panel.querySelector('input')?.focus();
  } }, _('About it'));
  return { button, panel, refresh: () => !panel.hidden && fill() };
}

/** To the model sheet made on this phone, or to a new one that starts with what was found here; and to the set's history. */
function sheetLinks(prepared, { id, family, model_sheet: sheet }) {
  const own = sheet?.startsWith('own-');
  const link = (href, text) => h('a', { class: 'button', href }, text);
  return h('p', { class: 'links' }, own && link(`#/sheet/${sheet}/${id}`, _('Edit this model sheet')),
    (!own || prepared.unused) && link(`#/sheet/new/${family}/${id}`, _('Make a model sheet from this')),
    link(`#/history/${id}`, _('History')));
}
