/** What a file is by its first bytes, whatever it is called. */

/** @type {[string, number, string][]} kind, where its mark stands, the mark */
const MARKS = [
  ['jpeg', 0, '\xff\xd8\xff'], ['png', 0, '\x89PNG\r\n\x1a\n'], ['gif', 0, 'GIF8'], ['webp', 8, 'WEBP'], ['bmp', 0, 'BM'],
  ['heif', 4, 'ftyp'], ['tiff', 0, 'II*\0'], ['tiff', 0, 'MM\0*'],
];

/** @param {Blob} file @returns {Promise<string>} empty for what is no photo */
export async function kindOf(file) {
  const head = String.fromCharCode(...new Uint8Array(await file.slice(0, 16).arrayBuffer()));
  return MARKS.find(([, at, mark]) => head.startsWith(mark, at))?.[0] ?? '';
}
