/** What became of a set, in a few words. */
import { sayPrice } from './sale_words.js';

/** Such as "bought for $60". @param {import('../store/outcomes.js').Outcome} outcome */
export function outcomeWords({ what, price, currency }) {
  if (price === null) return what;
  return `${what} ${what === 'passed' ? 'at' : 'for'} ${price === 0 ? 'nothing' : sayPrice({ price, currency })}`;
}
