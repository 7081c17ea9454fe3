/** What lies on the shelf, in words. */
import { _ } from '../language.js';
import { moneyWriter } from './money.js';

/** What a thing is, in one word. */
export const KINDS = {
  get spare() { return _('Spare'); },
  get want() { return _('Want'); },
  get donor() { return _('Donor'); },
};

/** A part by its name in the tables. @param {any} pack or nothing @param {string} part its id */
export function partName(pack, part) {
  const label = pack?.parts.find((row) => row.id === part)?.label ?? part.replaceAll('-', ' ');
  return label.charAt(0).toUpperCase() + label.slice(1);
}

/** The states that a spare may be in: those of the check that looks at the part. @param {any} pack @param {string} part */
export function statesOf(pack, part) {
  const options = pack.checks.find((check) => check.part === part)?.options ?? [];
  return options.filter((option) => option.state > 0).map(({ label, state }) => ({ label, state }));
}

/** What is said of a spare or a want beside its part. @param {any} pack or nothing @param {import('../store/shelf.js').Thing} thing */
export function thingName(pack, { kind, part, state, count, worth }) {
  const found = kind === 'spare' && pack && statesOf(pack, part).find((row) => row.state === state)?.label;
  const money = pack && moneyWriter(pack.reference.currency, pack);
  const each = kind === 'want' && money && (worth === null || worth === undefined ? _('worth what it costs to buy') : _('worth {amount} to you', { amount: money.say(worth) }));
  return [count > 1 && _('{count} of them', { count }), found, each].filter(Boolean);
}
