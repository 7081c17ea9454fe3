/** The step in which a hole is measured: one tap in it, or three on its rim; then it goes into the list. */
import { _ } from '../language.js';
import { holesOf } from '../store/hole_list.js';
import { h } from './element.js';
import { holeLine } from './hole_words.js';
import { middleOf } from './measure_outline.js';
import { closedLine, coinLine, keptPart, rimDots } from './measure_parts.js';
import { keepPart, resultPart, resultSentence, sizeOfHole } from './measure_result.js';

/** Points on a rim: as many as a circle takes, and as many as are of use. */
const [FEWEST, MOST] = [3, 12];
/** No hole of a set is wider, in millimetres. */
const WIDEST = 500;

export class HoleStep {
  /** @param {any} screen the measuring page @param {import('../kernel/photos/reference.js').Reference} reference @param {any} placed as it was placed */
  constructor(screen, reference, placed) {
    Object.assign(this, { screen, reference, placed });
    const { foundSet, pack, bitmap } = screen;
    this.found = { place: foundSet ? holesOf(foundSet, pack).at(-1)?.place ?? null : null, as_found: 'open' };
    this.cross = { x: bitmap.width / 2, y: bitmap.height / 2 };
    this.turn = 0;
    this.clear();
    this.begin(false, _('Tap inside the hole.'));
    screen.stage.goTo([]);
    screen.stage.focus(0);
  }

  clear() {
    /** @type {import('../kernel/photos/measure.js').Measured | null} */
    this.measured = null;
    /** @type {[number, number][]} rim points that were tapped */
    this.points = [];
    this.crossPlaced = false;
    this.turn += 1;
  }

  /**
   * @param {boolean} byRim three taps on the rim instead of one in the hole @param {string} said
   * @param {import('../store/hole_list.js').Hole | null} [kept] the hole that was kept just now
   */
  begin(byRim, said, kept = null) {
    this.clear();
    Object.assign(this, { byRim, kept });
    this.screen.say(said);
    this.show();
  }

  show() {
    const { points, cross, byRim } = this;
    const hairs = { ...cross, kind: 'cross', placed: this.crossPlaced && !this.measured, label: byRim ? _('Cross-hair: Enter puts a point on the rim') : _('Cross-hair: Enter measures the hole under it') };
    const rim = points.map(([x, y], index) => ({ x, y, kind: 'point', label: _('Rim point {number}; Delete takes it away', { number: index + 1 }) }));
    this.screen.stage.show([...rim, hairs], (pixel) => this.marks(pixel), this.measured?.outline);
    this.showPanel();
  }

  marks(pixel) {
    const { reference, measured, screen } = this;
    return [
      reference.coin ? coinLine(reference.coin, 'edges') : closedLine(reference.outline, 'edges'),
      ...screen.kept.map(({ hole, number }) => keptPart(hole.in_photo, number, pixel)),
      measured && closedLine(measured.outline, 'found'),
      measured && !this.byRim && rimDots(measured.rim, pixel),
    ];
  }

  showPanel() {
    const { screen, measured, byRim } = this;
    const { pack, foundSet, tables, photo } = screen;
    screen.panel(
      measured && resultPart(measured, tables, tables.measuring.words),
      measured && (pack ? keepPart(pack, this.found, () => this.keep()) : h('p', {}, _('This photo belongs to no set yet. File it to one to keep the hole; its outline stays.'), ' ',
        h('a', { class: 'button', href: `#/photo/${photo.id}` }, _('File the photo')))),
      h('div', { class: 'links' },
        this.kept && h('button', { class: 'button', onclick: () => this.takeOff(this.kept) }, _('Undo')),
        h('button', { class: 'button', onclick: () => this.other() }, byRim ? _('One tap in the hole') : measured ? _('Not the rim? Tap three points on it') : _('Three taps on its rim')),
        h('button', { class: 'button quiet', onclick: () => screen.outline(this.placed.points, this.placed.as_given) }, _('Change the outline')),
        foundSet && h('a', { class: 'button quiet', href: `#/holes/${foundSet.base.id}/${this.found.place ?? ''}` }, _('Holes on the drawing'))));
  }

  other() {
    if (this.byRim) this.begin(false, _('Tap inside the hole.'));
    else this.begin(true, sayPoints(0));
  }

  /** On a small rim a second tap is near the first point; only once there are enough does it move the point that it hits. */
  tapped({ x, y }, index) {
    if (!this.byRim) {
      Object.assign(this, { cross: { x, y }, crossPlaced: true });
      this.measure(() => this.screen.measuring.near([x, y]));
    } else {
      const moves = this.points.length >= FEWEST && index >= 0 && index < this.points.length;
      if (moves) this.points[index] = [x, y];
      else if (this.points.length < MOST) this.points.push([x, y]);
      this.measureRim();
    }
  }

  moved(index, { x, y }) {
    if (index < this.points.length) this.points[index] = [x, y];
    else this.cross = { x, y };
    this.measured = null;
    this.turn += 1;
    this.show();
  }

  dropped(index) {
    if (index < this.points.length) this.measureRim();
    else if (!this.byRim) this.tapped(this.cross, -1);
  }

  removed(index) {
    if (index >= this.points.length) return;
    this.points.splice(index, 1);
    this.measureRim();
  }

  measureRim() {
    if (this.points.length >= FEWEST) return void this.measure(() => this.screen.measuring.rim(this.points));
    this.turn += 1;
    this.measured = null;
    this.screen.say(sayPoints(this.points.length));
    this.show();
  }

  /** The answer to the last tap counts; one that comes after another tap does not. */
  async measure(task) {
    const { screen } = this;
    this.turn += 1;
    const { turn } = this;
    Object.assign(this, { measured: null, kept: null });
    this.show();
    const found = await screen.busy(_('Measuring …'), task);
    if (turn !== this.turn || screen.step !== this || !found) return;
    if (found.why || found.diameter_mm > WIDEST) screen.say(screen.tables.measuring.words[found.why ?? 'rim-askew']);
    else {
      this.measured = found;
      screen.say(resultSentence(found), false, true);
    }
    this.show();
  }

  keep() {
    const { screen, measured, found } = this;
    const tenth = (value) => Math.round(10 * value) / 10;
    const middle = middleOf(measured.outline);
    const radius = measured.outline.reduce((sum, [x, y]) => sum + Math.hypot(x - middle[0], y - middle[1]), 0) / measured.outline.length;
    const hole = { ...found, ...sizeOfHole(measured), photo: screen.photo.id, in_photo: [...middle, radius].map(tenth) };
    const number = screen.keep(hole);
    this.begin(false, _('Kept as hole {number}: {hole}. Tap inside the next hole.', { number, hole: holeLine(screen.pack, hole) }), hole);
    screen.stage.focus(0);
  }

  takeOff(hole) {
    this.screen.takeOff(hole);
    this.begin(false, _('Taken off the list. Tap inside a hole.'));
    this.screen.stage.focus(0);
  }
}

const sayPoints = (count) => _('Tap three points on the rim, well apart: {count} of {all}.', { count, all: FEWEST });
