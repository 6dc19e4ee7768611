import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { checkValvePlace, placeOnRun, runEnd } from './on-run.ts';
import type { Run } from './records.ts';

const run = (path: Run['path']): Run => ({
  id: 'R1',
  name: '',
  path,
  tubing: 'blank-half-600',
  inline: null,
});
const bent = run([
  [0, 0],
  [4, 0],
  [4, 3],
  [4, 3],
]);

describe('the ends of a run', () => {
  test('point away from the run', () => {
    expect(runEnd(bent, 'start')).toEqual({ at: [0, 0], outwardDeg: 180 });
    expect(runEnd(bent, 'end')).toEqual({ at: [4, 3], outwardDeg: 90 });
  });
  test('of a run without length or places', () => {
    expect(
      runEnd(
        run([
          [1, 1],
          [1, 1],
        ]),
        'end',
      ),
    ).toEqual({ at: [1, 1], outwardDeg: 0 });
    expect(runEnd(run([]), 'end')).toBeNull();
  });
});

describe('a check valve', () => {
  test('sits at the nearest place and lets water pass along the path', () => {
    const place = checkValvePlace(bent, { at: [4.5, 1] })!;
    expect(place).toMatchObject({ point: [4, 1], segment: 1, along: 5, directionDeg: 90 });
    expect(checkValvePlace(bent, { at: [1, -1] })).toMatchObject({ point: [1, 0], directionDeg: 0 });
  });
  test('on a piece without length takes the direction beside it', () => {
    expect(
      checkValvePlace(
        run([
          [0, 0],
          [0, 0],
          [0, 5],
        ]),
        { at: [0, -1] },
      )?.directionDeg,
    ).toBe(90);
    expect(checkValvePlace(run([[0, 0]]), { at: [0, 0] })).toBeNull();
  });
});

test('places by name; null for what is not there', () => {
  const plan = {
    runs: Table.of([bent]),
    checkValves: Table.of([
      { id: 'K1', runId: 'R1', at: [2, 1] as const, openKpa: 7 },
      { id: 'K2', runId: 'gone', at: [2, 1] as const, openKpa: 7 },
    ]),
    lineParts: Table.of<never>(),
    flushEnds: Table.of([{ id: 'F1', runId: 'R1', end: 'end' as const }]),
  };
  expect(placeOnRun(plan, { table: 'checkValves', id: 'K1' })).toEqual([2, 0]);
  expect(placeOnRun(plan, { table: 'flushEnds', id: 'F1' })).toEqual([4, 3]);
  expect(placeOnRun(plan, { table: 'checkValves', id: 'K2' })).toBeNull();
  expect(placeOnRun(plan, { table: 'flushEnds', id: 'F9' })).toBeNull();
});
