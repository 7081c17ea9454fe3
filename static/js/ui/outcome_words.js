/** What became of a set, in a few words. */
import { _ } from '../language.js';
import { sayPrice } from './sale_words.js';

/** Such as "bought for $60". @param {import('../store/outcomes.js').Outcome} outcome */
export function outcomeWords({ what, price, currency }) {
  if (price === null) return whatWord(what);
  const sum = { price: price === 0 ? _('nothing') : sayPrice({ price, currency }) };
  return { bought: _('bought for {price}', sum), passed: _('passed at {price}', sum), sold: _('sold for {price}', sum) }[what];
}

/** What became of it, in one word. @param {string} what */
export const whatWord = (what) => ({ bought: _('bought'), passed: _('passed'), sold: _('sold') })[what] ?? what;
