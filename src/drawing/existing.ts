import { polar, type Point } from '../base/point.ts';
import type { Table } from '../base/table.ts';
import { refKey, type Head, type HeadFate, type HeadPattern, type LateralPipe } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, Pen, SymbolName } from './marks.ts';

/** Pens of what is in the ground already: lighter than new work. */
export const OLD_PIPE: Pen = { ink: 'old', widthMm: PEN.medium };
/** Assumed pipe, not yet found by digging or tracing. */
export const ASSUMED_PIPE: Pen = { ink: 'old', widthMm: PEN.fine, dashMm: [2, 1.4] };
export const SECTOR_PEN: Pen = { ink: 'old', widthMm: PEN.fine, dashMm: [0.25, 0.9] };
export const HEAD_PEN: Pen = { ink: 'line', widthMm: PEN.thin };
export const HEAD_MM = 2.2;

/** The sign drawn over a head to show what becomes of it; none while undecided or kept. */
export interface FateSign {
  readonly name: SymbolName;
  readonly sizeMm: number;
  readonly pen: Pen;
}
const FATES: Readonly<Record<HeadFate, FateSign | null>> = {
  undecided: null,
  keep: null,
  'tie-in': { name: 'diamond', sizeMm: 4.6, pen: { ink: 'accent', widthMm: PEN.medium } },
  cap: { name: 'square', sizeMm: 3.8, pen: { ink: 'line', widthMm: PEN.fine } },
  'cut off': { name: 'cross', sizeMm: 3.8, pen: { ink: 'line', widthMm: PEN.fine } },
};

export function fateSign(fate: HeadFate): FateSign | null {
  return FATES[fate];
}

/** Heads that are kept are filled; all others are open. */
export function headFill(fate: HeadFate): 'old' | 'paper' {
  return fate === 'keep' ? 'old' : 'paper';
}

/** Outline of the ground that a head wets, as a closed ring; `null` when the pattern does not say where. */
export function patternOutline(at: Point, pattern: HeadPattern): Point[] | null {
  if (pattern.kind === 'strip') {
    if (pattern.directionDeg === null) return null;
    const along = pattern.directionDeg;
    const corner = (u: number, v: number): Point =>
      polar(polar(at, (u * pattern.lengthM) / 2, along), (v * pattern.widthM) / 2, along + 90);
    return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
  }
  const sweep = Math.min(360, Math.abs(pattern.sweepDeg));
  if (!(pattern.radiusM > 0) || !(sweep > 0)) return null;
  const start = pattern.sweepDeg < 0 ? pattern.startDeg + pattern.sweepDeg : pattern.startDeg;
  const steps = Math.max(2, Math.ceil(sweep / 5));
  const arc = Array.from({ length: steps + 1 }, (_, i) =>
    polar(at, pattern.radiusM, start + (sweep * i) / steps),
  );
  return sweep < 360 ? [at, ...arc] : arc.slice(0, -1);
}

/** Buried pipe: measured pieces solid, assumed ones dashed. */
export function lateralMarks(laterals: Table<LateralPipe>): Mark[] {
  return laterals.toArray().map((pipe) => ({
    kind: 'path',
    owner: refKey({ table: 'laterals', id: pipe.id }),
    lines: [[pipe.a, pipe.b]],
    closed: false,
    pen: pipe.measured ? OLD_PIPE : ASSUMED_PIPE,
  }));
}

/** Thin dotted outline of what each head wets. */
export function sectorMarks(heads: Table<Head>): Mark[] {
  return heads.toArray().flatMap((head): Mark[] => {
    const outline = head.pattern && patternOutline(head.at, head.pattern);
    if (!outline) return [];
    const owner = refKey({ table: 'heads', id: head.id });
    return [{ kind: 'path', owner, lines: [outline], closed: true, pen: SECTOR_PEN }];
  });
}

/** Heads with the sign of their fate. */
export function headMarks(heads: Table<Head>): Mark[] {
  return heads.toArray().flatMap((head): Mark[] => {
    const owner = refKey({ table: 'heads', id: head.id });
    const base: Mark = {
      kind: 'symbol',
      owner,
      name: 'head',
      at: head.at,
      sizeMm: HEAD_MM,
      pen: HEAD_PEN,
      fill: headFill(head.fate),
    };
    const sign = fateSign(head.fate);
    return sign ? [base, { kind: 'symbol', owner, at: head.at, ...sign }] : [base];
  });
}
