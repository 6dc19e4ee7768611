import type { Box } from '../base/point.ts';
import type { UnitSystem } from '../base/quantity.ts';
import type { Problem } from '../base/result.ts';
import type { Notice, Results } from '../derive/results.ts';
import type { LegendEntry } from '../drawing/legend.ts';
import type { Layer } from '../drawing/marks.ts';
import type { Plan } from '../plan/records.ts';
import { barsBand } from './bars.ts';
import { boxed, lettered } from './brush.ts';
import { controlSchedule } from './control-schedule.ts';
import { decluttered } from './declutter.ts';
import { drawnMarks, extentOf, markExtent } from './extent.ts';
import { headSchedule } from './head-schedule.ts';
import { oldPipeSchedule } from './old-pipe-schedule.ts';
import { keyPlan } from './key.ts';
import { legendBlock } from './legend-block.ts';
import { printable } from './lettering.ts';
import { linePartSchedule } from './line-part-schedule.ts';
import { matchLines } from './match-lines.ts';
import { acceptedSchedule, limitSchedule, noticeSchedule, openChecks } from './notice-schedule.ts';
import { outletSchedule } from './outlet-schedule.ts';
import type { Frame, Page, PaperPart, SheetSet, View } from './page.ts';
import { paperById, type Orientation, type PaperId } from './paper.ts';
import { plantSchedule } from './plant-schedule.ts';
import { layerParts } from './projection.ts';
import { inset, regionsOf, type Regions } from './regions.ts';
import { mmPerMetre, scaleById, type ScaleId } from './scales.ts';
import { leastHeight, schedulePageBorder, schedulePages, tablesIn } from './schedule-pages.ts';
import { runSchedule } from './run-schedule.ts';
import type { Schedule } from './table.ts';
import { CLEAR_MM, MOST_CELLS, tilesWithMarks, tilingOf, type Tile, type Tiling } from './tiles.ts';
import { titleBlock, type LaidTitle, type TitleFields } from './title-block.ts';
import { WORDS } from './words.ts';

export interface SheetOptions {
  readonly paper: PaperId;
  readonly orientation: Orientation;
  readonly scale: ScaleId;
  /** Units of the schedules and the check bar; the scale bar goes with the scale. */
  readonly units: UnitSystem;
  /** For the title block where the site carries no date of its own, e.g. today's, as it is to be printed. */
  readonly date: string;
}

export interface SheetInput {
  readonly plan: Plan;
  readonly layers: readonly Layer[];
  readonly results: Results | null;
  readonly legend: readonly LegendEntry[];
  /** What the checks say of this plan, for a schedule of its own and a line in the title block. */
  readonly notices?: readonly Notice[];
  readonly options: SheetOptions;
}

/** More drawing sheets than this are refused: a stray mark far away must not cost a ream. */
export const MOST_TILES = 60;

/**
 * Lays a drawing on sheets of one size, true to scale: one sheet when it fits, else tiles with match lines and a
 * key plan; then the schedules of open checks, those accepted, changed limits, tubing, line parts, controls, heads, plants and outlets, on the drawing sheet itself where it leaves room.
 * Nothing is left out in silence: what finds no room goes on a later sheet, what cannot be drawn is a warning.
 */
export function composeSheets(input: SheetInput): SheetSet {
  return new Composition(input).sheets();
}

/** A drawing sheet without its number. */
interface Drawn {
  readonly tile: Tile | null;
  readonly view: View;
  readonly tables: readonly PaperPart[];
}

class Composition {
  private readonly warnings: Problem[] = [];
  private readonly regions: Regions;
  private readonly tiled: boolean;
  private readonly f: number;
  private readonly perMetre: number;
  /** The drawing with its lettering set for the scale. */
  private readonly layers: readonly Layer[];
  /** Tags of plants that found no room on it. */
  private readonly untagged: number;
  private readonly extent: Box | null;
  private readonly tiling: Tiling | null;

  constructor(private readonly input: SheetInput) {
    const { paper, orientation, scale } = input.options;
    const { window, lettering } = regionsOf(paper, orientation);
    this.f = lettering;
    this.perMetre = mmPerMetre(scaleById(scale));
    this.layers = decluttered(input.layers, this.perMetre);
    this.untagged = dispensable(input.layers) - dispensable(this.layers);
    const marks = this.layers.flatMap((layer) => layer.marks);
    this.extent = extentOf(drawnMarks(marks), this.perMetre);
    this.tiling = this.extent && tilingOf(this.extent, window, this.perMetre);
    this.tiled = this.tiling !== null && this.tiling.columns * this.tiling.rows > 1;
    this.regions = regionsOf(paper, orientation, this.tiled);
    const lost = marks.filter((mark) => markExtent(mark, this.perMetre) === null).length;
    if (lost > 0) {
      this.warn('drawing', `${lost} marks have no place that is a number`, 'Correct the records concerned.');
    }
  }

  sheets(): SheetSet {
    const { plan, results, options, legend } = this.input;
    const schedules = [
      noticeSchedule(this.notices()),
      acceptedSchedule(this.notices()),
      limitSchedule(plan, options.units),
      runSchedule(plan, results, options.units),
      linePartSchedule(plan, options.units),
      controlSchedule(plan, results, options.units),
      headSchedule(plan, options.units),
      oldPipeSchedule(plan, options.units),
      plantSchedule(plan, results, options.units, this.untagged),
      outletSchedule(plan, results, options.units),
    ].filter((schedule) => schedule.rows.length > 0);
    const drawn = this.drawings(schedules);
    const placed = drawn.some((sheet) => sheet.tables.length > 0);

    const probe = this.title(99, 99);
    const notes = notesSchedule(probe);
    const restOfLegend = legendBlock(legend, this.legendBox(), this.f).rest;
    const further = schedulePages([...(placed ? [] : schedules), ...notes], restOfLegend, this.regions);

    const count = drawn.length + further.length;
    const numbers = new Map<Tile, number>();
    drawn.forEach((sheet, i) => sheet.tile && numbers.set(sheet.tile, i + 1));
    const pages = [
      ...drawn.map((sheet, i) => this.drawingPage(sheet, i + 1, count, numbers)),
      ...further.map((parts, i): Page => ({
        widthMm: this.regions.widthMm,
        heightMm: this.regions.heightMm,
        title: WORDS.schedules,
        view: null,
        parts: [
          ...schedulePageBorder(
            this.regions,
            plan.site.name || WORDS.untitled,
            this.date(),
            drawn.length + i + 1,
            count,
          ),
          ...parts,
        ],
      })),
    ];
    return { pages: pages.map((page) => this.inPrintableSigns(page)), warnings: this.warnings };
  }

  private warn(where: string, what: string, todo: string): void {
    this.warnings.push({ where, what, todo });
  }

  private date(): string {
    return this.input.plan.site.date || this.input.options.date;
  }

  private drawings(schedules: readonly Schedule[]): Drawn[] {
    const { window } = this.regions;
    if (!this.extent || !this.tiling) {
      this.warn('drawing', 'nothing is drawn yet', 'Draw at least one bed, then print again.');
      return [{ tile: null, view: { window, mmPerMetre: this.perMetre, middle: [0, 0] }, tables: [] }];
    }
    const marks = drawnMarks(this.layers.flatMap((layer) => layer.marks));
    const { columns, rows } = this.tiling;
    const tiles = columns * rows > 1 ? tilesWithMarks(this.tiling, marks, this.perMetre) : [];
    if (columns * rows > MOST_CELLS || tiles.length > MOST_TILES) {
      const { name } = scaleById(this.input.options.scale);
      const needed = columns * rows > MOST_CELLS ? columns * rows : tiles.length;
      this.warn(
        'drawing',
        `at ${name} the drawing would take ${needed} sheets; only the schedules were laid out`,
        'Choose a smaller scale or larger paper, and look for a mark far away from the site.',
      );
      return [];
    }
    if (columns * rows === 1) {
      const tile = this.tiling.tiles[0]!;
      const shared = this.tablesBelow(schedules, this.extent);
      const view: View = {
        window: shared?.window ?? window,
        mmPerMetre: this.perMetre,
        middle: tile.middle,
      };
      return [{ tile, view, tables: shared?.tables ?? [] }];
    }
    return tiles.map((tile) => ({
      tile,
      view: { window, mmPerMetre: this.perMetre, middle: tile.middle },
      tables: [],
    }));
  }

  /** Schedules under the drawing when both fit into the window; `null` when they need pages of their own. */
  private tablesBelow(
    schedules: readonly Schedule[],
    extent: Box,
  ): { window: Frame; tables: PaperPart[] } | null {
    if (schedules.length === 0) return null;
    const { window } = this.regions;
    const needed = (extent.maxY - extent.minY) * this.perMetre + 2 * CLEAR_MM;
    const room = window.h - needed;
    const pad = 5;
    const least = leastHeight(schedules, inset(window, pad), this.f) + 2 * pad;
    for (let h = Math.max(20, least); h <= room; h += 5) {
      const top = window.y + window.h - h;
      const tables = tablesIn(schedules, inset({ ...window, y: top, h }, pad), this.f);
      if (tables) return { window: { ...window, h: window.h - h }, tables };
    }
    return null;
  }

  private title(sheet: number, sheets: number): LaidTitle {
    const { plan, options, results } = this.input;
    const fields: TitleFields = {
      site: plan.site,
      date: this.date(),
      scale: scaleById(options.scale).name,
      paper: `${WORDS.scaleIs(scaleById(options.scale).name)} on ${paperById(options.paper).name}`,
      sheet,
      sheets,
      title: WORDS.plan,
      open: openChecks(this.notices()),
      remark: results ? WORDS.computed : WORDS.notComputed,
    };
    return titleBlock(fields, this.regions.title, this.f);
  }

  private notices(): readonly Notice[] {
    return this.input.notices ?? [];
  }

  private legendBox(): Frame {
    return inset(this.regions.legend, 2.4 * this.f);
  }

  private drawingPage(
    { tile, view, tables }: Drawn,
    sheet: number,
    sheets: number,
    numbers: ReadonlyMap<Tile, number>,
  ): Page {
    const { regions, f, input } = this;
    const { options, plan } = input;
    const thin = { ink: 'line', widthMm: 0.25 } as const;
    const drawn = layerParts(this.layers, view);
    const parts: PaperPart[] = [{ kind: 'clip', window: view.window, parts: drawn }];
    const tiled = tile !== null && this.tiled;
    if (tiled) {
      const lines = matchLines(tile, this.tiling!, numbers, view, drawn, f);
      parts.push({ kind: 'clip', window: view.window, parts: lines });
    }
    if (!this.extent) {
      const { x, y, w, h } = view.window;
      parts.push(lettered([x + w / 2, y + h / 2], WORDS.nothing, 4 * f, { anchor: 'middle', ink: 'soft' }));
    }
    parts.push(
      boxed(regions.window, { pen: thin }),
      boxed(regions.bars, { pen: thin }),
      boxed(regions.legend, { pen: thin }),
      boxed(regions.title, { pen: thin }),
      boxed(regions.frame, { pen: { ink: 'line', widthMm: 0.5 } }),
    );
    if (tables.length > 0) parts.push(boxed(view.window, { pen: thin }), ...tables);
    const scale = scaleById(options.scale);
    parts.push(
      ...barsBand(
        regions.bars,
        { scale, mmPerMetre: view.mmPerMetre, units: options.units, northDeg: plan.site.northDeg },
        f,
      ),
      ...legendBlock(input.legend, this.legendBox(), f).parts,
      ...this.title(sheet, sheets).parts,
    );
    if (tiled) {
      const box = inset(regions.key, 2 * f);
      parts.push(
        boxed(regions.key, { pen: thin }),
        ...keyPlan(box, plan, this.extent!, this.tiling!, numbers, tile, f),
      );
    }
    return { widthMm: regions.widthMm, heightMm: regions.heightMm, title: WORDS.plan, view, parts };
  }

  /** Replaces signs that the printed font lacks, with a warning for those that have no other spelling. */
  private inPrintableSigns(page: Page): Page {
    const replaced = (part: PaperPart): PaperPart => {
      if (part.kind === 'clip') return { ...part, parts: part.parts.map(replaced) };
      if (part.kind !== 'text') return part;
      const { text, missing } = printable(part.text);
      if (missing.length > 0) this.warnMissing(missing, text);
      return text === part.text ? part : { ...part, text };
    };
    return { ...page, parts: page.parts.map(replaced) };
  }

  private warnMissing(missing: readonly string[], text: string): void {
    const signs = [...new Set(missing)].join(' ');
    const what = `the printed font has no sign for ${signs}; "${text}" is printed with ? instead`;
    if (this.warnings.some((warning) => warning.what === what)) return;
    this.warn('lettering', what, 'Write the name in Latin letters.');
  }
}

/** How many texts of the layers may be left out where there is no room. */
function dispensable(layers: readonly Layer[]): number {
  const marks = layers.flatMap((layer) => layer.marks);
  return marks.filter((mark) => mark.kind === 'text' && mark.mayDrop).length;
}

/** Notes and fields that the title block had to shorten, in full, a row to a line. */
function notesSchedule({ overlong }: LaidTitle): Schedule[] {
  if (overlong.length === 0) return [];
  return [
    {
      title: WORDS.notes,
      columns: [
        { head: '', align: 'left' },
        { head: '', align: 'left' },
      ],
      rows: overlong.flatMap(({ label, text }) =>
        pieces(text).map((line, i) => ({ cells: [i === 0 ? label : '', line] })),
      ),
    },
  ];
}

/** Text in pieces short enough that a table row never has to cut one. */
function pieces(text: string): string[] {
  return text.split(/\r\n|\r|\n/).flatMap((paragraph) => {
    const found = paragraph.match(/.{1,300}(?:\s|$)|.{1,300}/gu);
    return found ? found.map((piece) => piece.trim()) : [''];
  });
}
