import type { Table } from '../base/table.ts';
import { patternOutline } from '../derive/existing/coverage/pattern.ts';
import { refKey, type Head, type HeadFate } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { Mark, Pen, SymbolMark, SymbolName } from './marks.ts';

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

/** A wall above a head whose spray plants or things stand in. */
export const BLOCKED_SIGN = {
  name: 'blocked',
  sizeMm: 3,
  pen: { ink: 'line', widthMm: PEN.fine },
  shiftMm: [0, -3.2],
} as const satisfies Partial<SymbolMark>;

export function fateSign(fate: HeadFate): FateSign | null {
  return FATES[fate];
}

/** Heads that are kept are filled; all others are open. */
export function headFill(fate: HeadFate): 'old' | 'paper' {
  return fate === 'keep' ? 'old' : 'paper';
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

/** Heads with the sign of their fate, and of what blocks their spray. */
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
    const marks: Mark[] = [base];
    const sign = fateSign(head.fate);
    if (sign) marks.push({ kind: 'symbol', owner, at: head.at, ...sign });
    if (head.blocked) marks.push({ kind: 'symbol', owner, at: head.at, ...BLOCKED_SIGN });
    return marks;
  });
}
