/** A model sheet laid over its family's pack. Twin of compile_sheet in webapp/rulebook/compiling.py. */

/**
 * @param {any} pack a family's pack
 * @param {any} overrides the sheet's document
 * @returns {any} the pack of that model sheet
 */
export function applySheet(pack, overrides) {
  const { name, about, sheet, reference } = overrides;
  return { ...pack, name, about, sheet, reference: { ...pack.reference, ...reference } };
}
