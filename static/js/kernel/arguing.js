/** The arguments around a price: haggling, selling, mends, spread. Twin of arguing.py, without its sentences. */
import { haggling } from './haggling.js';
import { lasting, mends } from './mends.js';
import { marketQuantile } from './price.js';
import { selling } from './selling.js';
import { spread } from './spread.js';

/** What can be said about the price. @param {any[]} rows the reasons @param {{mid: number}} fair */
export function argued(prepared, findings, now, ahead, rows, fair) {
  const found = mends(prepared, findings, now, rows);
  return {
    haggling: haggling(prepared, rows, marketQuantile(now.market, 0)),
    selling: selling(prepared, findings, now, fair),
    mends: found,
    lasting: lasting(rows, found),
    spread: spread(prepared, now.standing, now.market, ahead),
  };
}
