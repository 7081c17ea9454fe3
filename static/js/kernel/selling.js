/**
 * The seller's verdict: what to ask, below what the parts bring more, and which looks pay before selling.
 * Whoever has the set already has paid for it: an asking price of 0 in contract §8. Twin of selling.py.
 */
import { looking } from './looking.js';

/** The seller's figures, in the appraisal's currency. @param {{mid: number}} fair */
export function selling(prepared, findings, now, fair) {
  const narrowing = looking(prepared, { ...findings, asking: null }, now);
  const deciding = new Map(looking(prepared, { ...findings, asking: 0 }, now).looks.map((look) => [look.check, look.evi]));
  return {
    ask: fair.mid * Math.exp(prepared.pack.reference.asked[0]),
    floor: Math.max(0, now.parts.mean),
    worth: now.worth.value,
    way: now.worth.way,
    left: narrowing.value,
    threshold: narrowing.threshold,
    looks: narrowing.looks.map(({ check, seconds, evi }) =>
      ({ check: prepared.checks[check].id, seconds, worth: deciding.get(check), narrows: evi })),
  };
}
