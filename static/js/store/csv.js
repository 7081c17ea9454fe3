/** Tables as text: comma-separated values after RFC 4180, and what spreadsheets make of it. */

const DELIMITERS = [',', ';', '\t'];

/**
 * The cells of a table, its delimiter found from the first line that says anything. An empty line is a row without cells;
 * a quotation mark inside an unquoted cell, and text after a closing one, stand as they are.
 * @param {string} text
 * @returns {{delimiter: string, rows: string[][], unclosed: number}} `unclosed`: the row, from 1, whose last cell has no closing quotation mark; 0 for none
 */
export function parseCsv(text) {
  const delimiter = delimiterOf(text);
  const rows = [];
  let unclosed = 0;
  let at = 0;
  while (at < text.length) {
    const row = [];
    let end = readCell(text, at, delimiter);
    // Only a line that is wholly empty has no cell.
    if (end.next > at || text[at] === delimiter) row.push(end.cell);
    while (text[end.next] === delimiter) {
      end = readCell(text, end.next + 1, delimiter);
      row.push(end.cell);
    }
    rows.push(row);
    if (end.open) unclosed = rows.length;
    at = end.next + (text.startsWith('\r\n', end.next) ? 2 : 1);
  }
  return { delimiter, rows, unclosed };
}

/** One cell from here on, and where the delimiter or the line's end after it stands. */
function readCell(text, start, delimiter) {
  const ends = (mark) => mark === undefined || mark === delimiter || mark === '\r' || mark === '\n';
  const pieces = [];
  let at = start;
  let open = false;
  if (text[at] === '"') {
    at += 1;
    for (;;) {
      const close = text.indexOf('"', at);
      pieces.push(text.slice(at, close < 0 ? text.length : close));
      open = close < 0;
      at = open ? text.length : close + 1;
      if (text[at] !== '"') break;
      pieces.push('"');
      at += 1;
    }
  }
  const plain = at;
  while (!ends(text[at])) at += 1;
  return { cell: pieces.join('') + text.slice(plain, at), next: at, open };
}

/** The mark met most often outside quotation marks in the first line; a comma when there is none. */
function delimiterOf(text) {
  const counts = DELIMITERS.map(() => 0);
  let quoted = false;
  for (const mark of text.replace(/^[\r\n]+/, '')) {
    if (mark === '"') quoted = !quoted;
    else if (!quoted && (mark === '\n' || mark === '\r')) break;
    else if (!quoted && DELIMITERS.includes(mark)) counts[DELIMITERS.indexOf(mark)] += 1;
  }
  return DELIMITERS[counts.indexOf(Math.max(...counts))];
}

/** @param {(string | number)[][]} rows @returns {string} lines that end as RFC 4180 has it */
export function writeCsv(rows) {
  return rows.map((row) => `${line(row)}\r\n`).join('');
}

function line(row) {
  const cells = row.map((cell) => (/[",;\t\r\n]/.test(String(cell)) ? `"${String(cell).replaceAll('"', '""')}"` : String(cell)));
  // An empty line would have no cell at all.
  return cells.length === 1 && cells[0] === '' ? '""' : cells.join(',');
}

/** The text of a file: UTF-8, or else what older spreadsheets write. @param {ArrayBuffer} bytes */
export function decoded(bytes) {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}
