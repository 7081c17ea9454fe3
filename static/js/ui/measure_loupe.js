/** A magnifier: what lies under a finger, four times as large, with cross-hairs, on the side away from it. */
import { h } from './element.js';

const TIMES = 4;
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
   * @param {{x: number, y: number}} at in the photo
   * @param {number} pixel how many pixels of the photo one of the screen shows
   * @param {boolean} right whether it is to stand at the right
   */
  show(at, pixel, right) {
    const { width: dots } = this.element;
    const context = this.element.getContext('2d');
    const part = SIDE / TIMES * pixel;
    context.fillStyle = '#555';
    context.fillRect(0, 0, dots, dots);
    context.drawImage(this.photo, at.x - part / 2, at.y - part / 2, part, part, 0, 0, dots, dots);
    for (const [colour, wide] of [['#000', 3], ['#fff', 1]]) this.cross(context, String(colour), Number(wide) * dots / SIDE);
    this.element.classList.toggle('right', right);
    this.element.hidden = false;
  }

  /** Cross-hairs that leave the very spot open. */
  cross(context, colour, wide) {
    const { width: dots } = this.element;
    const [middle, gap] = [dots / 2, dots / 20];
    context.strokeStyle = colour;
    context.lineWidth = wide;
    context.beginPath();
    for (const [from, to] of [[0, middle - gap], [middle + gap, dots]]) {
      context.moveTo(from, middle);
      context.lineTo(to, middle);
      context.moveTo(middle, from);
      context.lineTo(middle, to);
    }
    context.stroke();
  }

  hide() {
    this.element.hidden = true;
  }
}
