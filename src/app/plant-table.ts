import { bad, good, type Problem, type Result } from '../base/result.ts';
import type { PlantTable } from '../screen/services.ts';

/** Reads the file of a plant list into rows of text: its bytes, its delimiter, its quotes. */

const LARGEST_FILE_MB = 10;
/** Rows that a list may have, headings and empty ones included. */
export const MOST_ROWS = 20_000;

/** Delimiters that are told apart; on a tie the first wins, as commas also mark decimals. */
export const DELIMITERS = [';', '\t', ',', '|'] as const;

const WORKBOOK = /\.(?:xlsx?|xlsm|xlsb|ods|numbers)$/i;
const AS_CSV = 'In the spreadsheet choose to save or export the sheet as CSV, and open that file.';

/**
 * The text of the bytes: UTF-8 or UTF-16 by their mark, else UTF-8, else Windows-1252, in which every byte stands for
 * something (WHATWG Encoding Standard).
 */
export function textOfBytes(bytes: Uint8Array): { readonly text: string; readonly encoding: string } {
  const marked =
    bytes[0] === 0xff && bytes[1] === 0xfe
      ? 'utf-16le'
      : bytes[0] === 0xfe && bytes[1] === 0xff
        ? 'utf-16be'
        : null;
  if (marked) return { text: new TextDecoder(marked).decode(bytes), encoding: 'UTF-16' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), encoding: 'UTF-8' };
  } catch {
    return { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'Windows-1252' };
  }
}

/** Reads a file with a plant list. Refused: workbooks, other bytes than text, files over 10 MB or 20,000 rows. */
export async function readPlantTable(
  file: File,
  delimiter: string | null = null,
): Promise<Result<PlantTable>> {
  if (WORKBOOK.test(file.name)) {
    return bad(file.name, 'This is a workbook, and plant lists are read as text.', AS_CSV);
  }
  if (file.size > LARGEST_FILE_MB * 1e6) {
    return bad(
      file.name,
      `The file has ${(file.size / 1e6).toFixed(1)} MB; the limit for a plant list is ${LARGEST_FILE_MB} MB.`,
      'Take out columns that are not needed, or split the list.',
    );
  }
  let bytes: Uint8Array;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch (error) {
    return bad(
      file.name,
      `The file could not be read. ${error instanceof Error ? error.message : String(error)}`,
      'It may have been moved, or a drive may be away. Choose it again.',
    );
  }
  const { text, encoding } = textOfBytes(bytes);
  if (text.trim() === '') return bad(file.name, 'The file is empty.', AS_CSV);
  // No text holds the sign zero; workbooks and pictures do.
  if (text.includes('\0')) return bad(file.name, 'The file is not text.', AS_CSV);
  const { rows, delimiter: found, problems } = await rowsOfText(text, delimiter);
  if (rows.length > MOST_ROWS) {
    return bad(
      file.name,
      `The list has more than ${MOST_ROWS.toLocaleString('en-US')} rows.`,
      'Split it and open the parts one after the other.',
    );
  }
  return good({ file, name: file.name, encoding, delimiter: found, rows, problems });
}

/** Some spreadsheets name the delimiter in a first line of its own, `sep=;`. */
const NAMED_DELIMITER = /^sep=([^"\r\n])\r?\n/i;

/**
 * Faulty quotes are mended line by line until so many characters have been gone through; then the rest is read
 * without quotes, so that a file full of them does not hold up the page.
 */
const MOST_MENDED = 50;
const MOST_LOOKED_AT = 5e6;

/** Text split into rows and cells. */
export interface SplitText {
  readonly rows: string[][];
  readonly delimiter: string;
  readonly problems: readonly Problem[];
}

/**
 * Splits text into rows and cells (RFC 4180). A quote that never closes, or closes in the middle of a cell, would
 * swallow the lines below: its line is read with quotes as part of the text, which is told, and the rest as usual.
 */
export async function rowsOfText(whole: string, delimiter: string | null = null): Promise<SplitText> {
  const { default: Papa } = await import('papaparse');
  const text = whole.replace(/^\ufeff/, '');
  const named = NAMED_DELIMITER.exec(text);
  let rest = named ? text.slice(named[0].length) : text;
  // The line that names the delimiter is a row to a spreadsheet, too.
  const rows: string[][] = named ? [[]] : [];
  const problems: Problem[] = [];
  const guess = Papa.parse<string[]>(rest, { delimitersToGuess: [...DELIMITERS], preview: 20 }).meta;
  const found = delimiter ?? named?.[1] ?? guess.delimiter;
  const config = { delimiter: found, newline: guess.linebreak as '\n' };
  // A sign that text does not hold stands for "no quotes".
  const plain = { ...config, quoteChar: '\0' };
  let lookedAt = 0;
  let mending = true;
  while (rest !== '' && rows.length <= MOST_ROWS) {
    lookedAt += rest.length;
    const { data, errors } = Papa.parse<string[]>(rest, {
      ...(mending ? config : plain),
      preview: MOST_ROWS + 1 - rows.length,
    });
    const faulty = errors.find(({ type }) => type === 'Quotes')?.row;
    if (faulty === undefined) {
      append(rows, data);
      break;
    }
    append(rows, data.slice(0, faulty));
    // Where the faulty row begins: as far as the rows before it reach.
    if (faulty > 0) rest = rest.slice(Papa.parse<string[]>(rest, { ...config, preview: faulty }).meta.cursor);
    const end = rest.indexOf(guess.linebreak);
    const line = end < 0 ? rest : rest.slice(0, end);
    rest = end < 0 ? '' : rest.slice(end + guess.linebreak.length);
    append(rows, Papa.parse<string[]>(line, plain).data);
    mending = problems.length + 1 < MOST_MENDED && lookedAt < MOST_LOOKED_AT;
    problems.push({
      where: `row ${rows.length}`,
      what: 'a quote opens a cell and does not close it',
      todo: mending
        ? 'The line is read with its quotes as part of the text: check it.'
        : 'There are many such rows: from here on quotes are read as part of the text.',
    });
  }
  return { rows, delimiter: found, problems };
}

/** Not by spreading: a list may have more rows than a call takes arguments. */
function append(rows: string[][], more: readonly string[][]): void {
  for (const row of more) rows.push(row);
}
