/**
 * Findings that ought to agree, compared (contract §6): crystal, serials, heaters, designation, finish.
 * true: they fit. false: they do not. null: one of them is not known. Twin of webapp/appraisal/matching.py.
 */

/** @type {typeof import('./nameplate.js') | null} */
let plates = null;

/** Takes the reader of nameplates, which comes with its tables after the first screen. */
export function usePlates(reader) {
  plates = reader;
}

// Sums of decimal voltages must not miss a limit by the last bit.
const ROOM = 1e-9;

/** All comparisons; `said` holds the answers that stand, by what their check asks for. */
export function matches(pack, findings, coverage, said) {
  return {
    crystal: crystalFits(pack, coverage, findings.crystal_khz),
    serial: serialsMatch(pack, findings.serial, findings.book_serial),
    heaters: heatersFit(pack, findings.heater_strings),
    designation: designationFits(pack, findings.nameplate),
    finish: finishFits(finishOf(pack, findings, said)),
  };
}

/** The n with n·f inside the coverage, n from 1 to the table's highest harmonic. */
export function harmonicsInside(pack, coverage, crystalKhz) {
  const inside = [];
  for (let n = 1; n <= pack.model.harmonics; n += 1) {
    if (coverage[0] <= n * crystalKhz && n * crystalKhz <= coverage[1]) inside.push(n);
  }
  return inside;
}

/** Whether a crystal read off the set gives a check point in the coverage. */
export function crystalFits(pack, coverage, crystalKhz) {
  if (coverage === null || crystalKhz === null) return null;
  return harmonicsInside(pack, coverage, crystalKhz).length > 0;
}

/** A serial number without what stands around it: case, spaces, dashes, "No.", leading zeros; O is 0. */
export function plainSerial(text) {
  const before = /^[^a-z0-9]*((serial|ser|number|num|no|nr|s[/.]?n)(?![a-z])[^a-z0-9]*)*/;
  const bare = (text ?? '').toLowerCase().replace(before, '');
  return bare.replace(/[^a-z0-9]/g, '').replaceAll('o', '0').replace(/^0+/, '');
}

/** Whether set and calibration book carry the same number; null too where one book served all of a model. */
export function serialsMatch(pack, serial, bookSerial) {
  const own = plainSerial(serial);
  const book = plainSerial(bookSerial);
  return own && book && pack.sheet?.book !== 'by model' ? own === book : null;
}

/** The figures of one string; each of its places holds one heater, or several shunted ones. */
export function heating(string, heaters) {
  const amps = heaters.map((place) => place.reduce((sum, heater) => sum + heater.amps, 0));
  const volts = heaters.reduce((sum, place) => sum + Math.max(...place.map((heater) => heater.volts)), 0);
  return { string, volts, least: Math.min(...amps), most: Math.max(...amps) };
}

/** Whether a string's voltage lies within the table's share of the supply. */
export function voltsSuit(pack, found) {
  const [low, high] = pack.supply_volts;
  const share = pack.model.heater_volts_share + ROOM;
  return low * (1 - share) <= found.volts && found.volts <= high * (1 + share);
}

/** Whether the heaters of a string draw the same current within the table's share of the least. */
export function ampsAgree(pack, found) {
  return found.most <= found.least * (1 + pack.model.heater_amps_share + ROOM);
}

/** Whether every series string suits the supply and draws one current. */
export function heatersFit(pack, strings) {
  if (strings.length === 0 || !pack.supply_volts) return null;
  return strings.every((string, index) => {
    const found = heating(index + 1, string);
    return voltsSuit(pack, found) && ampsAgree(pack, found);
  });
}

let last = { table: null, text: '', reading: null };

/** What the nameplate says; null without text or without the table of letters. */
export function designationOf({ nomenclature: table }, text) {
  if (!text || !plates || !table?.letters) return null;
  // The plate is the same at every tap of a walk round.
  if (last.table !== table || last.text !== text) last = { table, text, reading: plates.readNameplate(table, text) };
  return last.reading;
}

/** Whether the type designation on the plate names the pack's family. */
export function designationFits(pack, nameplate) {
  const reading = designationOf(pack, nameplate);
  return reading && plates.suggests(pack.nomenclature, reading, pack.family);
}

/** The row that a text names by its id, its label or one of its words; the longest phrase decides. */
export function kindOf(text, rows) {
  const words = plain(text ?? '');
  let best = null;
  let longest = 0;
  for (const row of rows) {
    for (const phrase of [row.id, row.label, ...row.words].map(plain)) {
      if (words.includes(phrase) && phrase.length > longest) {
        best = row;
        longest = phrase.length;
      }
    }
  }
  return best;
}

// With a space at both ends, a phrase is found as whole words only.
const plain = (text) => known.get(text) ?? known.set(text, ` ${text.toLowerCase().replace(/[^a-z0-9]+/g, ' ').trim()} `).get(text);

// The phrases of the tables are the same at every tap.
/** @type {Map<string, string>} */
const known = new Map();

/** The finish and the service that count: what was typed, else the answer, else (service) the sheet. */
export function finishOf(pack, findings, said) {
  const sheet = pack.sheet ?? {};
  const found = kindOf(findings.finish || said.finish, pack.finishes ?? []);
  const named = (text) => kindOf(text, pack.services ?? []);
  // The answer that no mark is to be found leaves the sheet's word standing.
  const service = findings.service ? named(findings.service) : named(said.service) ?? named(sheet.service);
  const built = kindOf(sheet.finish, pack.finishes ?? []);
  return { found, service, expected: built ? [built.id] : service?.finishes ?? [], bySheet: built !== null };
}

/** Whether the finish is one that this type, or else its service, had. */
export function finishFits({ found, expected }) {
  return found === null || expected.length === 0 ? null : expected.includes(found.id);
}
