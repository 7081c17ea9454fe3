/** The standard normal law. Twin of webapp/appraisal/normal.py, which has a library's erfc. */

/**
 * Φ(x), good to 1e-14. Near the middle the power series Φ(x) = ½ + φ(x)·(x + x³/3 + x⁵/15 + …); in the
 * tails Laplace's continued fraction of Mills' ratio. Source: Abramowitz and Stegun 26.2.11 and 26.2.14.
 * @param {number} x
 * @returns {number}
 */
export function normalCdf(x) {
  if (Number.isNaN(x)) return NaN;
  const far = Math.abs(x);
  if (far > 40) return x > 0 ? 1 : 0;
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  if (far < 3) {
    let term = x;
    let sum = x;
    for (let n = 3; Math.abs(term) > 1e-18 * Math.abs(sum) && n < 200; n += 2) {
      term *= (x * x) / n;
      sum += term;
    }
    return 0.5 + density * sum;
  }
  let fraction = 0;
  for (let n = 120; n >= 1; n -= 1) fraction = n / (far + fraction);
  const tail = density / (far + fraction);
  return x > 0 ? 1 - tail : tail;
}
