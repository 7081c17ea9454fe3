/** What to do about the asking price (contract §4). Twin of webapp/appraisal/verdict.py. */
import { rounded } from './money.js';

/**
 * Pay it, offer less, leave it, look first, or no price yet.
 * @param {{worth: number, low: number, mid: number, high: number, asking: number | null}} stakes
 * @param {number} lookValue
 * @param {number} threshold
 * @param {number} share
 * @param {number} minorDigits
 * @returns {{word: string, offer: number | null}}
 */
export function verdict(stakes, lookValue, threshold, share, minorDigits) {
  const { worth, mid, high, asking } = stakes;
  if (asking === null) return { word: 'no price yet', offer: null };
  if (lookValue >= threshold) return { word: 'look first', offer: null };
  if (asking > Math.max(worth, high)) return { word: 'leave it', offer: null };
  if (asking <= Math.min(worth, high)) return { word: 'pay it', offer: null };
  const offer = Math.min(worth, mid);
  const shown = rounded(offer, share, minorDigits, true);
  const made = shown !== 0 && shown !== rounded(asking, share, minorDigits);
  return { word: 'offer less', offer: made ? offer : null };
}
