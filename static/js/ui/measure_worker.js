/** Measures beside the page, so that no drag ever waits for it. Started by measure_client.js. */
import { measureNear, measureRim } from '../kernel/photos/measure.js';
import { fourCornered, roundCoin } from '../kernel/photos/reference.js';

/** @type {import('../kernel/photos/grey.js').Grey} */
let photo;
/** @type {Record<string, number>} */
let settings;
/** @type {import('../kernel/photos/reference.js').Reference | null} */
let reference = null;

const tasks = {
  begin(grey, given) {
    [photo, settings] = [grey, given];
  },
  outline({ kind, points, size_mm: size, thick_mm: thick, as_given: asGiven }) {
    reference = kind === 'coin' ? roundCoin(photo, points, size[0], thick, asGiven, settings)
      : fourCornered(photo, kind, points, size, thick, asGiven, settings);
    return reference;
  },
  near: (tap) => reference && measureNear(photo, reference, tap, settings),
  rim: (points) => reference && measureRim(photo, reference, points, settings),
};

addEventListener('message', ({ data: { number, task, given } }) => {
  try {
    postMessage({ number, answer: tasks[task](...given) });
  } catch (problem) {
    postMessage({ number, problem: String(problem?.message ?? problem) });
  }
});
