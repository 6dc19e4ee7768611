import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { pathLength } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { tubingById } from '../../catalog/index.ts';
import { findings } from '../../derive/checks/findings-for-tests.ts';
import { supply } from '../../derive/plan-for-tests.ts';
import type { Plan } from '../../plan/records.ts';
import { expectWatered } from './any-bed-for-tests.ts';
import type { Filled, FillChoices } from './choices.ts';
import { fillDefaults } from './defaults.ts';
import { fillBed } from './fill-bed.ts';
import { spacesAcross } from './loop-lines.ts';
import { area, bedPlan, CHOICES, rectangle } from './plan-for-fill-tests.ts';

const ASK = { ...CHOICES, pattern: 'loops', edgeM: 0.1, rowSpacingM: 0.5, emitterSpacingM: 0.3 } as const;

function filled(plan: Plan, ask: Partial<FillChoices> = {}): Filled {
  const result = fillBed(plan, 'B', { ...ASK, ...ask });
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}
const strip = (width: number, length = 10): Plan => bedPlan([area('B', rectangle(0, 0, length, width))]);
const names = ({ runs }: Filled) => runs.map(({ name }) => name);

describe('loops in a straight strip', () => {
  test('spaces across are at most a quarter wider than asked', () => {
    expect([0.3, 0.62, 0.64, 1.12, 1.13, 1.5].map((width) => spacesAcross(width, 0.5))).toEqual([
      1, 1, 2, 2, 3, 3,
    ]);
  });

  test('one loop where its sides lie one space apart; as long as the rectangle, less its rounded corners', () => {
    const result = filled(strip(0.7));
    expect(names(result)).toEqual(['Loop 1']);
    expect(result.figures.rowSpacingM).toBeCloseTo(0.5, 2);
    // Corners rounded to the 8 in of dripline and a hair: each is shorter by (2 - pi / 2) r.
    expect(pathLength(result.runs[0]!.path)).toBeCloseTo(
      2 * (9.8 + 0.5) - 8 * 0.2052 + 2 * Math.PI * 0.2052,
      1,
    );
    expectWatered(strip(0.7), result);
  });

  test('corners are as round as dripline bends, so that the check on bends is silent', () => {
    const result = filled(strip(0.7));
    expect(result.notes.map(({ kind }) => kind)).not.toContain('tight-bend');
    const runs = result.runs.map((run, i) => ({ ...run, id: `R${i}` }));
    expect(findings({ ...strip(0.7), runs: Table.of(runs) }, 'bend-tight')).toEqual([]);
    // A wider limit of the plan is drawn as well, as far as there is room: 12 in do not go into 10 in.
    const wide = { ...strip(0.7), checks: { ...strip(0.7).checks, limits: { 'bend-tight.dripline': 0.5 } } };
    const tight = fillBed(wide, 'B', ASK);
    if (!tight.ok) throw new Error(tight.problem.what);
    const note = tight.value.notes.find(({ kind }) => kind === 'tight-bend');
    const told = findings(
      { ...wide, runs: Table.of(tight.value.runs.map((run, i) => ({ ...run, id: `R${i}` }))) },
      'bend-tight',
    );
    expect(note).toMatchObject({ leastM: 0.5 });
    expect(told[0]!.places).toHaveLength((note as { count: number }).count);
  });

  test('two spaces: a loop and a line along the middle, joined', () => {
    const result = filled(strip(1.2));
    expect(names(result)).toEqual(['Loop 1', 'Middle line 1', 'Loop header']);
    for (const [, y] of result.runs[1]!.path) expect(y).toBeCloseTo(0.6, 1);
    expect(pathLength(result.runs[1]!.path)).toBeGreaterThan(8.5);
    expect(result.notes).toContainEqual({ kind: 'middle-line', count: 1 });
    expectWatered(strip(1.2), result);
  });

  test('three spaces: two loops', () => {
    const result = filled(strip(1.7));
    expect(names(result)).toEqual(['Loop 1', 'Loop 2', 'Loop header']);
    expectWatered(strip(1.7), result);
  });

  test('too narrow for a loop: one line along the middle, flushed at its far end', () => {
    const plan = { ...strip(0.35), supplies: Table.of([supply('V', [12, 0])]) };
    const result = filled(plan);
    expect(names(result)).toEqual(['Middle line 1']);
    const { path } = result.runs[0]!;
    expect(path[0]![0]).toBeGreaterThan(9.5);
    expect(path.at(-1)![0]).toBeLessThan(0.5);
    for (const [, y] of path) expect(y).toBeCloseTo(0.175, 2);
    expect(result.flushEnds).toEqual([{ run: 0, end: 'end' }]);
  });

  test('fed nearest to the water, opened half way round', () => {
    const water: Point = [11, 0.4];
    const plan = { ...strip(0.7), supplies: Table.of([supply('V', water)]) };
    const result = filled(plan);
    const { path } = result.runs[0]!;
    expect(result.starts[0]![0]).toBeCloseTo(9.9, 1);
    expect(path[0]![0]).toBeLessThan(0.2);
    expect(path[0]).toEqual(path.at(-1));
    expect(result.flushEnds).toEqual([{ run: 0, end: 'end' }]);
  });

  test('on a slope loops lie nearer in plan, as far apart on the ground', () => {
    const plan = bedPlan([area('B', rectangle(0, 0, 10, 1.6))], 0, 0.75);
    const result = filled(plan, { equalise: false });
    const [first, second] = result.runs;
    const low = (path: readonly Point[]) => Math.min(...path.map(([, y]) => y));
    expect((low(second!.path) - low(first!.path)) * 1.25).toBeCloseTo(0.5, 2);
  });
});

describe('loops elsewhere', () => {
  test('a bent strip has the loops of a straight one', () => {
    const bent: Point[] = [
      [0, 0],
      [12, 0],
      [12, 1.2],
      [1.2, 1.2],
      [1.2, 8],
      [0, 8],
    ];
    const result = filled(bedPlan([area('B', bent)]));
    expect(names(result).filter((name) => !name.includes('header'))).toEqual(['Loop 1', 'Middle line 1']);
    expect(pathLength(result.runs[1]!.path)).toBeGreaterThan(16);
    expectWatered(bedPlan([area('B', bent)]), result);
  });

  test('a hole has a loop of its own', () => {
    const hole = rectangle(4, 1, 2, 1);
    const plan = bedPlan([area('B', rectangle(0, 0, 10, 3), { holes: [hole] })]);
    const result = filled(plan);
    const round = result.runs.filter(({ path, inline }) => inline && path.every(([x]) => x > 3.8 && x < 6.2));
    expect(round.length).toBe(1);
    expect(result.notes.map(({ kind }) => kind)).toContain('wide-for-loops');
    expectWatered(plan, result);
  });

  test('a bed cut by a walk has a start in each part', () => {
    const plan = bedPlan([
      area('B', rectangle(0, 0, 10, 1)),
      area('W', rectangle(4, -1, 1, 3), { use: 'paving' }),
    ]);
    const result = filled(plan);
    expect(result.starts).toHaveLength(2);
    expect(result.notes).toContainEqual({ kind: 'parts', count: 2 });
    expectWatered(plan, result);
  });

  test('an outline that crosses itself, a sliver, a bed without area', () => {
    const bow: Point[] = [
      [0, 0],
      [6, 4],
      [6, 0],
      [0, 4],
    ];
    expect(filled(bedPlan([area('B', bow)])).figures.rows).toBeGreaterThan(3);
    for (const ring of [rectangle(0, 0, 10, 0.15), [[0, 0] as Point, [5, 0] as Point, [9, 0] as Point]]) {
      const result = fillBed(bedPlan([area('B', ring)]), 'B', ASK);
      expect(result.ok ? '' : result.problem.what).toMatch(/no room/);
    }
  });

  test('far from the origin nothing changes', () => {
    const far = filled(bedPlan([area('B', rectangle(500_000, 4_000_000, 10, 1.2))]));
    expect(names(far)).toEqual(names(filled(strip(1.2))));
    expect(far.figures.emitters).toBe(filled(strip(1.2)).figures.emitters);
  });
});

describe('usual values', () => {
  test('narrow beds are looped, wide ones have rows', () => {
    // Three spacings of 18 in are 1.37 m.
    expect(fillDefaults(strip(1.3), 'B').choices.pattern).toBe('loops');
    expect(fillDefaults(strip(1.45), 'B').choices.pattern).toBe('straight');
    expect(fillDefaults(strip(1.3), 'B').sources.pattern).toMatch(/narrow/);
  });

  test('header tubing that carries the flow: over 200 gph three quarters of an inch', () => {
    // 0.6 gph on 2.25 sq ft: 200 gph are 750 sq ft or 69.7 m2.
    expect(fillDefaults(strip(6.9), 'B').choices.headerTubing).toBe('blank-17');
    expect(fillDefaults(strip(7.1), 'B').choices.headerTubing).toBe('blank-three-quarter');
    expect(fillDefaults(strip(7.1), 'B').sources.header).toMatch(/200 gph/);
    // Of one size with the dripline.
    const { tubing, headerTubing } = fillDefaults(strip(6.9), 'B').choices;
    const [row, header] = [tubingById(tubing)!, tubingById(headerTubing)!];
    expect(header.innerDiameterMm).toBe(row.innerDiameterMm);
    expect(header.outerDiameterMm).toBe(row.outerDiameterMm);
  });
});

test('names of runs in another bed are not given again', () => {
  const plan = bedPlan([
    area('B', rectangle(0, 0, 6, 3), { name: 'Bank' }),
    area('C', rectangle(0, 5, 6, 3), { name: 'Court' }),
  ]);
  const straight = { ...CHOICES, pattern: 'straight' } as const;
  const first = fillBed(plan, 'B', straight);
  if (!first.ok) throw new Error();
  const drawn = { ...plan, runs: Table.of(first.value.runs.map((run, i) => ({ ...run, id: `R${i}` }))) };
  const second = fillBed(drawn, 'C', straight);
  const again = fillBed(drawn, 'B', straight);
  if (!second.ok || !again.ok) throw new Error();
  expect(second.value.runs[0]!.name).toBe('Row 1, Court');
  expect(again.value.runs.map(({ name }) => name)).toEqual(first.value.runs.map(({ name }) => name));
});
