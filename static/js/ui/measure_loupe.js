/** A magnifier on the side away from what it shows: the spot under a finger with cross-hairs, or a rim that was found. */
import { h } from './element.js';

const TIMES = 4;
/** How large a small rim is shown at most, and how much wider than the rim the part around it is. */
const [NEAREST, ROOM] = [12, 1.6];
/** @type {[string, number][]} colours and widths of a line, the lower one first */
const LINES = [['#14120d', 3], ['#ffd75e', 1.2]];
/** Its side on the screen, in pixels. */
const SIDE = 120;

export class Loupe {
  /** @param {ImageBitmap} photo */
  constructor(photo) {
    this.photo = photo;
    const dots = Math.round(SIDE * Math.min(3, devicePixelRatio || 1));
    this.element = /** @type {HTMLCanvasElement} */ (h('canvas', { class: 'loupe', width: dots, height: dots, hidden: true, 'aria-hidden': 'true' }));
  }

  /**
   * The spot under a finger, four times as large.
   * @param {{x: number, y: number}} at in the photo
   * @param {number} pixel how many pixels of the photo one of the screen shows
   * @param {boolean} right whether it is to stand at the right
   */
  showSpot(at, pixel, right) {
    const context = this.show(at, SIDE / TIMES * pixel, right);
    this.twice(context, () => this.cross(context));
  }

  /**
   * A rim with the line that was found, as large as it fits.
   * @param {[number, number][]} rim @param {number} pixel @param {boolean} right
   */
  showRim(rim, pixel, right) {
    const [xs, ys] = [0, 1].map((axis) => rim.map((point) => point[axis]));
    const span = (values) => [Math.min(...values), Math.max(...values)];
    const [[left, far], [top, foot]] = [span(xs), span(ys)];
    const at = { x: (left + far) / 2, y: (top + foot) / 2 };
    const part = Math.max(ROOM * Math.max(far - left, foot - top), SIDE / NEAREST * pixel);
    const context = this.show(at, part, right);
    const scale = this.element.width / part;
    this.twice(context, () => rim.forEach(([x, y], index) => {
      const spot = [(x - at.x + part / 2) * scale, (y - at.y + part / 2) * scale];
      if (index === 0) context.moveTo(spot[0], spot[1]);
      else context.lineTo(spot[0], spot[1]);
      if (index === rim.length - 1) context.closePath();
    }));
  }

  /** A part of the photo, so wide, about a spot. */
  show({ x, y }, part, right) {
    const { width: dots } = this.element;
    const context = this.element.getContext('2d');
    context.fillStyle = '#555';
    context.fillRect(0, 0, dots, dots);
    context.drawImage(this.photo, x - part / 2, y - part / 2, part, part, 0, 0, dots, dots);
    this.element.classList.toggle('right', right);
    this.element.hidden = false;
    return context;
  }

  /** A line, light on dark so that it shows on any photo. */
  twice(context, path) {
    for (const [colour, wide] of LINES) {
      context.strokeStyle = colour;
      context.lineWidth = wide * this.element.width / SIDE;
      context.beginPath();
      path();
      context.stroke();
    }
  }

  /** Cross-hairs that leave the very spot open. */
  cross(context) {
    const { width: dots } = this.element;
    const [middle, gap] = [dots / 2, dots / 20];
    for (const [from, to] of [[0, middle - gap], [middle + gap, dots]]) {
      context.moveTo(from, middle);
      context.lineTo(to, middle);
      context.moveTo(middle, from);
      context.lineTo(middle, to);
    }
  }

  hide() {
    this.element.hidden = true;
  }
}
