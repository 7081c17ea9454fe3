/** The drawing on which holes are placed, moved and chosen, by finger or by keys, near or whole. */
import { _, _n } from '../language.js';
import { h, svg } from './element.js';
import { faceParts, holeParts, scalePart, sizePart } from './face_parts.js';
import { watchGestures } from './hole_gestures.js';
import { nearest, wholeFace, within, zoomed } from './hole_view.js';
import { leftWords, sizeWords, spotWords } from './hole_words.js';

/** What a finger hits, from the middle, in pixels. */
const REACH = 24;
/** The nearest view shows a millimetre in so many pixels. */
const NEAREST = 10;
const STEP = 2;
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @typedef {{hole: any, number: number | string}} Spot a hole on this face, or a spot that waits for its size
 * @typedef {Object} MapActions
 * @property {(spot: {x: number, y: number}) => void} tapped an empty place
 * @property {(hole: any) => void} choose
 * @property {(hole: any, spot: {x: number, y: number}) => void} moved
 * @property {(hole: any) => void} remove
 * @property {() => void} settled a tap is over
 */

export class HoleMap {
  /** @param {MapActions} actions */
  constructor(actions) {
    this.actions = actions;
    /** @type {Spot[]} */
    this.spots = [];
    this.chosen = null;
    /** @type {{hole: any, x_mm: number, y_mm: number} | null} */
    this.dragged = null;
    this.drawing = /** @type {SVGSVGElement} */ (svg('svg', { class: 'hole-map', role: 'group', onkeydown: (event) => this.key(event) }));
    this.closer = h('button', { class: 'button', onclick: () => this.zoom(STEP) }, _('Closer'));
    this.wider = h('button', { class: 'button', onclick: () => this.zoom(1 / STEP) }, _('Wider'));
    const middle = h('button', { class: 'button', 'aria-label': _('Place a hole in the middle'), onclick: () => actions.tapped(this.centre()) }, _('In the middle'));
    this.element = h('div', { class: 'hole-map-frame' }, this.drawing, h('div', { class: 'links' }, this.closer, this.wider, middle));
    watchGestures(this.drawing, {
      grab: (at) => this.grab(at),
      drag: (hole, at) => this.drag(hole, this.middleOf(at)),
      drop: (hole, at) => actions.moved(hole, this.middleOf(at)),
      tap: (hole, at) => (hole ? actions.choose(hole) : actions.tapped(at)),
      after: () => actions.settled(),
      pan: (dx, dy) => this.pan(dx, dy),
      pinch: (factor, about) => this.zoom(factor, about),
      letGo: () => this.drag(null),
    });
    new ResizeObserver(() => this.face && this.draw()).observe(this.drawing);
  }

  /**
   * Shows a face with its holes; the view stays while the face does.
   * @param {any} face @param {string} label @param {Spot[]} spots @param {any} chosen one of their holes
   */
  show(face, label, spots, chosen) {
    if (face !== this.face) {
      this.face = face;
      this.whole = wholeFace(face);
      this.view = this.whole;
      this.drawing.style.aspectRatio = `${this.whole.w} / ${this.whole.h}`;
    }
    Object.assign(this, { spots, chosen, dragged: null });
    this.drawing.setAttribute('aria-label', _n('{face}, {count} hole. Arrow keys move a hole by a millimetre, with Shift by ten; Delete removes it.',
      '{face}, {count} holes. Arrow keys move a hole by a millimetre, with Shift by ten; Delete removes it.', spots.length, { face: label }));
    this.draw();
  }

  /** Brings the keys to a hole. @param {any} hole */
  focus(hole) {
    const at = this.spots.findIndex((spot) => spot.hole === hole);
    this.drawing.querySelectorAll('.hole-spot')[at]?.focus({ preventScroll: true });
  }

  centre() {
    return { x: this.view.x + this.view.w / 2, y: this.view.y + this.view.h / 2 };
  }

  /** How many millimetres a pixel of the screen shows; before it is on the screen, those of a small phone. */
  get pixel() {
    const scale = this.drawing.getScreenCTM()?.a;
    return scale ? 1 / scale : this.view.w / 330;
  }

  /** The hole under a finger; it keeps its distance from it, so that it does not jump. */
  grab(at) {
    const hole = nearest(this.spots.map((spot) => spot.hole), at, REACH * this.pixel);
    this.off = hole && { x: hole.x_mm - at.x, y: hole.y_mm - at.y };
    return hole;
  }

  middleOf(at) {
    return { x: at.x + this.off.x, y: at.y + this.off.y };
  }

  zoom(factor, about = this.chosen?.x_mm === undefined ? this.centre() : { x: this.chosen.x_mm, y: this.chosen.y_mm }) {
    const most = this.pixel * NEAREST;
    this.look(zoomed(this.view, this.whole, Math.min(factor, Math.max(1, most)), about));
  }

  /** The near view moves under a finger; the whole one lets the page move instead. */
  pan(dx, dy) {
    const { view, whole } = this;
    if (this.wider.disabled) window.scrollBy(0, dy / this.pixel);
    else this.look(within({ ...view, x: view.x + dx, y: view.y + dy }, whole));
  }

  look(view) {
    this.view = view;
    this.draw();
  }

  drag(hole, at) {
    this.dragged = hole && { hole, x_mm: at.x, y_mm: at.y };
    this.draw();
  }

  draw() {
    const { view, drawing } = this;
    const focused = [...drawing.querySelectorAll('.hole-spot')].indexOf(document.activeElement);
    drawing.setAttribute('viewBox', `${view.x} ${view.y} ${view.w} ${view.h}`);
    const { pixel } = this;
    this.wider.disabled = view.w >= this.whole.w - 0.01;
    this.closer.disabled = pixel * NEAREST <= 1.01;
    drawing.replaceChildren(
      ...faceParts(this.face, pixel),
      ...this.spots.map((spot) => this.spot(spot, pixel)),
      scalePart(view.x + 8 * pixel, view.y + view.h - 6 * pixel, view.w / 3, pixel),
      sizePart(this.face, view.x + view.w - 8 * pixel, view.y + view.h - 6 * pixel, pixel));
    if (focused >= 0) drawing.querySelectorAll('.hole-spot')[focused]?.focus({ preventScroll: true });
  }

  spot({ hole, number }, pixel) {
    const shown = this.dragged?.hole === hole ? { ...hole, ...this.dragged } : hole;
    const chosen = hole === this.chosen;
    const said = hole.diameter_mm ? _('Hole {number}: {size}', { number, size: sizeWords(hole) + leftWords(hole) }) : _('A new hole');
    return svg('g', {
      class: `hole-spot${chosen ? ' chosen' : ''}${hole.diameter_mm ? '' : ' waits'}`, role: 'button', tabindex: 0, 'aria-pressed': String(chosen),
      'aria-label': `${said}, ${spotWords(this.face, hole)}`,
      // Screen readers click without a finger; fingers are watched by the drawing.
      onclick: (event) => event.detail === 0 && this.actions.choose(hole),
    },
    svg('circle', { class: 'hole-hit', cx: shown.x_mm, cy: shown.y_mm, r: Math.max(REACH * pixel, (hole.diameter_mm ?? 0) / 2) }),
    chosen && svg('circle', { class: 'hole-chosen', cx: shown.x_mm, cy: shown.y_mm, r: Math.max((hole.diameter_mm ?? 0) / 2, 5 * pixel) + 5 * pixel }),
    ...holeParts(shown, number, pixel));
  }

  key(event) {
    const at = [...this.drawing.querySelectorAll('.hole-spot')].indexOf(event.target);
    if (at < 0) return;
    const { hole } = this.spots[at];
    const [dx, dy] = KEYS[event.key] ?? [];
    const far = event.shiftKey ? 10 : 1;
    if (dx !== undefined) this.actions.moved(hole, { x: hole.x_mm + dx * far, y: hole.y_mm + dy * far });
    else if (event.key === 'Delete' || event.key === 'Backspace') this.actions.remove(hole);
    else if (event.key === 'Enter' || event.key === ' ') this.actions.choose(hole);
    else return;
    event.preventDefault();
  }
}
