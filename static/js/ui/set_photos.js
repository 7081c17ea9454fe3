/** The photos on the Set screen: thumbnails in each card, counts on folded lines, and the offer to put a label on. */
import { _ } from '../language.js';
import { labelsReadHere } from '../store/photo_labels.js';
import { setsLabelled } from '../store/photo_filing.js';
import { photosOf, pictureOf } from '../store/photos.js';
import { clearNotice, notice } from './notices.js';
import { addPhotos } from './photo_button.js';
import { photoStrip } from './photo_strip.js';

export class SetPhotos {
  /** @param {any} screen the Set screen */
  constructor(screen) {
    this.screen = screen;
  }

  /** Shows what is stored now. */
  async show() {
    const photos = await photosOf(this.screen.foundSet.base.id);
    for (const card of this.screen.cards.values()) {
      const own = photos.filter((photo) => photo.about === `check/${card.check.id}`);
      if (own.length === 0 && !card.pick.dataset.count) continue;
      card.photos.replaceChildren(...own.length > 0 ? [photoStrip(own, card.check.label)] : []);
      count(card.pick, card.check.label, own.length);
    }
  }

  /**
   * Keeps chosen files and shows them.
   * @param {string} about
   * @param {string} label what they are of
   * @param {File[]} files
   */
  async add(about, label, files) {
    const { foundSet } = this.screen;
    const added = [];
    const keeping = addPhotos(files, { set: foundSet.base.id, about }, (photo) => added.push(photo));
    await keeping.finally(() => this.show());
    this.offerLabel(added).catch(() => undefined);
  }

  /** A photo that shows a label offers to put it on a set that has none. Nobody asked for it, so no photo is sent for it. */
  async offerLabel(photos) {
    const { foundSet } = this.screen;
    for (const photo of photos) {
      if (foundSet.get('label')) return;
      const [label, ...more] = await labelsReadHere(await pictureOf(photo.id)) ?? [];
      if (!label || more.length > 0 || (await setsLabelled(label)).length > 0) continue;
      notice('label', _('This photo shows the label {label}.', { label }), { actions: [[_('Put it on this set'), () => {
        clearNotice('label');
        this.screen.put('label', label);
      }]] });
      return;
    }
  }
}

function count(pick, what, photos) {
  pick.dataset.count = photos > 0 ? String(photos) : '';
  pick.querySelector('input').setAttribute('aria-label', photos > 0 ? _('Photo of {what}, {count} there', { what, count: photos }) : _('Photo of {what}', { what }));
}
