/** All numbers of one appraisal, before anybody asks for words. Twin of webapp/appraisal/numbers.py. */
import { effort } from './effort.js';
import { looking } from './looking.js';
import { market, shares } from './price.js';
import { scores } from './scores.js';
import { stand } from './standing.js';
import { fair, inParts, mending, worth } from './worth.js';

/** All numbers of one appraisal. */
export function numbers(prepared, findings) {
  const standing = stand(prepared, findings);
  const found = shares(prepared, standing, findings.aim);
  const price = market(prepared, standing, found, findings);
  const parts = inParts(prepared, standing, findings);
  const mend = mending(prepared, standing, findings);
  return {
    standing,
    scores: scores(prepared, standing),
    found,
    market: price,
    parts,
    mending: mend,
    effort: effort(prepared, standing, findings),
    worth: worth(price.mean, price.restoredMean - mend.total, parts.mean),
  };
}

/** What is left to look at, in order, and whether it is worth the time. */
export function nextLooks(prepared, findings, now) {
  return looking(prepared, findings, now);
}

/** The fair-price range {low, mid, high}: what the market would pay at P10, P50, P90. */
export function fairRange(prepared, now) {
  const { z90 } = prepared.pack.model;
  return {
    low: fair(now.market, now.parts, -z90),
    mid: fair(now.market, now.parts, 0),
    high: fair(now.market, now.parts, z90),
  };
}
