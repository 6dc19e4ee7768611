import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M, GALLON_L, GPM_LPH } from '../../base/units.ts';
import { lengthWithin } from '../../derive/checks/sleeve-under-paving.ts';
import { expectedDripFlow } from '../../derive/existing/expected-drip.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { blank, emitter } from '../../derive/plan-for-tests.ts';
import { studyOf } from '../../derive/study.ts';
import { move } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import { withFlushEnds } from './flush-ends.ts';
import { layPoints, pointsEdit, USUAL_POINTS, type PointChoices } from './index.ts';
import { backYard, entryBed, fillSlope, plant, planWith, rectangle } from './plan-for-points-tests.ts';

const lay = (plan: Plan, more: Partial<PointChoices> = {}) =>
  layPoints(plan, [...plan.plants], { ...USUAL_POINTS, ...more });
const placed = (plan: Plan, more: Partial<PointChoices> = {}): Plan =>
  pointsEdit(plan, [...plan.plants], { ...USUAL_POINTS, ...more }, 'Place').apply(plan);
const rules = (plan: Plan, more: Partial<PointChoices> = {}) => lay(plan, more).notes.map(({ rule }) => rule);
/** Plants a metre apart in a row. */
const row = (count: number, x = 0.5, y = 1) =>
  Array.from({ length: count }, (_, i) => plant(`P${x}-${y}-${i}`, [x + i, y]));

describe('flow of the invented sites, by the field handbook, section 6', () => {
  test.each([
    // 5x2x1 + 4x2x1 + 2x0.5 + 6x1 gph.
    ['entry bed', entryBed(), 25, 0.42],
    // 163x2x0.5 + 2x10x1 gph.
    ['back yard', backYard(), 183, 3.05],
    // 3,000x2x0.5 gph.
    ['fill slope', fillSlope(), 3000, 50],
  ] as const)('%s', (_, plan, gph, gpm) => {
    const { flowLph, longestFeederM, notes } = lay(plan);
    expect(flowLph / GALLON_L / gph).toBeCloseTo(1, 2);
    expect(Math.abs(flowLph / GPM_LPH / gpm - 1)).toBeLessThan(0.03);
    expect(longestFeederM).toBeLessThanOrEqual(6 * FOOT_M + 1e-9);
    expect(notes.map(({ rule }) => rule)).not.toContain('feeder-long');
    // The same that was told before anything was drawn.
    expect(flowLph / expectedDripFlow(plan, null)!.pointLph!).toBeCloseTo(1, 6);
  });

  test('163 of the 165 plants of the slope get two of 0.5 gph, the trees ten of 1 gph', () => {
    const { placed: all } = lay(backYard());
    expect(all.filter(({ ratedFlowLph }) => ratedFlowLph === 0.5 * GALLON_L)).toHaveLength(326);
    expect(all.filter(({ ratedFlowLph }) => ratedFlowLph === GALLON_L)).toHaveLength(20);
  });

  test('3,000 plants within two seconds', { timeout: 2000 }, () => {
    expect(lay(fillSlope()).emitterCount).toBe(6000);
  });

  test('rows lie along the contour', () => {
    const { route } = lay(backYard());
    const along = route.runs.flatMap((path) =>
      path.slice(1).map((b, i) => [b[0] - path[i]![0], b[1] - path[i]![1]] as const),
    );
    const long = along.filter(([x, y]) => Math.hypot(x, y) > 10);
    expect(long.length).toBeGreaterThanOrEqual(4);
    for (const [x, y] of long) expect(Math.abs(0.4 * y - 0.005 * x) / Math.hypot(x, y)).toBeLessThan(0.01);
  });
});

describe('tubing', () => {
  const bed = rectangle('B1', 'bed', 0, 0, 12, 2);

  test('one row of plants takes one run, not much longer than the row', () => {
    const plan = planWith({ areas: [bed], plants: row(12), start: [0, 1] });
    const { route, tubingM } = lay(plan);
    expect(route.runs).toHaveLength(1);
    expect(tubingM).toBeLessThan(13);
    expect(route.runs[0]![0]).toEqual([0, 1]);
  });

  test('round a house that stands in the way, inside of the bed', () => {
    const house = rectangle('H', 'building', 4, -1, 2, 2.2);
    const big = rectangle('B1', 'bed', 0, 0, 12, 4);
    const plants = [...row(3, 0.5, 0.5), ...row(4, 7.5, 0.5)];
    const plan = planWith({ areas: [big, house], plants, start: [0, 0.5] });
    const next = placed(plan);
    expect(next.runs.size).toBeGreaterThan(0);
    for (const run of next.runs) {
      expect(lengthWithin(run.path, house)).toBeLessThan(1e-6);
      expect(lengthWithin(run.path, big)).toBeGreaterThan(pathLength(run.path) - 0.6);
    }
    expect(buildPlanNetwork(next).parts.apartRuns).toEqual([]);
    expect(rules(plan)).toEqual([]);
  });

  test('beds on both sides of a walk: round its end where there is one, else under it with a sleeve', () => {
    const beds = [rectangle('B1', 'bed', 0, 0, 5, 3), rectangle('B2', 'bed', 6, 0, 5, 3)];
    const plants = [...row(4, 0.5, 1.5), ...row(4, 6.5, 1.5)];
    const short = planWith({
      areas: [...beds, rectangle('W', 'paving', 5, 1, 1, 2)],
      plants,
      start: [0, 1.5],
    });
    expect(rules(short)).toEqual([]);
    const walk = rectangle('W', 'paving', 5, -60, 1, 120);
    const long = planWith({ areas: [...beds, walk], plants, start: [0, 1.5] });
    expect(rules(long)).toEqual(['sleeve']);
    const paved = [...placed(long).runs].reduce((sum, { path }) => sum + lengthWithin(path, walk), 0);
    expect(paved).toBeGreaterThan(0.99);
    expect(paved).toBeLessThan(1.2);
    // No feeder crosses it.
    for (const { tap, at } of buildPlanNetwork(placed(long)).outlets)
      expect(lengthWithin([tap, at], walk)).toBe(0);
  });

  test('what is left out of a bed is gone round', () => {
    const hole: Point[] = [
      [4, 0.4],
      [6, 0.4],
      [6, 1.6],
      [4, 1.6],
    ];
    const plan = planWith({
      areas: [{ ...bed, holes: [hole] }],
      plants: [...row(3), ...row(5, 7)],
      start: [0, 1],
    });
    for (const { path } of placed(plan).runs)
      expect(lengthWithin(path, { outline: hole, holes: [] })).toBeLessThan(1e-6);
  });

  test('where the end of a run lies on another there is a vertex of both', () => {
    const runs = [...placed(backYard()).runs];
    let joints = 0;
    for (const { id, path } of runs) {
      for (const end of [path[0]!, path.at(-1)!]) {
        for (const other of runs) {
          if (other.id === id || nearestOnPath(other.path, end).distance > 0.01) continue;
          joints += 1;
          expect(other.path.some((q) => distance(q, end) < 1e-9)).toBe(true);
        }
      }
    }
    expect(joints).toBeGreaterThan(0);
  });

  test('a branch in the middle of a run puts a vertex there', () => {
    const wide = rectangle('B1', 'bed', 0, 0, 12, 12);
    const plants = [...row(12, 0.5, 1), ...Array.from({ length: 9 }, (_, i) => plant(`Q${i}`, [6, 2.5 + i]))];
    const next = placed(planWith({ areas: [wide], plants, start: [0, 1] }));
    const runs = [...next.runs];
    expect(runs.length).toBeGreaterThan(1);
    for (const { id, path } of runs.slice(1)) {
      const others = runs.filter((other) => other.id !== id);
      expect(others.some((other) => other.path.some((q) => path.some((p) => distance(p, q) < 1e-9)))).toBe(
        true,
      );
    }
  });

  test('no areas drawn, no start: still laid out, and told what is missing', () => {
    const plan = planWith({ plants: row(5) });
    expect(rules(plan)).toEqual(['no-start']);
    expect(placed(plan).emitters.size).toBe(10);
  });

  test('one plant with one emitter on the control set itself still hangs on a run', () => {
    const plan = planWith({ plants: [plant('P1', [0, 0], { plantClass: 'perennial', canopyMatureM: 0.5 })] });
    const next = placed(plan);
    expect(next.runs.size).toBe(1);
    expect(next.emitters.size).toBe(1);
    expect(pathLength([...next.runs][0]!.path)).toBeGreaterThan(0.05);
  });

  test('each end of new tubing can be opened, and one that new tubing leads on from no more', () => {
    const plan = planWith({ areas: [bed], plants: row(6), start: [0, 1] });
    const next = placed(plan);
    expect(next.runs.size).toBeGreaterThan(0);
    const { notices } = studyOf(next);
    expect(notices.filter(({ rule }) => rule === 'no-flush-end' || rule === 'dead-end')).toEqual([]);
    for (const { runId, end } of next.flushEnds) {
      const at = next.runs.get(runId)!.path.at(end === 'end' ? -1 : 0)!;
      const joined = [...next.runs].filter(
        ({ id, path }) => id !== runId && nearestOnPath(path, at).distance < 0.01,
      );
      expect(joined).toEqual([]);
    }
    const [first] = next.flushEnds;
    const at = next.runs.get(first!.runId)!.path.at(-1)!;
    const on = blank('N', at, [at[0], at[1] + 2]);
    const led = withFlushEnds({ ...next, runs: next.runs.with(on) }, [on]);
    expect([...led.flushEnds].map(({ runId }) => runId).filter((id) => id === first!.runId)).toEqual([]);
    expect([...led.flushEnds].some(({ runId }) => runId === 'N')).toBe(true);
    expect(withFlushEnds(led, [])).toBe(led);
  });

  test('more than one tubing carries is told: 264 gph in a bore of 0.600 in at 5 ft/s, by calculation', () => {
    const plan = planWith({ areas: [bed], plants: row(12), start: [0, 1] });
    const flow = (gph: number) =>
      rules(plan, {
        count: 2,
        flowLph: { shrub: (gph / 24) * GALLON_L },
        tubing: 'blank-half-600',
      });
    expect(flow(263)).toEqual([]);
    expect(flow(266)).toEqual(['flow-high']);
  });

  test('choices that are no numbers do no harm', () => {
    const plan = planWith({ areas: [bed], plants: row(3), start: [0, 1] });
    const { emitterCount, longestFeederM } = lay(plan, { count: Number.NaN, feederLimitM: Number.NaN });
    expect(emitterCount).toBe(3);
    expect(longestFeederM).toBeLessThanOrEqual(0.3 + 1e-9);
  });

  test('nothing chosen, nothing changed', () => {
    const plan = planWith({ areas: [bed], plants: row(3), start: [0, 1] });
    const edit = pointsEdit(plan, [], USUAL_POINTS, 'Place');
    expect(edit.apply(plan)).toBe(plan);
  });

  test('a tighter limit is kept, with more tubing', () => {
    const plan = backYard();
    const [wide, tight] = [lay(plan, { feederLimitM: 3 }), lay(plan, { feederLimitM: 0.4 })];
    expect(tight.longestFeederM).toBeLessThanOrEqual(0.4 + 1e-9);
    expect(tight.tubingM).toBeGreaterThan(wide.tubingM);
  });
});

describe('with tubing that is there', () => {
  const bed = rectangle('B1', 'bed', 0, 0, 12, 2);
  const withRun = (from: Point): Plan => ({
    ...planWith({ areas: [bed], plants: row(12), start: [0, 1] }),
    runs: Table.of([blank('R7', from, [12, 1.2])]),
  });

  test('emitters hang on it and no tubing is added where it is fed', () => {
    const next = placed(withRun([0, 1]));
    expect([...next.runs].map(({ id }) => id)).toEqual(['R7']);
    expect([...next.emitters].every(({ runId }) => runId === 'R7')).toBe(true);
  });

  test('tubing that no control set feeds is left alone', () => {
    const next = placed(withRun([0.5, 1.2]));
    expect(next.runs.size).toBeGreaterThan(1);
    expect([...next.emitters].some(({ runId }) => runId === 'R7')).toBe(false);
  });

  test('without drawing the nearest takes them; without any they are not placed, and that is told', () => {
    const plan = withRun([0, 1]);
    const far = { ...plan, runs: Table.of([blank('R7', [0, 1], [0, -1])]) };
    expect(rules(far, { drawTubing: false })).toEqual(['feeder-long']);
    expect(placed(far, { drawTubing: false }).emitters.size).toBe(24);
    const none = { ...plan, runs: Table.of<never>() };
    expect(rules(none, { drawTubing: false })).toEqual(['no-tubing']);
    expect(placed(none, { drawTubing: false })).toBe(none);
  });
});

describe('edit', () => {
  const bed = rectangle('B1', 'bed', 0, 0, 6, 2);
  const plan: Plan = {
    ...planWith({ areas: [bed], plants: row(5), start: [0, 1] }),
    runs: Table.of([blank('R1', [0, -3], [6, -3])]),
  };
  const first = [...plan.plants][0]!;
  const old: Plan = {
    ...plan,
    emitters: Table.of([emitter('E1', 'R1', [0, -3], { plantId: first.id }), emitter('E2', 'R1', [3, -3])]),
  };

  test('replaces what these plants had, and only that', () => {
    const next = placed(old);
    expect(next.emitters.has('E1')).toBe(false);
    expect(next.emitters.has('E2')).toBe(true);
    expect(placed(old, { replace: false }).emitters.has('E1')).toBe(true);
    expect(lay(old).replaced).toBe(1);
    for (const { plantId } of [...next.emitters].slice(1)) expect(plan.plants.has(plantId!)).toBe(true);
  });

  test('names and ids are new, every emitter hangs on the nearest new run', () => {
    const next = placed(plan);
    expect(new Set([...next.runs].map(({ name }) => name)).size).toBe(next.runs.size);
    for (const one of next.emitters) {
      const own = nearestOnPath(next.runs.get(one.runId)!.path, one.at).distance;
      for (const run of next.runs)
        expect(nearestOnPath(run.path, one.at).distance).toBeGreaterThanOrEqual(own - 1e-9);
    }
  });

  test('applied to another plan it is laid out anew', () => {
    const edit = pointsEdit(plan, [...plan.plants], USUAL_POINTS, 'Place');
    const fewer = { ...plan, plants: plan.plants.without([first.id]) };
    const next = edit.apply(fewer);
    expect([...next.emitters].some(({ plantId }) => plantId === first.id)).toBe(false);
    expect(next.emitters.size).toBe(8);
  });

  test('emitters follow their plant', () => {
    const next = placed(plan);
    const moved = move('Move', [{ table: 'plants', id: first.id }], 0.3, -0.2).apply(next);
    for (const one of next.emitters) {
      const after = moved.emitters.get(one.id)!.at;
      const [dx, dy] = one.plantId === first.id ? [0.3, -0.2] : [0, 0];
      expect(after[0] - one.at[0]).toBeCloseTo(dx, 9);
      expect(after[1] - one.at[1]).toBeCloseTo(dy, 9);
    }
  });
});
