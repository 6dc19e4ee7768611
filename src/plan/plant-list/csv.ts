/** Lists as text with commas (RFC 4180), safe to open in a spreadsheet. */

/** Signs with which spreadsheets begin a formula, also in their wide forms (as listed by the OWASP page on CSV injection). */
const FORMULA = /^'*[=+\-@\t\r\n＝＋－＠]/;
const FIGURE = /^[-+]?(?:\d+(?:[.,]\d+)?|[.,]\d+)$/;

/** A text as a cell that no spreadsheet takes for a formula: a quote goes before it, which `cellRead` takes away. */
export function cellWritten(text: string): string {
  return FORMULA.test(text) && !FIGURE.test(text) ? `'${text}` : text;
}

/** A cell without blanks around it and without the quote that keeps it from being a formula. */
export function cellRead(cell: string): string {
  const text = cell.trim();
  return text.startsWith("'") && FORMULA.test(text) ? text.slice(1).trim() : text;
}

/** The text of a CSV file: lines end in CRLF, cells with commas, quotes or line ends are quoted. */
export function csvText(rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) =>
    cells
      .map(cellWritten)
      .map((cell) => (/[",;\t\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell))
      .join(',');
  return rows.map((cells) => `${line(cells)}\r\n`).join('');
}
