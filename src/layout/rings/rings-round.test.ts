import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import type { Plan, Plant, RingChoices } from '../../plan/records.ts';
import { emittersOn } from '../rows/figures.ts';
import type { Filled } from '../rows/index.ts';
import { area, bedPlan, FT, rectangle } from '../rows/plan-for-fill-tests.ts';
import { ringDefaults, ringsRound } from './index.ts';
import { ringAt } from './ring-lines.ts';

const STEM: Point = [50, 30];

const tree = (id: string, at: Point, canopyNowM: number | null): Plant => ({
  id,
  at,
  name: '',
  plantClass: 'tree',
  canopyNowM,
  canopyMatureM: 40 * FT,
  rootBallM: null,
  waterUse: null,
});

const withTree = (plan: Plan, canopyFt: number | null = 24, more: readonly Plant[] = []): Plan => ({
  ...plan,
  plants: Table.of([tree('T', STEM, canopyFt === null ? null : canopyFt * FT), ...more]),
});

function ringed(plan: Plan, ask: Partial<RingChoices> = {}): Filled {
  const result = ringsRound(plan, 'T', { ...ringDefaults(plan, 'T').choices, ...ask });
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}
const problem = (plan: Plan, ask: Partial<RingChoices> = {}, id = 'T') => {
  const result = ringsRound(plan, id, { ...ringDefaults(plan, 'T').choices, ...ask });
  return result.ok ? null : result.problem;
};
const dripline = ({ runs }: Filled) => runs.filter(({ inline }) => inline);
const kinds = ({ notes }: Filled) => notes.map(({ kind }) => kind);

/** The plan with what was drawn, and a control set at each start. */
function built(plan: Plan, filled: Filled) {
  return buildPlanNetwork({
    ...plan,
    runs: Table.of(filled.runs.map((run, i) => ({ ...run, id: `R${i}` }))),
    flushEnds: Table.of(filled.flushEnds.map(({ run, end }, i) => ({ id: `F${i}`, runId: `R${run}`, end }))),
    supplies: Table.of(filled.starts.map((at, i) => supply(`V${i}`, at))),
    controls: Table.of(filled.starts.map((at, i) => control(`C${i}`, at))),
  });
}
function expectWatered(plan: Plan, filled: Filled): void {
  const network = built(plan, filled);
  expect(network.notices.filter(({ rule }) => /^run-(loose|apart|without-length)/.test(rule))).toEqual([]);
  expect(network.outlets.length).toBe(filled.figures.emitters);
}

describe('rings on level ground', () => {
  const plan = withTree(bedPlan([]));

  test('a canopy of 24 ft: rings of 4, 8, 12 ft, 151 ft, 100 emitters at 18 in', () => {
    // Field practice notes, 1.8 item 10: 2 pi (4 + 8 + 12) = 150.8 ft, over 1.5 ft 100.5.
    const result = ringed(plan);
    expect(dripline(result).map(({ path }) => distance(path[0]!, STEM) / FT)).toEqual([
      expect.closeTo(4, 1),
      expect.closeTo(8, 1),
      expect.closeTo(12, 1),
    ]);
    expect(result.figures).toMatchObject({ rows: 3, pieces: 3 });
    expect(result.figures.lengthM / FT).toBeCloseTo(2 * Math.PI * 24, 3);
    expect(result.figures.emitters).toBe(100);
    const each = dripline(result).map((run) => emittersOn(groundOf(plan).surfaceLength(run.path), run));
    // 16.8, 33.5 and 50.3: the innermost lacks least of one more.
    expect(each).toEqual([17, 33, 50]);
    expect(result.notes).toEqual([]);
    expectWatered(plan, result);
  });

  test('each ring closes, is fed at one place and opened opposite', () => {
    const water: Point = [70, 31];
    const result = ringed({ ...plan, supplies: Table.of([supply('V', water)]) });
    const [header] = result.runs.filter(({ inline }) => !inline);
    expect(header!.path).toHaveLength(3);
    expect(result.starts).toHaveLength(1);
    // The outermost ring's place nearest to the water.
    expect(distance(result.starts[0]!, water)).toBeCloseTo(distance(water, STEM) - 12 * FT, 1);
    expect(result.figures.headerLengthM / FT).toBeCloseTo(8, 1);
    dripline(result).forEach(({ path }, i) => {
      expect(path[0]).toEqual(path.at(-1));
      const radius = distance(path[0]!, STEM);
      const feed = header!.path.toSorted((a, b) => distance(a, STEM) - distance(b, STEM))[i]!;
      expect(distance(path[0]!, feed)).toBeGreaterThan(1.97 * radius);
    });
    expect(result.flushEnds).toEqual([0, 1, 2].map((run) => ({ run, end: 'end' })));
  });

  test('emitters over the seam are less than two spacings apart and more than half of one', () => {
    for (const { path, inline } of dripline(ringed(plan))) {
      const length = groundOf(plan).surfaceLength(path);
      const count = emittersOn(length, { inline });
      const seam = length - (count - 1) * inline!.spacingM;
      expect(seam / inline!.spacingM).toBeGreaterThan(0.49);
      expect(seam / inline!.spacingM).toBeLessThan(2);
    }
  });

  test('by a distance: from the canopy inwards, none nearer to the stem than chosen', () => {
    const result = ringed(plan, { ringSpacingM: 3 * FT, trunkClearM: 4 * FT });
    expect(result.figures.rows).toBe(3);
    expect(distance(dripline(result)[0]!.path[0]!, STEM) / FT).toBeCloseTo(6, 1);
    // A third of the canopy lies too near.
    expect(ringed(plan, { trunkClearM: 5 * FT }).notes).toContainEqual({ kind: 'rings-left-out', count: 1 });
  });

  test('a spiral winds from the canopy in to the stem’s ground and is flushed there', () => {
    const result = ringed(plan, { form: 'spiral', ringSpacingM: 2 * FT });
    const [spiral] = dripline(result);
    expect(result.runs).toHaveLength(1);
    expect(distance(spiral!.path[0]!, STEM) / FT).toBeCloseTo(12, 1);
    expect(distance(spiral!.path.at(-1)!, STEM) / FT).toBeCloseTo(1, 1);
    // Archimedes: the integral of sqrt(r^2 + a^2) dr / a from 1 to 12 ft, a = 2 ft a turn.
    const a = 2 / (2 * Math.PI);
    const F = (r: number) => (r * Math.hypot(r, a) + a * a * Math.asinh(r / a)) / (2 * a);
    expect(result.figures.lengthM / FT).toBeCloseTo(F(12) - F(1), 0);
    expect(result.flushEnds).toEqual([{ run: 0, end: 'end' }]);
    expectWatered(plan, result);
  });
});

describe('rings on a slope', () => {
  const plan = withTree(bedPlan([], 0.2, 0.5));

  test('all places of a ring are as far from the stem on the ground', () => {
    const ground = groundOf(plan);
    for (const p of ringAt(ground, STEM, 3)) expect(ground.surfaceLength([STEM, p])).toBeCloseTo(3, 1);
    const result = ringed(plan);
    expect(result.figures.lengthM / FT).toBeCloseTo(2 * Math.PI * 24, 0);
    // Uphill as well.
    const uphill = dripline(result)
      .flatMap(({ path }) => path)
      .filter((p) => p[1] > STEM[1] + 1);
    expect(uphill.length).toBeGreaterThan(10);
    expect(ringDefaults(plan, 'T').choices.law).toBe('inline-pc-check');
    expectWatered(plan, result);
  });
});

describe('what is in the way', () => {
  const walk = area('W', rectangle(52, 0, 2, 60), { use: 'paving' });

  test('rings are cut to arcs that keep their distance from paving; both sides get water', () => {
    const plan = withTree(bedPlan([walk]), 24);
    const result = ringed(plan);
    for (const { path } of result.runs)
      for (const [x] of path) expect(x < 52 - 0.1 || x > 54 + 0.1 || path.length < 1).toBe(true);
    expect(result.notes).toContainEqual({ kind: 'cut', count: 2 });
    expectWatered(plan, result);
  });

  test('a walk across gives parts with a start each', () => {
    const plan = withTree(bedPlan([area('W', rectangle(51.5, 0, 1, 60), { use: 'paving' })]), 24);
    const result = ringed(plan);
    expect(result.notes).toContainEqual({ kind: 'parts', count: 2 });
    expectWatered(plan, result);
  });

  test('other stems are kept clear; a lawn counts unless the tree stands in it', () => {
    const plan = withTree(bedPlan([]), 24, [tree('T2', [50 + 12 * FT, 30], 5)]);
    const result = ringed(plan);
    for (const { path } of dripline(result))
      for (const p of path) expect(distance(p, [50 + 12 * FT, 30])).toBeGreaterThan(FT - 0.001);
    const lawn = area('L', rectangle(40, 20, 20, 20), { use: 'lawn' });
    expect(kinds(ringed(withTree(bedPlan([lawn]))))).toEqual([]);
    const beside = area('L', rectangle(52, 20, 20, 20), { use: 'lawn' });
    expect(kinds(ringed(withTree(bedPlan([beside]))))).toContain('cut');
  });

  test('a bed that is an island in paving or in a lawn has room for rings', () => {
    const bed = area('B', rectangle(44, 24, 12, 12));
    for (const use of ['paving', 'lawn'] as const) {
      const about = area('A', rectangle(30, 20, 40, 20), { use });
      const result = ringed(withTree(bedPlan([about, bed])));
      expect(result.figures.lengthM).toBeCloseTo(ringed(withTree(bedPlan([bed]))).figures.lengthM, 2);
      expect(kinds(result)).toEqual([]);
    }
    // A smaller island: the outermost ring leaves it.
    const small = area('B', rectangle(47, 27, 6, 6));
    const yard = area('A', rectangle(30, 20, 40, 20), { use: 'paving' });
    const cut = ringed(withTree(bedPlan([yard, small])));
    for (const { path } of cut.runs)
      for (const [x, y] of path) {
        expect(Math.max(Math.abs(x - 50), Math.abs(y - 30))).toBeLessThan(3 - 0.1 + 0.001);
      }
  });

  test('names are not given twice', () => {
    const plan = withTree(bedPlan([]));
    const first = ringed(plan);
    const again = ringed({ ...plan, runs: Table.of(first.runs.map((run, i) => ({ ...run, id: `R${i}` }))) });
    const names = new Set([...first.runs, ...again.runs].map(({ name }) => name));
    expect(names.size).toBe(first.runs.length * 2);
  });
});

describe('what cannot be', () => {
  const plan = withTree(bedPlan([]));
  test.each([
    [problem(plan, {}, 'nowhere'), 'plant'],
    [problem(plan, { emitterSpacingM: NaN }), 'emitterSpacingM'],
    [problem(plan, { ringSpacingM: 0 }), 'ringSpacingM'],
    [problem(plan, { law: 'point-pc' }), 'law'],
    [problem(plan, { tubing: 'blank-half-600' }), 'tubing'],
    [problem(plan, { headerTubing: 'inline-17' }), 'headerTubing'],
    [problem(withTree(bedPlan([]), null), { canopy: 'now' }), 'canopy'],
    [problem(withTree(bedPlan([]), 1.5)), 'trunkClearM'],
    [problem(withTree(bedPlan([]), 0)), 'plant'],
    [problem(withTree(bedPlan([area('P', rectangle(0, 0, 100, 60), { use: 'building' })]))), 'plant'],
    [problem(withTree(bedPlan([]), 2000), { ringSpacingM: 0.2 }), 'ringSpacingM'],
  ])('%o', (found, where) => {
    expect(found?.where).toBe(where);
    expect(found?.todo).toMatch(/\w/);
  });
});
