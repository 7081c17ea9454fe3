/** How far many photos at once have come: what is filed, what waits, what could not be read. */
import { _, _n } from '../language.js';
import { openSet } from '../store/notebook.js';
import { batch } from '../store/photo_batch.js';
import { h, setText } from './element.js';
import { setName } from './photo_belongs.js';
import { countPhotos } from './photo_words.js';

export class BatchProgress {
  constructor() {
    this.meter = /** @type {HTMLProgressElement} */ (h('progress', { 'aria-label': _('Photos taken in') }));
    this.said = h('p', { role: 'status' });
    this.cancel = h('button', { class: 'button', onclick: () => batch.cancel() }, _('Cancel'));
    this.filed = h('ul', { class: 'rows' });
    this.refused = h('ul', { class: 'rows' });
    this.element = h('section', { class: 'card batch', 'aria-label': _('Progress') }, this.said, this.meter, this.cancel, this.filed, this.refused);
  }

  async show() {
    const { total, done, running, cancelled, refused } = batch;
    this.element.hidden = total === 0 && refused.length === 0;
    this.meter.max = Math.max(1, total);
    this.meter.value = done;
    this.meter.hidden = !running;
    this.cancel.hidden = !running || cancelled;
    setText(this.said, total === 0 ? '' : words());
    this.refused.replaceChildren(...refused.map((entry) => h('li', { class: 'refused' }, h('p', {}, entry.reason),
      h('button', { class: 'button quiet', 'aria-label': _('Dismiss {name}', { name: entry.name }), onclick: () => batch.dismiss(entry) }, _('Dismiss')))));
    const filed = await Promise.all([...batch.filed].map(async ([id, count]) => [await openSet(id), count]));
    this.filed.replaceChildren(...filed.filter(([foundSet]) => foundSet).map(([foundSet, count]) => h('li', {},
      h('a', { class: 'row-link', href: `#/set/${foundSet.base.id}` }, h('strong', {}, setName(foundSet)), h('span', {}, `${countPhotos(count)} ›`)))));
  }
}

/** Such as "23 of 60 photos: 20 filed, 2 wait below, 1 could not be kept." */
function words() {
  const { total, done, running, cancelled, waiting, failed } = batch;
  const filed = [...batch.filed.values()].reduce((sum, count) => sum + count, 0);
  const parts = [_n('{count} filed', '{count} filed', filed), waiting > 0 && _n('{count} waits below', '{count} wait below', waiting),
    failed > 0 && _n('{count} could not be kept', '{count} could not be kept', failed)].filter(Boolean).join(', ');
  const stopped = cancelled && (running ? _('Stopping after the ones under way …') : _('Stopped; what is filed stays.'));
  return [_n('{done} of {count} photo: {parts}.', '{done} of {count} photos: {parts}.', total, { done, parts }), stopped].filter(Boolean).join(' ');
}
