/** Measuring a hole in a photo: what lies beside it, its outline, then one tap in the hole. Works without a signal. */
import { _ } from '../language.js';
import { afterFrame } from '../store/after_frame.js';
import { addHole, holeCheck, holesOf, removeHole } from '../store/hole_list.js';
import { keepReference, lastReference, rememberReference } from '../store/measured_photos.js';
import { openSet } from '../store/notebook.js';
import { lateTables, loadReasons, prepareFor } from '../store/packs.js';
import { openPhoto, pictureOf } from '../store/photos.js';
import { h, setText } from '../ui/element.js';
import { keepHoles } from '../ui/hole_saving.js';
import { choicePanel } from '../ui/measure_choice.js';
import { greyOf, Measuring } from '../ui/measure_client.js';
import { HoleStep } from '../ui/measure_hole.js';
import { OutlineStep } from '../ui/measure_outlining.js';
import { sizeOf } from '../ui/measure_outline.js';
import { MeasureStage } from '../ui/measure_stage.js';
import { sayUnsaved } from '../ui/sale_words.js';
import { useStyle } from '../ui/style_sheet.js';

/** @param {HTMLElement} main @param {string} id of the photo @returns {Promise<{refresh: () => Promise<void>}>} */
export async function showMeasure(main, id) {
  const [photo, picture, tables, last] = await Promise.all([openPhoto(id), pictureOf(id), lateTables(), lastReference(), useStyle('measure')]);
  document.title = `${_('Measure')} · Underchassis`;
  if (!photo || !picture) {
    main.replaceChildren(h('section', { class: 'page' }, h('h1', {}, _('This photo is not on this phone')),
      h('p', {}, _('It may have been removed for good, or it is on another device.')), h('a', { class: 'button', href: '#/photos' }, _('To the photos'))));
    return { refresh: async () => {} };
  }
  const foundSet = photo.set && await openSet(photo.set);
  if (foundSet) await loadReasons(foundSet.base.family);
  const pack = foundSet && (await prepareFor(foundSet.base.family, foundSet.base.model_sheet)).pack;
  const bitmap = await createImageBitmap(picture);
  const screen = new MeasureScreen({ photo, picture, bitmap, foundSet, pack, tables, last });
  main.replaceChildren(screen.element);
  window.addEventListener('hashchange', () => screen.end(), { once: true });
  screen.begin();
  return { refresh: () => screen.refresh() };
}

class MeasureScreen {
  constructor({ photo, picture, bitmap, foundSet, pack, tables, last }) {
    Object.assign(this, { photo, picture, bitmap, foundSet, pack, tables, last });
    this.address = URL.createObjectURL(picture);
    this.measuring = new Measuring(greyOf(bitmap), tables.measuring.settings);
    const { reference } = photo;
    /** @type {import('../ui/measure_outline.js').Choice | null} */
    this.choice = reference ? { kind: reference.kind, id: reference.id, side_mm: reference.kind === 'label' ? reference.size_mm[0] : undefined } : last ?? null;
    this.stage = new MeasureStage(this.address, bitmap, _('The photo'), {
      tapped: (spot, index) => this.step?.tapped(spot, index),
      moved: (index, spot) => this.step?.moved(index, spot),
      dropped: (index) => this.step?.dropped(index),
      removed: (index) => this.step?.removed?.(index),
    });
    this.said = h('p', { class: 'measure-said', role: 'status' });
    this.body = h('div', {});
    this.head = this.makeHead();
    this.element = h('section', { class: 'measure-page' }, this.head, this.stage.element, h('div', { class: 'measure-panel' }, this.said, this.body));
  }

  makeHead() {
    const { foundSet, pack, photo } = this;
    const back = foundSet ? `#/set/${foundSet.base.id}/${holeCheck(pack).id}` : `#/photo/${photo.id}`;
    return h('header', { class: 'top' }, h('a', { class: 'back', href: back, 'aria-label': _('Back') }, '‹'),
      h('div', {}, h('h1', {}, foundSet ? foundSet.get('title') || pack.name : _('In the tray')), h('p', { class: 'sub' }, _('Measure a hole in a photo'))));
  }

  /** A photo in which the thing of known size was placed before is ready for a tap. */
  begin() {
    const { reference } = this.photo;
    if (!reference || !this.choice || !sizeOf(this.choice, this.tables.scale_objects, this.tables.measuring.settings)) return this.choose();
    return this.outline(reference.outline, reference.as_given, true);
  }

  /** Another page comes; until it stands, fingers and keys still reach this one. */
  end() {
    this.step = null;
    this.stage.end();
    this.measuring.end();
    this.bitmap.close();
    URL.revokeObjectURL(this.address);
  }

  /** What happens now, in words; a screen reader reads it out. @param {string} text @param {boolean} [busy] @param {boolean} [heard] the same stands on the screen already */
  say(text, busy = false, heard = false) {
    setText(this.said, text);
    this.said.classList.toggle('heard', heard);
    this.stage.element.classList.toggle('busy', busy);
  }

  panel(...parts) {
    this.body.replaceChildren(...parts.filter(Boolean));
  }

  choose() {
    this.step = null;
    this.stage.show([], () => []);
    this.stage.goTo([]);
    this.say('');
    this.panel(choicePanel(this.tables.scale_objects, this.choice, (choice) => {
      this.choice = choice;
      rememberReference(choice).catch(sayUnsaved);
      const { reference } = this.photo;
      const same = reference?.kind === choice.kind;
      this.outline(same ? reference.outline : null, same && reference.as_given);
    }));
  }

  /** Places the outline; `ready` goes on to the hole by itself once it was found again. */
  outline(points = null, asGiven = false, ready = false) {
    const { choice, tables } = this;
    this.step = new OutlineStep(this, { ...choice, ...sizeOf(choice, tables.scale_objects, tables.measuring.settings) }, points, asGiven, ready);
  }

  /** The outline is right: on to the holes. @param {import('../kernel/photos/reference.js').Reference} reference @param {any} placed */
  outlined(reference, placed) {
    const { kind, id } = this.choice;
    const kept = { kind, ...id && { id }, size_mm: placed.size_mm, outline: placed.points, as_given: placed.as_given };
    if (JSON.stringify(kept) !== JSON.stringify(this.photo.reference)) {
      this.photo.reference = kept;
      keepReference(this.photo.id, kept).catch(sayUnsaved);
    }
    this.step = new HoleStep(this, reference, placed);
  }

  /** The holes of the set that were measured in this photo, with their numbers in its list. */
  get kept() {
    if (!this.foundSet) return [];
    return holesOf(this.foundSet, this.pack).map((hole, index) => ({ hole, number: index + 1 })).filter(({ hole }) => hole.photo === this.photo.id && hole.in_photo);
  }

  /** @param {import('../store/hole_list.js').Hole} hole @returns {number} its number in the list */
  keep(hole) {
    this.save(addHole(this.foundSet, this.pack, hole));
    return holesOf(this.foundSet, this.pack).length;
  }

  /** @param {import('../store/hole_list.js').Hole} hole */
  takeOff(hole) {
    this.save(removeHole(this.foundSet, this.pack, hole));
  }

  save(saving) {
    keepHoles(this.foundSet, this.head, saving);
  }

  /** Runs a task beside the page once the screen says so. @template T @param {string} text @param {() => Promise<T>} task @returns {Promise<T | null>} null when it failed, which was said */
  async busy(text, task) {
    this.say(text, true);
    await afterFrame();
    return task().catch((problem) => {
      this.say(problem.message);
      return null;
    });
  }

  /** Another tab changed something: what is stored now is shown. */
  async refresh() {
    if (!this.foundSet) return;
    this.foundSet = await openSet(this.foundSet.base.id) ?? this.foundSet;
    this.stage.draw();
  }
}
