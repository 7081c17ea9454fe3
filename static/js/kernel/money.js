/** How money is rounded for the eye (contract §10). Twin of webapp/appraisal/money.py. */

/**
 * The display step of an amount as [m, n], meaning m·10ⁿ: the largest that is at most `share` of it,
 * never finer than the currency's minor unit.
 * @param {number} value
 * @param {number} share
 * @param {number} minorDigits
 * @returns {[number, number]}
 */
export function moneyStep(value, share, minorDigits) {
  const limit = Math.abs(value) * share * (1 + 1e-12);
  if (limit <= power(-minorDigits)) return [1, -minorDigits];
  const n = Math.floor(Math.log10(limit));
  for (const [m, exponent] of [[10, n], [5, n], [2, n], [1, n], [5, n - 1]]) {
    if (m * power(exponent) <= limit) return m === 10 ? [1, exponent + 1] : [m, exponent];
  }
  return [1, n];
}

/**
 * The amount as shown: to the nearest step, halves upward; with `down`, the step at or below it.
 * @param {number} value
 * @param {number} share
 * @param {number} minorDigits
 * @param {boolean} [down]
 * @returns {number}
 */
export function rounded(value, share, minorDigits, down = false) {
  if (value === 0) return 0;
  const [m, n] = moneyStep(value, share, minorDigits);
  const steps = n < 0 ? (Math.abs(value) * power(-n)) / m : Math.abs(value) / (m * power(n));
  // The last digits of the division must not push a half, or a whole step, to the wrong side.
  const whole = Math.floor(steps + (down ? 1e-9 : 0.5 + 1e-9));
  const amount = n < 0 ? (whole * m) / power(-n) : whole * m * power(n);
  return amount ? Math.sign(value) * amount : 0;
}

/** Ten to a whole power, exact from 10⁰ upward. */
function power(exponent) {
  return exponent >= 0 ? 10 ** exponent : 1 / 10 ** -exponent;
}

/**
 * L(x, y) = (x − y)/(ln x − ln y), L(x, x) = x, for positive x and y. Source: Ang 2004.
 * Near x = y the quotient loses its digits; there the series of atanh gives the same to 1e-16.
 * @param {number} x
 * @param {number} y
 * @returns {number}
 */
export function logarithmicMean(x, y) {
  const ratio = (x - y) / (x + y);
  if (Math.abs(ratio) < 1e-3) {
    const square = ratio * ratio;
    return (x + y) / 2 / (1 + square / 3 + (square * square) / 5);
  }
  return (x - y) / (Math.log(x) - Math.log(y));
}
