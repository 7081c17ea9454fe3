/** Many photos at once, and the tray of those that wait. */
import { _, _n, language } from '../language.js';
import { allSets } from '../store/notebook.js';
import { batch } from '../store/photo_batch.js';
import { binned, DAYS, emptyBin } from '../store/photo_bin.js';
import { fileWaiting } from '../store/photo_filing.js';
import { sayBytes } from '../store/photo_intake.js';
import { trayPhotos } from '../store/photos.js';
import { askPersistence } from '../sync/persistence.js';
import { BatchProgress } from '../ui/batch_progress.js';
import { h } from '../ui/element.js';
import { notice } from '../ui/notices.js';
import { photoDrop } from '../ui/photo_drop.js';
import { thumb } from '../ui/photo_strip.js';
import { sayTaken } from '../ui/photo_words.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { useStyle } from '../ui/style_sheet.js';
import { trayRow } from '../ui/tray_row.js';

const redraw = () => window.dispatchEvent(new Event('underchassis-changed'));

/** @param {HTMLElement} main @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showPhotos(main) {
  document.title = `${_('Photos')} · Underchassis`;
  await useStyle('photos');
  const page = new PhotosPage();
  main.replaceChildren(
    h('header', { class: 'top' }, h('a', { class: 'back', href: '#/', 'aria-label': _('Notebook') }, '‹'),
      h('div', {}, h('h1', {}, _('Photos')), h('p', { class: 'sub' }, _('Many at once, filed by label')))),
    h('div', { class: 'page photos' }, photoDrop(take), page.progress.element, page.tray,
      h('a', { class: 'row-link', href: `/tags?language=${language()}` }, _('Print labels (needs a signal) ›')), page.bin));
  await page.refresh();
  page.watch();
  return page;
}

function take(files) {
  askPersistence();
  batch.take(files);
}

class PhotosPage {
  constructor() {
    this.progress = new BatchProgress();
    this.tray = h('section', { 'aria-label': _('Tray') });
    this.list = h('ul', { class: 'rows' });
    this.bin = h('section', {});
    /** @type {Map<string, {said: string, element: HTMLElement}>} */
    this.rows = new Map();
  }

  /** Follows the batch, and tries again what waits, now and when a signal comes back. */
  watch() {
    const again = () => fileWaiting([...batch.reading]).then((filed) => {
      if (filed > 0) notice('filed', _n('{count} photo of the tray filed.', '{count} photos of the tray filed.', filed));
      return this.refresh();
    }).catch(sayUnsaved);
    const follow = () => this.refresh();
    batch.addEventListener('change', follow);
    window.addEventListener('online', again);
    window.addEventListener('hashchange', () => {
      batch.removeEventListener('change', follow);
      window.removeEventListener('online', again);
    }, { once: true });
    again();
  }

  /** Once at a time: a batch tells of every photo. */
  async refresh() {
    this.stale = true;
    if (this.drawing) return this.drawing;
    this.drawing = (async () => {
      while (this.stale) {
        this.stale = false;
        await this.draw();
      }
    })().finally(() => {
      this.drawing = null;
    });
    return this.drawing;
  }

  async draw() {
    const [waiting, sets, inBin] = await Promise.all([trayPhotos(), allSets(), binned()]);
    // Those being read are told of above. Coming and going here, they would move the page under a finger.
    const photos = waiting.filter((photo) => !batch.reading.has(photo.id));
    await this.progress.show();
    const names = sets.map((foundSet) => [foundSet.base.id, foundSet.get('title'), foundSet.get('label')]);
    this.rows = new Map(photos.map((photo) => {
      // What did not change stays, also under a hand that chooses a set just now.
      const said = JSON.stringify([photo.changed, names]);
      const row = this.rows.get(photo.id);
      return [photo.id, row?.said === said ? row : { said, element: trayRow(photo, sets) }];
    }));
    const wanted = [...this.rows.values()].map((row) => row.element);
    if (wanted.some((element, index) => this.list.children[index] !== element) || this.list.childElementCount !== wanted.length) this.list.replaceChildren(...wanted);
    this.tray.replaceChildren(h('h2', {}, _('Tray')), photos.length > 0 ? h('p', {}, _n('{count} photo waits for a set.', '{count} photos wait for a set.', photos.length))
      : h('p', {}, _('No photo waits.')), this.list);
    this.bin.replaceChildren(...binPart(inBin));
  }
}

function binPart(photos) {
  if (photos.length === 0) return [];
  const bytes = photos.reduce((sum, photo) => sum + photo.bytes, 0);
  const empty = h('button', { class: 'button', onclick: () => empty.replaceWith(h('div', { class: 'links' },
    h('button', { class: 'button', onclick: () => emptyBin().then(redraw, sayUnsaved) }, _('Yes, remove them for good')),
    h('button', { class: 'button quiet', onclick: redraw }, _('Keep them')))) }, _('Empty the bin'));
  const held = _n('{count} photo, {size}. Each is removed for good {days} days after it went in.', '{count} photos, {size}. Each is removed for good {days} days after it went in.', photos.length, { size: sayBytes(bytes), days: DAYS });
  return [h('h2', {}, _('Bin')), h('p', {}, held),
    h('ul', { class: 'photo-strip' }, ...photos.filter((photo) => photo.removed !== 'set').map((photo) => h('li', {}, thumb(photo, _('Removed photo, taken {day}', { day: sayTaken(photo.taken) }))))), empty];
}
