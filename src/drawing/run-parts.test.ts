import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { FlushEnd, Plan } from '../plan/records.ts';
import { drawPlan } from './draw-plan.ts';
import { legendOf } from './legend.ts';
import type { SymbolMark } from './marks.ts';
import { DEFAULT_SHOW } from './options.ts';
import { pick, pickInBox } from './pick.ts';
import { symbolShape } from './symbols.ts';

/** A run that goes up, with a check valve, a flush end at each end, and parts of a run that is gone. */
function plan(): Plan {
  const path = [
    [2, 0],
    [2, 8],
  ] as const;
  return {
    ...emptyPlan(),
    runs: Table.of([{ id: 'R1', name: '', path, tubing: 'blank-half-600', inline: null }]),
    checkValves: Table.of([
      { id: 'K1', runId: 'R1', at: [2.4, 3] as const, openKpa: 7 },
      { id: 'K2', runId: 'gone', at: [0, 0] as const, openKpa: 7 },
    ]),
    flushEnds: Table.of<FlushEnd>([
      { id: 'F1', runId: 'R1', end: 'start' },
      { id: 'F2', runId: 'R1', end: 'end' },
      { id: 'F3', runId: 'gone', end: 'end' },
    ]),
  };
}

function symbols(): SymbolMark[] {
  const options = { units: 'us', show: DEFAULT_SHOW, colourRange: null, photoMetresPerPixel: 0.01 } as const;
  return drawPlan(plan(), null, options)
    .flatMap((layer) => layer.marks)
    .filter((mark): mark is SymbolMark => mark.kind === 'symbol');
}

describe('parts of runs', () => {
  test('a check valve lies on the tubing and points along the run', () => {
    expect(symbols().filter((mark) => mark.name === 'checkValve')).toMatchObject([
      { at: [2, 3], turnDeg: 90, owner: 'checkValves/K1' },
    ]);
  });

  test('the loop of a flush end lies beyond the end of the tubing', () => {
    const beyond = symbols()
      .filter((mark) => mark.name === 'flushEnd')
      .map((mark) => {
        // The bar lies on the tubing's side of the place; y down on the symbol, up on the plan.
        const bar = symbolShape('flushEnd', mark.turnDeg).find((piece) => piece.kind === 'line');
        if (bar?.kind !== 'line') throw new Error('no bar');
        const [, y] = bar.points[0]!;
        return [mark.at, y > 0 ? 'bar below' : 'bar above'];
      });
    expect(beyond).toEqual([
      [[2, 0], 'bar above'],
      [[2, 8], 'bar below'],
    ]);
  });

  test('are found under a point before their run, and in a box', () => {
    expect(pick(plan(), [2.05, 3], 0.1).map((ref) => ref.id)).toEqual(['K1', 'R1']);
    expect(pick(plan(), [2, 8.05], 0.1).map((ref) => ref.id)).toEqual(['F2', 'R1']);
    expect(pick(plan(), [2, 5], 0.1).map((ref) => ref.id)).toEqual(['R1']);
    expect(pickInBox(plan(), { minX: 1, minY: 2, maxX: 3, maxY: 9 }).map((ref) => ref.id)).toEqual([
      'F2',
      'K1',
    ]);
  });

  test('are in the legend while they are in the plan', () => {
    const words = (of: Plan) => legendOf(null, 'us', of).map((entry) => entry.words);
    expect(words(plan())).toEqual(
      expect.arrayContaining(['flush end', 'check valve, water passes towards the bar']),
    );
    expect(words({ ...plan(), checkValves: Table.of(), flushEnds: Table.of() })).toEqual(['blank tubing']);
  });
});

describe('a turned symbol', () => {
  test('a quarter turn takes right to up (y down) and keeps its size', () => {
    const [triangle] = symbolShape('checkValve', 90);
    if (triangle?.kind !== 'line') throw new Error('no triangle');
    // Upright the tip is the middle corner, to the right.
    const [x, y] = triangle.points[1]!;
    expect(x).toBeCloseTo(0, 12);
    expect(y).toBeCloseTo(-0.3, 12);
  });
  test('a whole turn changes nothing', () => {
    const flat = (deg: number) =>
      symbolShape('flushEnd', deg).flatMap((piece) =>
        piece.kind === 'circle' ? piece.at : piece.points.flat(),
      );
    flat(360).forEach((value, i) => expect(value).toBeCloseTo(flat(0)[i]!, 12));
  });
});
