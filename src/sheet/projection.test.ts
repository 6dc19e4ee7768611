import { describe, expect, test } from 'vitest';
import type { SymbolMark } from '../drawing/marks.ts';
import { markParts, symbolParts } from './projection.ts';

const valve = {
  kind: 'symbol',
  name: 'checkValve',
  sizeMm: 10,
  pen: { ink: 'line', widthMm: 0.25 },
} as const;

/** Places on paper of the first piece of a symbol about (50, 50). */
function triangle(turnDeg?: number): readonly (readonly [number, number])[] {
  const mark: Omit<SymbolMark, 'at'> = turnDeg === undefined ? valve : { ...valve, turnDeg };
  const [piece] = symbolParts(mark, [50, 50]);
  if (piece?.kind !== 'path') throw new Error('no triangle');
  return piece.lines[0]!;
}

describe('symbols on paper', () => {
  test('stand upright unless they are turned', () => {
    expect(triangle()).toEqual(triangle(0));
    expect(triangle()[1]).toEqual([53, 50]);
  });

  test('turn counter-clockwise as on the plan: a quarter turn points up the sheet', () => {
    const [x, y] = triangle(90)[1]!;
    expect(x).toBeCloseTo(50, 9);
    expect(y).toBeCloseTo(47, 9);
  });

  test('point along a run as it lies on the sheet', () => {
    // A run from (0, 0) to (4, 3): its direction on the plan is up to the right, 36.87 degrees.
    const view = { window: { x: 0, y: 0, w: 100, h: 100 }, mmPerMetre: 5, middle: [0, 0] } as const;
    const [piece] = markParts({ ...valve, at: [2, 1.5], turnDeg: 36.86989764584402 }, view);
    if (piece?.kind !== 'path') throw new Error('no triangle');
    const [back, tip, otherBack] = piece.lines[0]!;
    const middle = [(back![0] + otherBack![0]) / 2, (back![1] + otherBack![1]) / 2] as const;
    // On paper y is down.
    expect((tip![0] - middle[0]) / 4).toBeCloseTo(-(tip![1] - middle[1]) / 3, 9);
    expect(tip![0]).toBeGreaterThan(middle[0]);
  });
});
