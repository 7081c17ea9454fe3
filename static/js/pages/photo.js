/** One photo, whole: zoom, the ones beside it, where it belongs, measuring, removing. */
import { _ } from '../language.js';
import { openSet } from '../store/notebook.js';
import { loadPack } from '../store/packs.js';
import { sayBytes } from '../store/photo_intake.js';
import { binPhotos, openPhoto, photosOf, pictureOf, trayPhotos } from '../store/photos.js';
import { h } from '../ui/element.js';
import { belongsTo } from '../ui/photo_belongs.js';
import { PhotoViewer } from '../ui/photo_viewer.js';
import { sayAbout, sayTaken } from '../ui/photo_words.js';
import { sayUnsaved, withUndo } from '../ui/sale_words.js';
import { useStyle } from '../ui/style_sheet.js';

/** @param {HTMLElement} main @param {string} id @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showPhoto(main, id) {
  document.title = `${_('Photo')} · Underchassis`;
  const [photo, picture] = await Promise.all([openPhoto(id), pictureOf(id), useStyle('photos')]);
  if (!photo || !picture) {
    main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, _('This photo is not on this phone')),
      h('p', {}, _('It may have been removed for good, or it is on another device.')), h('a', { class: 'button', href: '#/photos' }, _('To the photos'))));
    return { refresh: async () => {} };
  }
  const address = URL.createObjectURL(picture);
  window.addEventListener('hashchange', () => URL.revokeObjectURL(address), { once: true });
  let shown = '';
  const draw = async (row) => {
    const place = await around(row);
    const said = JSON.stringify([row.changed, place.beside.map((other) => other.id)]);
    if (said === shown) return;
    shown = said;
    const { root } = new PhotoPage(row, address, place);
    main.replaceChildren(root);
    root.focus({ preventScroll: true });
  };
  await draw(photo);
  return { refresh: async () => draw(await openPhoto(id) ?? photo) };
}

/** The set it belongs to, that set's tables, and the photos beside it. */
async function around(photo) {
  const foundSet = photo.set && await openSet(photo.set);
  const pack = foundSet ? await loadPack(foundSet.base.family).catch(() => null) : null;
  return { foundSet, pack, beside: photo.set ? await photosOf(photo.set) : await trayPhotos() };
}

class PhotoPage {
  constructor(photo, address, { foundSet, pack, beside }) {
    Object.assign(this, { photo, foundSet, pack, beside });
    this.index = beside.findIndex((row) => row.id === photo.id);
    const { width, height } = photo;
    this.viewer = new PhotoViewer(address, _('Photo of {what}, taken {day}', { what: this.what, day: sayTaken(photo.taken) }), width, height);
    this.root = h('section', { class: 'photo-page', tabindex: -1, onkeydown: (event) => this.key(event) },
      this.head(), this.viewer.element, photo.removed ? this.binnedFoot() : this.foot());
  }

  get what() {
    if (!this.photo.set) return _('no set yet');
    return sayAbout(this.pack, this.photo.about);
  }

  get back() {
    const { set, about } = this.photo;
    const check = about.startsWith('check/') ? `/${about.slice(6)}` : '';
    return this.foundSet ? `#/set/${set}${check}` : '#/photos';
  }

  head() {
    const { photo, foundSet, beside, index } = this;
    const title = foundSet ? foundSet.get('title') || this.pack?.name || foundSet.base.family : _('In the tray');
    const place = index >= 0 && beside.length > 1 ? `${_('{number} of {count}', { number: index + 1, count: beside.length })} · ` : '';
    return h('header', { class: 'top' }, h('a', { class: 'back', href: this.back, 'aria-label': foundSet ? _('The set') : _('Photos') }, '‹'),
      h('div', {}, h('h1', {}, title), h('p', { class: 'sub' }, `${place}${this.what} · ${sayTaken(photo.taken)} · ${photo.width} × ${photo.height}, ${sayBytes(photo.bytes)}`)));
  }

  foot() {
    const { photo } = this;
    const link = (index, sign, words) => this.beside[index] && h('a', { class: 'button', href: `#/photo/${this.beside[index].id}`, 'aria-label': words }, sign);
    return h('div', { class: 'photo-foot' },
      h('div', { class: 'links' }, this.index > 0 && link(this.index - 1, '‹', _('Photo before')), link(this.index + 1, '›', _('Next photo')),
        h('a', { class: 'button strong', href: `#/measure/${photo.id}` }, _('Measure in it')),
        h('button', { class: 'button quiet', onclick: () => this.remove() }, _('Remove'))),
      belongsTo(photo));
  }

  binnedFoot() {
    return h('div', { class: 'photo-foot' }, h('p', {}, _('This photo is in the bin.')), h('button', { class: 'button', onclick: () => binPhotos([this.photo.id], false).then(
      () => window.dispatchEvent(new Event('underchassis-changed')), sayUnsaved) }, _('Take it out again')));
  }

  async remove() {
    const next = this.beside[this.index + 1] ?? this.beside[this.index - 1];
    try {
      await binPhotos([this.photo.id], true);
      withUndo(_('Photo removed.'), () => binPhotos([this.photo.id], false));
      location.hash = next ? `#/photo/${next.id}` : this.back;
    } catch (problem) {
      sayUnsaved(problem);
    }
  }

  key(event) {
    if (event.target.matches('input, select') || event.ctrlKey || event.metaKey || event.altKey) return;
    if (this.viewer.key(event.key)) event.preventDefault();
    else if (event.key === 'Escape') location.hash = this.back;
    else if (event.key === 'ArrowLeft' && this.index > 0) location.hash = `#/photo/${this.beside[this.index - 1].id}`;
    else if (event.key === 'ArrowRight' && this.index >= 0 && this.beside[this.index + 1]) location.hash = `#/photo/${this.beside[this.index + 1].id}`;
  }
}
