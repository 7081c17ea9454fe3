/** The page's end of the measuring that runs beside it (measure_worker.js), and the photo in shades of grey for it. */
import { _ } from '../language.js';

/**
 * @typedef {Object} Placed the thing of known size as a person placed it
 * @property {'card' | 'label' | 'coin'} kind
 * @property {[number, number][]} points
 * @property {[number, number]} size_mm
 * @property {number} thick_mm
 * @property {boolean} as_given not to be refined
 */

export class Measuring {
  /** @param {import('../kernel/photos/grey.js').Grey} grey @param {Record<string, number>} settings */
  constructor(grey, settings) {
    this.worker = new Worker(new URL('./measure_worker.js', import.meta.url), { type: 'module' });
    /** @type {Map<number, {resolve: (answer: any) => void, reject: (problem: Error) => void}>} */
    this.waiting = new Map();
    this.count = 0;
    this.worker.onmessage = ({ data }) => this.answered(data);
    this.worker.onerror = (event) => {
      event.preventDefault();
      for (const { reject } of this.waiting.values()) reject(new Error(_('This browser could not start the measuring. Load the page again; if it stays so, measure with a rule and type the size.')));
      this.waiting.clear();
    };
    this.ask('begin', grey, settings).catch(() => undefined);
  }

  /** @param {Placed} placed @returns {Promise<import('../kernel/photos/reference.js').Reference | null>} null for points on no ellipse */
  outline = (placed) => this.ask('outline', placed);

  /** The hole at a tap. @param {[number, number]} tap @returns {Promise<import('../kernel/photos/measure.js').Measured | import('../kernel/photos/measure.js').Unmeasured>} */
  near = (tap) => this.ask('near', tap);

  /** The hole through three points or more. @param {[number, number][]} points */
  rim = (points) => this.ask('rim', points);

  end() {
    this.worker.terminate();
  }

  ask(task, ...given) {
    this.count += 1;
    const number = this.count;
    return new Promise((resolve, reject) => {
      this.waiting.set(number, { resolve, reject });
      this.worker.postMessage({ number, task, given });
    });
  }

  answered({ number, answer, problem }) {
    const asked = this.waiting.get(number);
    this.waiting.delete(number);
    if (problem) asked?.reject(new Error(_('The measuring failed ({why}). Place the outline anew, or measure with a rule and type the size.', { why: problem })));
    else asked?.resolve(answer);
  }
}

/** A photo in shades of grey. @param {ImageBitmap} bitmap @returns {import('../kernel/photos/grey.js').Grey} */
export function greyOf(bitmap) {
  const { width, height } = bitmap;
  const context = Object.assign(document.createElement('canvas'), { width, height }).getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error(_('The browser has no memory left for this photo. Close other pages, then try again.'));
  context.drawImage(bitmap, 0, 0);
  const { data } = context.getImageData(0, 0, width, height);
  const pixels = new Uint8Array(width * height);
  // Weights of ITU-R BT.601 in 65536ths, rounded as the twin rounds them.
  for (let at = 0, from = 0; at < pixels.length; at += 1, from += 4) {
    pixels[at] = (19595 * data[from] + 38470 * data[from + 1] + 7471 * data[from + 2] + 32768) >> 16;
  }
  return { width, height, pixels };
}
