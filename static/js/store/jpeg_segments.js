/**
 * A JPEG without its metadata, its pixels untouched. Segments by ITU-T T.81, annex B: EXIF, XMP and the like
 * stand in application segments and comments, and some phones hang a film behind the end.
 */

const [START, END, SCAN, COMMENT] = [0xd8, 0xd9, 0xda, 0xfe];
/** Application segments that decoding needs: JFIF, and the one that names the colour transform. */
const NEEDED = [0xe0, 0xee];

/** @param {Blob} file @returns {Promise<Blob | null>} null when it is no whole JPEG */
export async function withoutMetadata(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const kept = segments(bytes);
  return kept && new Blob(kept, { type: 'image/jpeg' });
}

/** The parts to keep, or null. @param {Uint8Array} bytes */
function segments(bytes) {
  if (bytes[0] !== 0xff || bytes[1] !== START) return null;
  const kept = [bytes.subarray(0, 2)];
  for (let at = 2; at + 3 < bytes.length || bytes[at + 1] === END;) {
    if (bytes[at] !== 0xff) return null;
    const mark = bytes[at + 1];
    if (mark === END) return [...kept, bytes.subarray(at, at + 2)];
    let end = at + 2 + bytes[at + 2] * 256 + bytes[at + 3];
    if (mark === SCAN) end = scanEnd(bytes, end);
    const told = mark === COMMENT || (mark >= 0xe0 && mark <= 0xef && !NEEDED.includes(mark));
    if (!told) kept.push(bytes.subarray(at, end));
    at = end;
  }
  return null;
}

/** Where coded data end: at the first mark that is neither a stuffed byte nor a restart. */
function scanEnd(bytes, from) {
  let at = from;
  while (at < bytes.length - 1) {
    const next = bytes[at + 1];
    if (bytes[at] === 0xff && next !== 0 && next !== 0xff && (next < 0xd0 || next > 0xd7)) return at;
    at += 1;
  }
  return bytes.length;
}
