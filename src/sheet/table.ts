import { lettered, ruled } from './brush.ts';
import { wrappedTo } from './lettering.ts';
import type { Frame, PaperPart } from './page.ts';
import { WORDS } from './words.ts';

export interface Column {
  readonly head: string;
  readonly align: 'left' | 'right';
  /** Share of the table's width. */
  readonly share: number;
}

export interface Row {
  readonly cells: readonly string[];
  readonly bold?: boolean;
}

/** A schedule before it is laid on paper. */
export interface Schedule {
  readonly title: string;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

/** Rows may take this many lines; longer text ends in an ellipsis. */
const MOST_LINES = 6;

interface Laid {
  readonly parts: readonly PaperPart[];
  readonly height: number;
}

/** Sizes of table lettering at a lettering factor, millimetres. */
function sizesOf(f: number): { size: number; leading: number; pad: number; side: number; title: number } {
  return { size: 2.5 * f, leading: 3.4 * f, pad: 1.2 * f, side: 2 * f, title: 3.4 * f };
}

function rowParts(
  schedule: Schedule,
  cells: readonly string[],
  x: number,
  y: number,
  width: number,
  f: number,
  bold: boolean,
): Laid {
  const { size, leading, pad, side } = sizesOf(f);
  const total = schedule.columns.reduce((sum, column) => sum + column.share, 0);
  const parts: PaperPart[] = [];
  let left = x;
  let most = 1;
  for (const [i, column] of schedule.columns.entries()) {
    const w = (column.share / total) * width;
    const { lines } = wrappedTo(cells[i] ?? '', size, bold, w - 2 * side, MOST_LINES);
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
 * A row is never divided.
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
    const headHeight = (): number => headParts(schedule, room.frame, y, f, begun).height;
    const begin = (): void => {
      const head = headParts(schedule, room.frame, y, f, begun);
      put(head.parts);
      y += head.height;
      begun = true;
    };
    const goOn = (): void => {
      room = nextRoom();
      y = room.frame.y;
    };
    const foot = (): number => room.frame.y + room.frame.h;
    const measure = (row: Row): number =>
      rowParts(schedule, row.cells, 0, 0, room.frame.w, f, row.bold ?? false).height;
    const first = schedule.rows[0];
    if (y > room.frame.y && y + headHeight() + (first ? measure(first) : 0) > foot()) goOn();
    begin();
    for (const row of schedule.rows) {
      if (y + measure(row) > foot()) {
        goOn();
        begin();
      }
      const { parts, height } = rowParts(
        schedule,
        row.cells,
        room.frame.x,
        y,
        room.frame.w,
        f,
        row.bold ?? false,
      );
      y += height;
      put([...parts, ruled([room.frame.x, y], [room.frame.x + room.frame.w, y], 'faint', 0.13)]);
    }
    y += 6 * f;
  }
  return laid;
}

function headParts(schedule: Schedule, frame: Frame, y: number, f: number, again: boolean): Laid {
  const { title, pad } = sizesOf(f);
  const words = again ? `${schedule.title}, ${WORDS.continued}` : schedule.title;
  const parts: PaperPart[] = [lettered([frame.x, y + title], words, title, { bold: true })];
  let below = y + title + 2 * pad;
  const right = frame.x + frame.w;
  if (schedule.columns.some((column) => column.head !== '')) {
    const heads = schedule.columns.map((column) => column.head);
    parts.push(ruled([frame.x, below], [right, below], 'line', 0.35));
    const row = rowParts(schedule, heads, frame.x, below, frame.w, f, true);
    parts.push(...row.parts);
    below += row.height;
  }
  parts.push(ruled([frame.x, below], [right, below], 'line', 0.18));
  return { parts, height: below - y };
}
