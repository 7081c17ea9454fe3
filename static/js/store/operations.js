/**
 * What holds, of several operations on one record. It follows from which operations are known, and from nothing else:
 * in whatever order and however often they arrive, every device comes to the same.
 *
 * An operation that another one names in `after` was known to its writer and is replaced by it. What nobody replaced
 * is a head. Of several heads the latest stands; where they say different things, two devices did not know of each other.
 *
 * @typedef {Object} Operation
 * @property {string} id made on the device, so that sending it twice is sending it once
 * @property {string} device
 * @property {string} by the device's name
 * @property {number} time logical: the clock's milliseconds, but always past what the device has seen
 * @property {string} at the device's clock, for people
 * @property {'sets' | 'findings' | 'sheets' | 'sales' | 'photos' | 'lots' | 'shelf'} kind
 * @property {string} record the row's id; for a finding `<set>/<key>`
 * @property {string[]} after
 * @property {any} value
 */

/** Whether `a` is later than `b`. @param {Operation} a @param {Operation} b */
export function isLater(a, b) {
  if (a.time !== b.time) return a.time > b.time;
  if (a.device !== b.device) return a.device > b.device;
  return a.id > b.id;
}

/** Those that no other replaces, the latest first. @param {Operation[]} operations all of one record @returns {Operation[]} */
export function headsOf(operations) {
  const replaced = new Set(operations.flatMap(({ id, after }) => after.filter((other) => other !== id)));
  const left = operations.filter((operation) => !replaced.has(operation.id));
  // Operations that replace one another in a ring come from no device of ours; then all of them stand.
  return (left.length > 0 ? left : [...operations]).sort((a, b) => (isLater(a, b) ? -1 : 1));
}

/** Whether heads say different things. @param {Operation[]} heads */
export function differ(heads) {
  const said = heads.map(({ value }) => plain(value));
  return said.some((text) => text !== said[0]);
}

/** A value as text that does not depend on the order of its keys. @param {any} value */
export function plain(value) {
  return JSON.stringify(value, (_, part) => (part?.constructor === Object ? Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1))) : part));
}

/** An id nobody else makes. Works without a secure context too. */
export function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(12)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The same for an operation, beginning with its time: a database keeps what follows on one another side by side. @param {number} time */
export const newOperationId = (time) => time.toString(16).padStart(12, '0').slice(-12) + newId().slice(12);
