import type { LegendEntry } from '../drawing/legend.ts';
import { boxed, lettered, ruled } from './brush.ts';
import { shortened } from './lettering.ts';
import { legendBlock } from './legend-block.ts';
import type { Frame, PaperPart } from './page.ts';
import { inset, type Regions } from './regions.ts';
import { layTables, type Room, type Schedule, type TablePart } from './table.ts';
import { WORDS } from './words.ts';

/** Narrowest table at the smallest lettering, millimetres. */
const TABLE_MM = 150;
const GAP_MM = 8;

/** A frame divided into columns wide enough for a table. */
export function tableColumns(frame: Frame, f: number): Frame[] {
  const count = Math.max(1, Math.floor((frame.w + GAP_MM) / (TABLE_MM * f + GAP_MM)));
  const w = (frame.w - (count - 1) * GAP_MM) / count;
  return Array.from({ length: count }, (_, i) => ({ ...frame, x: frame.x + i * (w + GAP_MM), w }));
}

/** Lays schedules into the columns of one frame; `null` when they need more. */
export function tablesIn(schedules: readonly Schedule[], frame: Frame, f: number): PaperPart[] | null {
  const laid = layTables(
    schedules,
    roomsOn(() => frame, f),
    f,
  );
  return laid.every((part) => part.page === 0) ? laid.flatMap((part) => part.parts) : null;
}

/** The columns of page 0, then those of page 1, and so on. */
function roomsOn(frameOf: (page: number) => Frame, f: number): () => Room {
  let waiting: Room[] = [];
  let page = 0;
  return () => {
    if (waiting.length === 0) {
      const number = page++;
      waiting = tableColumns(frameOf(number), f).map((frame) => ({ frame, page: number }));
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
    if (filled.length > 0)
      layTables(
        filled,
        roomsOn((page) => (page === 0 ? under : body), f),
        f,
      ).forEach(add);
    return pages;
  }
  if (filled.length > 0)
    layTables(
      filled,
      roomsOn(() => body, f),
      f,
    ).forEach(add);
  let rest = legend;
  while (rest.length > 0) {
    const laid = legendBlock(rest, body, f);
    if (laid.rest.length === rest.length) throw new Error('a legend entry is larger than a sheet');
    pages.push([...laid.parts]);
    rest = laid.rest;
  }
  return pages;
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
