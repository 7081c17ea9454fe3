/** A photo that can be zoomed and moved: by pinch, wheel, double tap, drag and keys. */
import { h } from './element.js';

const MOST = 12;
/** How far a double tap goes in, and a key. */
const [TAP, KEY] = [3, 1.5];
/** A second tap this soon and this near is a double one: milliseconds, pixels. */
const [SOON, NEAR] = [350, 30];
const STEP = 60;

export class PhotoViewer {
  /** @param {string} address @param {string} alt @param {number} width @param {number} height of the photo */
  constructor(address, alt, width, height) {
    this.size = [width, height];
    [this.scale, this.x, this.y] = [1, 0, 0];
    /** @type {Map<number, {x: number, y: number}>} */
    this.fingers = new Map();
    this.lastTap = { time: -Infinity, x: 0, y: 0 };
    this.image = /** @type {HTMLImageElement} */ (h('img', { src: address, alt, draggable: 'false', width, height }));
    this.element = h('div', { class: 'viewer', onpointerdown: (event) => this.down(event), onpointermove: (event) => this.move(event),
      onpointerup: (event) => this.up(event), onpointercancel: (event) => this.fingers.delete(event.pointerId) }, this.image);
    this.element.addEventListener('wheel', (event) => {
      event.preventDefault();
      this.zoomAt(this.at(event), Math.exp(-event.deltaY / 400));
    }, { passive: false });
    new ResizeObserver(() => this.place()).observe(this.element);
  }

  get zoomed() {
    return this.scale > 1;
  }

  /** Where a pointer is in the viewer. */
  at({ clientX, clientY }) {
    const { left, top } = this.element.getBoundingClientRect();
    return { x: clientX - left, y: clientY - top };
  }

  down(event) {
    this.element.setPointerCapture(event.pointerId);
    const at = this.at(event);
    this.fingers.set(event.pointerId, at);
    this.moved = this.fingers.size > 1;
    this.from = at;
  }

  move(event) {
    const before = this.fingers.get(event.pointerId);
    if (!before) return;
    const now = this.at(event);
    if (Math.hypot(now.x - this.from.x, now.y - this.from.y) > 8) this.moved = true;
    const [other] = [...this.fingers].filter(([id]) => id !== event.pointerId).map(([, at]) => at);
    this.fingers.set(event.pointerId, now);
    if (other) {
      const spread = (at) => Math.max(1, Math.hypot(at.x - other.x, at.y - other.y));
      this.pan((now.x - before.x) / 2, (now.y - before.y) / 2);
      this.zoomAt({ x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 }, spread(now) / spread(before));
    } else this.pan(now.x - before.x, now.y - before.y);
  }

  up(event) {
    const at = this.fingers.get(event.pointerId);
    this.fingers.delete(event.pointerId);
    if (!at || this.moved) return;
    const { time, x, y } = this.lastTap;
    const double = event.timeStamp - time < SOON && Math.hypot(at.x - x, at.y - y) < NEAR;
    this.lastTap = double ? { time: -Infinity, x: 0, y: 0 } : { time: event.timeStamp, ...at };
    if (double) this.smoothly(() => this.zoomAt(at, this.zoomed ? 1 / this.scale : TAP));
  }

  /** Acts on a key; tells whether it did. @param {string} key */
  key(key) {
    const { clientWidth, clientHeight } = this.element;
    const middle = { x: clientWidth / 2, y: clientHeight / 2 };
    const moves = { ArrowLeft: [STEP, 0], ArrowRight: [-STEP, 0], ArrowUp: [0, STEP], ArrowDown: [0, -STEP] };
    if (key === '+' || key === '=') this.smoothly(() => this.zoomAt(middle, KEY));
    else if (key === '-') this.smoothly(() => this.zoomAt(middle, 1 / KEY));
    else if (this.zoomed && key === 'Escape') this.smoothly(() => this.zoomAt(middle, 1 / this.scale));
    else if (this.zoomed && key in moves) this.smoothly(() => this.pan(...moves[key]));
    else return false;
    return true;
  }

  /** With a transition, unless the person wants none (the style sheet knows). */
  smoothly(change) {
    this.image.classList.add('smooth');
    change();
    setTimeout(() => this.image.classList.remove('smooth'), 200);
  }

  zoomAt({ x, y }, factor) {
    const scale = Math.min(MOST, Math.max(1, this.scale * factor));
    const grown = scale / this.scale;
    [this.x, this.y, this.scale] = [x - (x - this.x) * grown, y - (y - this.y) * grown, scale];
    this.place();
  }

  pan(x, y) {
    this.x += x;
    this.y += y;
    this.place();
  }

  /** Puts the photo where it belongs: in the middle where it is smaller than the screen, never past its edges else. */
  place() {
    const { clientWidth, clientHeight } = this.element;
    const fit = Math.min(clientWidth / this.size[0], clientHeight / this.size[1]) * this.scale;
    const held = (at, room, side) => (side <= room ? (room - side) / 2 : Math.min(0, Math.max(room - side, at)));
    this.x = held(this.x, clientWidth, this.size[0] * fit);
    this.y = held(this.y, clientHeight, this.size[1] * fit);
    this.image.style.transform = `translate(${this.x}px, ${this.y}px) scale(${fit})`;
  }
}
