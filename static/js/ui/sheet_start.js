/** What a set already tells of its type, as the fields of a new model sheet. */
import { designationOf } from '../kernel/matching.js';
import { blankForm, formOf } from './sheet_form.js';

/**
 * @param {any} pack the family's
 * @param {any} prepared what the set goes by, its own model sheet included
 * @param {import('../store/found_set.js').FoundSet} foundSet
 * @returns {import('./sheet_form.js').Form}
 */
export function foundOn(pack, prepared, foundSet) {
  const found = (what) => {
    const check = pack.checks.find((row) => row.asks === what);
    return check ? foundSet.found(check.id) : { option: null };
  };
  const kind = (rows, what) => rows.find((row) => row.id === found(what).option)?.id;
  const { sheet } = prepared.pack;
  // What the set does not tell, the sheet it goes by may; money stays behind, its grounds are another's.
  const known = sheet ? formOf(pack, { name: '', about: '', sheet, reference: {}, absent: [], parts: [], extra: [] }) : blankForm();
  const { coverage_khz: span } = found('coverage');
  return {
    ...known,
    name: nameOn(pack, found('nameplate').text ?? ''),
    coverage: span?.some(Boolean) ? span.map((khz) => String(khz ?? '')) : known.coverage,
    crystal: String(found('crystal').crystal_khz ?? known.crystal),
    service: kind(pack.services, 'service') ?? known.service,
    finish: kind(pack.finishes, 'finish') ?? known.finish,
  };
}

/** The type designation on the plate, or else its first line. */
function nameOn(pack, plate) {
  return designationOf(pack, plate)?.written || plate.trim().split('\n')[0];
}
