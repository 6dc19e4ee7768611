import { lettered, letteredLines, ruled } from './brush.ts';
import { textWidth, wrappedTo } from './lettering.ts';
import type { Frame, PaperPart } from './page.ts';
import { WORDS } from './words.ts';

export interface Column {
  readonly head: string;
  readonly align: 'left' | 'right';
}

export interface Row {
  readonly cells: readonly string[];
  readonly bold?: boolean;
}

/** A schedule before it is laid on paper. */
export interface Schedule {
  readonly title: string;
  /** A line below the title that holds for the whole table. */
  readonly note?: string;
  /** Rows may take this many lines where that is not the usual number. */
  readonly mostLines?: number;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

/** Rows may take this many lines; longer text ends in an ellipsis. */
const MOST_LINES = 6;
/** Paper below a table, at the smallest lettering, millimetres. */
const GAP_MM = 6;
/** Tables of at most this many rows are kept together. */
const MOST_TOGETHER = 14;

interface Laid {
  readonly parts: readonly PaperPart[];
  readonly height: number;
}

/** Sizes of table lettering at a lettering factor, millimetres. */
function sizesOf(f: number): { size: number; leading: number; pad: number; side: number; title: number } {
  return { size: 2.5 * f, leading: 3.4 * f, pad: 1.2 * f, side: 2 * f, title: 3.4 * f };
}

/** Width that each column needs to say all on one line, millimetres. */
export function neededWidths({ columns, rows }: Schedule, f: number): number[] {
  const { size, side } = sizesOf(f);
  return columns.map((column, i) => {
    const cells = rows.map((row) => textWidth(row.cells[i] ?? '', size, row.bold));
    // A little more than measured, so that rounding never breaks a line.
    return Math.max(0, textWidth(column.head, size, true), ...cells) + 2 * side + 0.01;
  });
}

/**
 * Column widths that fill `width`. With room all columns have what they need and a like share more; without, the
 * widest give way first, down to one common width.
 */
export function columnWidths(needed: readonly number[], width: number): number[] {
  const sum = needed.reduce((all, each) => all + each, 0);
  if (sum <= width) return needed.map((each) => (each * width) / sum);
  let left = width;
  let most = 0;
  for (const [i, each] of needed.toSorted((a, b) => a - b).entries()) {
    most = left / (needed.length - i);
    if (each > most) break;
    left -= each;
  }
  return needed.map((each) => Math.min(each, most));
}

function rowParts(
  schedule: Schedule,
  widths: readonly number[],
  cells: readonly string[],
  x: number,
  y: number,
  f: number,
  bold: boolean,
): Laid {
  const { size, leading, pad, side } = sizesOf(f);
  const parts: PaperPart[] = [];
  let left = x;
  let most = 1;
  for (const [i, column] of schedule.columns.entries()) {
    const w = widths[i]!;
    const { lines } = wrappedTo(cells[i] ?? '', size, bold, w - 2 * side, schedule.mostLines ?? MOST_LINES);
    const at = column.align === 'left' ? left + side : left + w - side;
    const anchor = column.align === 'left' ? 'start' : 'end';
    lines.forEach((line, n) => {
      if (line === '') return;
      parts.push(lettered([at, y + pad + size * 0.9 + n * leading], line, size, { anchor, bold }));
    });
    most = Math.max(most, lines.length);
    left += w;
  }
  return { parts, height: most * leading + pad };
}

/** Where tables are laid: columns of one page after the other. */
export interface Room {
  readonly frame: Frame;
  /** Index of the page. */
  readonly page: number;
}

/** Gives the room that follows; it never ends. */
export type NextRoom = () => Room;

export interface TablePart {
  readonly page: number;
  readonly parts: readonly PaperPart[];
}

/**
 * Lays schedules below each other, going on in the next room where one ends, with title and heads said again.
 * A row is never divided, nor is a short table that a fresh room would hold whole.
 */
export function layTables(schedules: readonly Schedule[], nextRoom: NextRoom, f: number): TablePart[] {
  const laid: TablePart[] = [];
  let room = nextRoom();
  let y = room.frame.y;
  const put = (parts: readonly PaperPart[]): void => {
    laid.push({ page: room.page, parts });
  };
  for (const schedule of schedules) {
    let begun = false;
    const needed = neededWidths(schedule, f);
    let widths = columnWidths(needed, room.frame.w);
    const headHeight = (): number => headParts(schedule, widths, room.frame, y, f, begun).height;
    const begin = (): void => {
      const head = headParts(schedule, widths, room.frame, y, f, begun);
      put(head.parts);
      y += head.height;
      begun = true;
    };
    const goOn = (): void => {
      room = nextRoom();
      y = room.frame.y;
      widths = columnWidths(needed, room.frame.w);
    };
    const foot = (): number => room.frame.y + room.frame.h;
    const measure = (row: Row): number =>
      rowParts(schedule, widths, row.cells, 0, 0, f, row.bold ?? false).height;
    const together = schedule.rows.length <= MOST_TOGETHER ? schedule.rows : schedule.rows.slice(0, 1);
    const least = headHeight() + together.reduce((sum, row) => sum + measure(row), 0);
    const alone = headHeight() + (schedule.rows[0] ? measure(schedule.rows[0]) : 0);
    if (y > room.frame.y && y + (least <= room.frame.h ? least : alone) > foot()) goOn();
    begin();
    for (const row of schedule.rows) {
      if (y + measure(row) > foot()) {
        goOn();
        begin();
      }
      const { parts, height } = rowParts(schedule, widths, row.cells, room.frame.x, y, f, row.bold ?? false);
      y += height;
      put([...parts, ruled([room.frame.x, y], [room.frame.x + room.frame.w, y], 'faint', 0.13)]);
    }
    y += GAP_MM * f;
  }
  return laid;
}

/** Height of schedules below each other in one column that nothing ends, millimetres. */
export function stackedHeight(schedules: readonly Schedule[], width: number, f: number): number {
  let sum = 0;
  for (const schedule of schedules) {
    const widths = columnWidths(neededWidths(schedule, f), width);
    sum += headParts(schedule, widths, { x: 0, y: 0, w: width, h: 0 }, 0, f, false).height + GAP_MM * f;
    for (const { cells, bold } of schedule.rows) {
      sum += rowParts(schedule, widths, cells, 0, 0, f, bold ?? false).height;
    }
  }
  return Math.max(0, sum - GAP_MM * f);
}

function headParts(
  schedule: Schedule,
  widths: readonly number[],
  frame: Frame,
  y: number,
  f: number,
  again: boolean,
): Laid {
  const { title, pad } = sizesOf(f);
  const words = again ? `${schedule.title}, ${WORDS.continued}` : schedule.title;
  const parts: PaperPart[] = [lettered([frame.x, y + title], words, title, { bold: true })];
  let below = y + title + 2 * pad;
  const right = frame.x + frame.w;
  if (schedule.note && !again) {
    const { size, leading } = sizesOf(f);
    const { lines } = wrappedTo(schedule.note, size, false, frame.w, MOST_LINES);
    const first = [frame.x, below + 0.72 * size] as const;
    parts.push(...letteredLines(first, lines, size, leading, { ink: 'soft' }));
    below += lines.length * leading + pad;
  }
  if (schedule.columns.some((column) => column.head !== '')) {
    const heads = schedule.columns.map((column) => column.head);
    parts.push(ruled([frame.x, below], [right, below], 'line', 0.35));
    const row = rowParts(schedule, widths, heads, frame.x, below, f, true);
    parts.push(...row.parts);
    below += row.height;
  }
  parts.push(ruled([frame.x, below], [right, below], 'line', 0.18));
  return { parts, height: below - y };
}
