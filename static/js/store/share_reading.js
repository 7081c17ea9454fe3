/** A seller's page as his server gives it, read strictly: it comes from a stranger. What these tables may know is kept, the rest named. */
import { _ } from '../language.js';
import { areClaims, faults, FINDINGS, isId, travels } from './claim_rules.js';

/** The form of a page that this version reads. */
const FORM = 1;
/** Letters of an answer that is still read at all. */
const LARGEST = 400_000;
/** What a page's findings may hold beside those that a copy keeps: the seller's own reckoning. */
const NOT_COPIED = ['aim', 'region', 'currency', 'rate', 'hour_rate', 'asking', 'comparables', 'today'];
/** Letters of a name that is shown. */
const SHOWN = 60;

const shape = (value) => typeof value === 'object' && value !== null && !Array.isArray(value);
const brief = (text) => (String(text).length > SHOWN ? `${String(text).slice(0, SHOWN)}…` : String(text));

/**
 * @typedef {Object} Share
 * @property {import('./claim_rules.js').Claims} claims what a copy would keep
 * @property {any} ownSheet the seller's own model sheet, not yet looked at, or null
 * @property {string[]} setAside names of what was left out
 *
 * @param {string} text the server's answer
 * @param {string} from address of the page
 * @returns {Share} throws an Error with one sentence for the person
 */
export function readShare(text, from) {
  if (text.length > LARGEST) throw tooLarge();
  const document = parsed(text);
  if (!shape(document)) throw new Error(_('There is no seller’s page behind this link. Scan the tag once more, or ask the seller for the link.'));
  if (document.form !== FORM) throw new Error(_('This page comes from another version of the app. Load the newest version, then open the link once more.'));
  const setAside = [];
  const { title, written, asked, photos, own_sheet: ownSheet } = document;
  const findings = shape(document.findings) ? told(document.findings, setAside) : document.findings;
  const claims = { from, title, written, findings, asked: asked ?? null, photos: Array.isArray(photos) ? photos.length : photos };
  const wrong = faults(claims);
  if (wrong.length > 0) {
    throw new Error(_('This page cannot be read: its “{what}” is not as it should be. Nothing was kept. Ask the seller to share it once more.', { what: wrong.at(-1) }));
  }
  if (!travels(claims) || !areClaims(claims)) throw tooLarge();
  return { claims, ownSheet: shape(ownSheet) ? ownSheet : null, setAside };
}

const tooLarge = () => new Error(_('This page holds more than a phone takes over. Nothing was kept. Ask the seller to share less.'));

function parsed(text) {
  try {
    return JSON.parse(text)?.document;
  } catch {
    return null;
  }
}

/** The findings that a copy keeps; what no table can be called by is set aside. */
function told(findings, setAside) {
  const kept = Object.fromEntries(Object.keys(FINDINGS).map((key) => [key, findings[key] ?? null]));
  const keep = (named, name) => {
    if (!named) setAside.push(brief(name));
    return named;
  };
  const nameable = (value) => typeof value !== 'string' || isId(value);
  for (const key of Object.keys(findings)) keep(key in kept || NOT_COPIED.includes(key), key);
  kept.answers ??= {};
  if (shape(kept.answers)) {
    kept.answers = Object.fromEntries(Object.entries(kept.answers).filter(([check, option]) => keep(isId(check) && nameable(option), `${brief(check)}: ${brief(option)}`)));
  }
  if (Array.isArray(kept.unseen)) kept.unseen = kept.unseen.filter((check) => keep(nameable(check), check));
  if (Array.isArray(kept.holes)) kept.holes = kept.holes.filter((hole) => keep(nameable(hole?.place), _('hole in {place}', { place: brief(hole?.place) })))
    .map((hole) => (shape(hole) ? { ...hole, as_found: hole.as_found ?? 'open' } : hole));
  if (!keep(nameable(kept.model_sheet), kept.model_sheet)) kept.model_sheet = null;
  return kept;
}
