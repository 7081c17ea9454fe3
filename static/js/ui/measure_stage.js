/** A photo with handles on it: dragged by finger, mouse or keys under a magnifier; zoomed and moved. Lengths are pixels of the photo. */
import { _ } from '../language.js';
import { h, svg } from './element.js';
import { watchGestures } from './hole_gestures.js';
import { within, zoomed } from './hole_view.js';
import { Loupe } from './measure_loupe.js';
import { middleOf } from './measure_outline.js';
import { handlePart } from './measure_parts.js';

/** What a finger hits, from the middle, in pixels of the screen. */
const REACH = 24;
/** The nearest view shows a pixel of the photo in so many of the screen. */
const NEAREST = 8;
const STEP = 1.6;
/** How much wider than the points in it the view is that shows them near. */
const ABOUT = 1.9;
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * @typedef {{x: number, y: number}} Spot
 * @typedef {'corner' | 'middle' | 'point' | 'cross'} Kind a cross shows itself to keys alone until it was placed
 * @typedef {{x: number, y: number, kind: Kind, label: string, placed?: boolean}} Handle
 * @typedef {Object} StageActions
 * @property {(spot: Spot, index: number) => void} tapped the photo, on a handle of that index or beside all (-1)
 * @property {(index: number, spot: Spot) => void} moved
 * @property {(index: number) => void} dropped a drag is over, or a key's move
 * @property {(index: number) => void} removed by the Delete key
 */

export class MeasureStage {
  /** @param {string} address of the picture @param {ImageBitmap} photo @param {string} alt @param {StageActions} actions */
  constructor(address, photo, alt, actions) {
    const { width, height } = photo;
    Object.assign(this, { actions, size: { width, height } });
    /** @type {Handle[]} */
    this.handles = [];
    /** @type {(pixel: number) => (Node | false)[]} */
    this.marks = () => [];
    /** @type {[number, number][] | null} */
    this.rim = null;
    this.near = 1;
    this.middle = { x: width / 2, y: height / 2 };
    this.loupe = new Loupe(photo);
    this.overlay = svg('g', {});
    this.drawing = /** @type {SVGSVGElement} */ (svg('svg', {
      class: 'measure-photo', role: 'group', 'aria-label': _('{photo}. Arrow keys move a handle by one pixel, with Shift by ten; plus and minus zoom.', { photo: alt }),
      onkeydown: (event) => this.key(event), onfocusin: () => this.drawing.querySelector('.handle:focus-visible') && this.showLoupe(this.focused), onfocusout: () => this.restLoupe(),
    }, svg('image', { href: address, width, height }), this.overlay));
    this.closer = h('button', { class: 'button', 'aria-label': _('Closer'), onclick: () => this.zoom(STEP) }, '+');
    this.wider = h('button', { class: 'button', 'aria-label': _('Wider'), onclick: () => this.zoom(1 / STEP) }, '−');
    this.element = h('div', { class: 'measure-stage' }, this.drawing, this.loupe.element, h('div', { class: 'measure-zoom' }, this.closer, this.wider));
    this.watch();
    new ResizeObserver(() => this.draw()).observe(this.drawing);
  }

  watch() {
    const { actions } = this;
    watchGestures(this.drawing, {
      grab: (at) => this.grab(at),
      drag: (held, at) => this.drag(held, at),
      drop: (held) => {
        this.restLoupe();
        actions.dropped(held.index);
      },
      tap: (held, at) => this.onPhoto(at) && actions.tapped(at, held?.index ?? -1),
      after: () => undefined,
      pan: (dx, dy) => this.look({ ...this.view, x: this.view.x + dx, y: this.view.y + dy }),
      pinch: (factor, about) => this.zoom(factor, about),
      letGo: (held) => {
        this.restLoupe();
        actions.dropped(held.index);
      },
    });
    this.drawing.addEventListener('wheel', (event) => {
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY / 400), new DOMPoint(event.clientX, event.clientY).matrixTransform(this.drawing.getScreenCTM().inverse()));
    }, { passive: false });
  }

  /**
   * Shows handles, and what else is drawn over the photo.
   * @param {Handle[]} handles @param {(pixel: number) => (Node | false)[]} marks
   * @param {[number, number][] | null} [rim] one that was found, to be looked at under the magnifier
   */
  show(handles, marks, rim = null) {
    Object.assign(this, { handles, marks, rim });
    this.draw();
    if (rim || this.focused < 0) this.restLoupe();
  }

  /** The photo with room around it, in the shape of the screen's part that shows it. */
  get whole() {
    const { width, height } = this.size;
    const { clientWidth, clientHeight } = this.drawing;
    const shape = clientWidth / clientHeight;
    const w = Math.max(width, height * shape);
    return { x: (width - w) / 2, y: (height - w / shape) / 2, w, h: w / shape };
  }

  /** Whether it is on the screen; when the page changes it loses its size first. */
  get seen() {
    return this.drawing.clientWidth > 0 && this.drawing.clientHeight > 0;
  }

  get view() {
    const { whole, near, middle } = this;
    const [w, height] = [whole.w / near, whole.h / near];
    return within({ x: middle.x - w / 2, y: middle.y - height / 2, w, h: height }, whole);
  }

  /** How many pixels of the photo one of the screen shows. */
  get pixel() {
    return this.view.w / this.drawing.clientWidth;
  }

  /** Which handle the keys are at; -1 for none. */
  get focused() {
    return [...this.overlay.querySelectorAll('.handle')].indexOf(document.activeElement);
  }

  onPhoto({ x, y }) {
    return x >= 0 && y >= 0 && x <= this.size.width && y <= this.size.height;
  }

  /** The handle under a finger; it keeps its distance from it, so that it does not jump. */
  grab(at) {
    const away = this.handles.map(({ x, y, kind, placed }) => (kind === 'cross' && !placed ? Infinity : Math.hypot(x - at.x, y - at.y)));
    const index = away.indexOf(Math.min(...away));
    if (!(away[index] <= REACH * this.pixel)) return null;
    const { x, y } = this.handles[index];
    return { index, dx: x - at.x, dy: y - at.y };
  }

  drag({ index, dx, dy }, at) {
    this.move(index, { x: at.x + dx, y: at.y + dy });
    this.showLoupe(index);
  }

  move(index, { x, y }) {
    const { width, height } = this.size;
    this.actions.moved(index, { x: Math.min(Math.max(x, 0), width), y: Math.min(Math.max(y, 0), height) });
  }

  showLoupe(index) {
    const handle = this.handles[index];
    if (!handle) return;
    this.loupe.showSpot(handle, this.pixel, this.isLeft(handle.x));
  }

  /** While no handle is moved, the magnifier shows the rim that was found. */
  restLoupe() {
    if (this.rim && this.seen) this.loupe.showRim(this.rim, this.pixel, this.isLeft(this.rim[0][0]));
    else this.loupe.hide();
  }

  isLeft(x) {
    return x < this.view.x + this.view.w / 2;
  }

  zoom(factor, about = this.handles[this.focused] ?? centreOf(this.view)) {
    this.look(zoomed(this.view, this.whole, Math.min(factor, Math.max(1, this.pixel * NEAREST)), about));
  }

  /** Goes near to points, with room about them; with none, back to the whole photo. @param {[number, number][]} points */
  goTo(points) {
    const { whole } = this;
    const [xs, ys] = [0, 1].map((axis) => points.map((point) => point[axis]));
    const span = (values) => Math.max(...values) - Math.min(...values);
    const w = points.length > 0 ? Math.min(whole.w, ABOUT * Math.max(span(xs), span(ys) * whole.w / whole.h)) : whole.w;
    const [x, y] = points.length > 0 ? middleOf(points) : [0, 0];
    const height = w * whole.h / whole.w;
    this.look({ x: x - w / 2, y: y - height / 2, w, h: height });
  }

  look(view) {
    this.near = this.whole.w / view.w;
    this.middle = centreOf(view);
    // Held at the photo's edge, the middle is where it now is, not where it was pulled to.
    this.middle = centreOf(this.view);
    this.draw();
  }

  draw() {
    if (!this.seen) return;
    const { view, pixel, focused } = this;
    this.drawing.setAttribute('viewBox', `${view.x} ${view.y} ${view.w} ${view.h}`);
    this.wider.disabled = this.near <= 1.001;
    this.closer.disabled = pixel * NEAREST <= 1.01;
    this.overlay.replaceChildren(...this.marks(pixel).filter(Boolean), ...this.handles.map((handle) => handlePart(handle, pixel)));
    if (focused >= 0) this.overlay.querySelectorAll('.handle')[focused]?.focus({ preventScroll: true });
  }

  /** Lets go of the photo. */
  end() {
    Object.assign(this, { handles: [], rim: null });
    this.loupe.hide();
  }

  /** Brings the keys to a handle. @param {number} index */
  focus(index) {
    this.overlay.querySelectorAll('.handle')[index]?.focus({ preventScroll: true });
  }

  key(event) {
    const { focused: index } = this;
    const [dx, dy] = KEYS[event.key] ?? [];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === '+' || event.key === '=') this.zoom(STEP);
    else if (event.key === '-') this.zoom(1 / STEP);
    else if (index < 0) return;
    else if (dx !== undefined) this.step(index, dx * (event.shiftKey ? 10 : 1), dy * (event.shiftKey ? 10 : 1));
    else if (event.key === 'Delete' || event.key === 'Backspace') this.actions.removed(index);
    else if ((event.key === 'Enter' || event.key === ' ') && this.handles[index].kind === 'cross') this.actions.tapped(this.handles[index], -1);
    else return;
    event.preventDefault();
  }

  step(index, dx, dy) {
    const { x, y, kind } = this.handles[index];
    this.move(index, { x: x + dx, y: y + dy });
    this.showLoupe(index);
    // A cross-hair is put down by Enter.
    if (kind !== 'cross') this.actions.dropped(index);
  }
}

/** @returns {Spot} */
const centreOf = ({ x, y, w, h: height }) => ({ x: x + w / 2, y: y + height / 2 });
