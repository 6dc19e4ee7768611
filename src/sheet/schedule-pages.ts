import type { LegendEntry } from '../drawing/legend.ts';
import { boxed, lettered, ruled } from './brush.ts';
import { shortened } from './lettering.ts';
import { legendBlock } from './legend-block.ts';
import type { Frame, PaperPart } from './page.ts';
import { inset, type Regions } from './regions.ts';
import { layTables, neededWidths, stackedHeight, type Room, type Schedule, type TablePart } from './table.ts';
import { WORDS } from './words.ts';

/** Room in which any table is easy to read though some lines break, at the smallest lettering, millimetres. */
const TABLE_MM = 150;
/** Narrowest table, and the widest column for which another table column is given up, likewise. */
const NARROWEST_MM = 80;
const WIDEST_CELL_MM = 50;
const GAP_MM = 8;

/** A frame divided into columns wide enough for some tables: as many as let every line stay whole. */
export function tableColumns(schedules: readonly Schedule[], frame: Frame, f: number): Frame[] {
  const needed = Math.max(
    NARROWEST_MM * f,
    ...schedules.map((schedule) =>
      neededWidths(schedule, f).reduce((sum, each) => sum + Math.min(each, WIDEST_CELL_MM * f), 0),
    ),
  );
  const countOf = (width: number): number => Math.floor((frame.w + GAP_MM) / (width + GAP_MM));
  const count = Math.max(1, countOf(needed), countOf(TABLE_MM * f));
  const w = (frame.w - (count - 1) * GAP_MM) / count;
  return Array.from({ length: count }, (_, i) => ({ ...frame, x: frame.x + i * (w + GAP_MM), w }));
}

/** A height below which schedules cannot stand in the columns of a frame, millimetres. */
export function leastHeight(schedules: readonly Schedule[], frame: Frame, f: number): number {
  const columns = tableColumns(schedules, frame, f);
  // Tables in several columns have a gap less for each.
  return stackedHeight(schedules, columns[0]!.w, f) / columns.length - 6 * f;
}

/** Lays schedules into the columns of one frame; `null` when they need more. */
export function tablesIn(schedules: readonly Schedule[], frame: Frame, f: number): PaperPart[] | null {
  const laid = layTables(
    schedules,
    roomsOn(schedules, () => frame, f),
    f,
  );
  return laid.every((part) => part.page === 0) ? laid.flatMap((part) => part.parts) : null;
}

/** The columns of page 0, then those of page 1, and so on. */
function roomsOn(schedules: readonly Schedule[], frameOf: (page: number) => Frame, f: number): () => Room {
  let waiting: Room[] = [];
  let page = 0;
  return () => {
    if (waiting.length === 0) {
      const number = page++;
      waiting = tableColumns(schedules, frameOf(number), f).map((frame) => ({ frame, page: number }));
    }
    return waiting.shift()!;
  };
}

function footerHeight(f: number): number {
  return 8 * f;
}

/** Where schedules may stand on their own pages. */
function bodyOf({ frame, lettering: f }: Regions): Frame {
  return inset({ ...frame, h: frame.h - footerHeight(f) }, 5);
}

/** Contents of the pages that follow the drawing: what the legend had no room for, then the schedules. */
export function schedulePages(
  schedules: readonly Schedule[],
  legend: readonly LegendEntry[],
  regions: Regions,
): PaperPart[][] {
  const f = regions.lettering;
  const body = bodyOf(regions);
  const pages: PaperPart[][] = [];
  const add = ({ page, parts }: TablePart): void => {
    while (pages.length <= page) pages.push([]);
    pages[page]!.push(...parts);
  };
  const filled = schedules.filter((schedule) => schedule.rows.length > 0);
  const band = legend.length > 0 ? legendBand(legend, body, f) : { parts: [], height: 0 };
  if (band) {
    if (band.parts.length > 0) pages.push([...band.parts]);
    const under: Frame = { ...body, y: body.y + band.height, h: body.h - band.height };
    if (filled.length > 0) balanced(filled, under, body, f).forEach(add);
    return pages;
  }
  if (filled.length > 0) balanced(filled, body, body, f).forEach(add);
  let rest = legend;
  while (rest.length > 0) {
    const laid = legendBlock(rest, body, f);
    if (laid.rest.length === rest.length) throw new Error('a legend entry is larger than a sheet');
    pages.push([...laid.parts]);
    rest = laid.rest;
  }
  return pages;
}

/** Tables over pages; those that fill one page only in part stand in columns of like height. */
function balanced(schedules: readonly Schedule[], first: Frame, others: Frame, f: number): TablePart[] {
  const lay = (h: number): TablePart[] =>
    layTables(
      schedules,
      roomsOn(schedules, (page) => (page === 0 ? { ...first, h } : others), f),
      f,
    );
  const whole = lay(first.h);
  const onFirst = (laid: readonly TablePart[]): boolean => laid.every(({ page }) => page === 0);
  if (!onFirst(whole) || tableColumns(schedules, first, f).length === 1) return whole;
  for (let h = Math.max(20 * f, leastHeight(schedules, first, f)); h < first.h; h += 3 * f) {
    const laid = lay(h);
    if (onFirst(laid)) return laid;
  }
  return whole;
}

/** A legend as a low band at the head of a page; `null` when it needs more than a third of it. */
function legendBand(
  legend: readonly LegendEntry[],
  body: Frame,
  f: number,
): { parts: readonly PaperPart[]; height: number } | null {
  for (let h = 14 * f; h <= body.h / 3; h += 2 * f) {
    const laid = legendBlock(legend, { ...body, h }, f);
    if (laid.rest.length === 0) return { parts: laid.parts, height: h + 2 * f };
  }
  return null;
}

/** Frame and foot of a page of schedules. */
export function schedulePageBorder(
  { frame, lettering: f }: Regions,
  project: string,
  date: string,
  sheet: number,
  sheets: number,
): PaperPart[] {
  const h = footerHeight(f);
  const y = frame.y + frame.h - h;
  const line = y + h * 0.64;
  const size = 2.6 * f;
  const third = frame.w / 3;
  const put = (text: string, width: number): string => shortened(text, size, false, width);
  return [
    boxed(frame, { pen: { ink: 'line', widthMm: 0.5 } }),
    ruled([frame.x, y], [frame.x + frame.w, y], 'line', 0.25),
    lettered([frame.x + 3 * f, line], shortened(project, size, true, third * 1.4 - 6 * f), size, {
      bold: true,
    }),
    lettered([frame.x + third * 1.9, line], put(date, third * 0.5), size, { anchor: 'middle', ink: 'soft' }),
    lettered(
      [frame.x + frame.w - 3 * f, line],
      put(`${WORDS.sheet} ${WORDS.sheetOf(sheet, sheets)}`, third * 0.6),
      size,
      { anchor: 'end' },
    ),
  ];
}
