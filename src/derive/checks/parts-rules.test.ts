import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M, GALLON_L, PSI_KPA } from '../../base/units.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { longestRun } from '../limits/longest-run.ts';
import { blank, control, dripline, emitter, level, planOf, supply } from '../plan-for-tests.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';

const site = (runs: readonly Run[], more: Parameters<typeof control>[2] = {}): Plan =>
  planOf({
    supplies: [supply('V', [0, 0], { pressureKpa: 500 })],
    controls: [control('C', [0, 0], { setKpa: 25 * PSI_KPA, ...more })],
    runs,
  });
const row = (id: string, ...path: Point[]): Run => dripline(id, path, { law: 'inline-pc' });
const two = site([row('R', [0, 0], [9, 0]), row('S', [0, 0], [0, 9])]);

describe('9: filter, regulator and flush end in each zone', () => {
  test('no flush end at all is an error, and each closed end is told', () => {
    const told = findings(two, 'no-flush-end')[0]!;
    expect(told.severity).toBe('error');
    expect(told.refs.map(({ id }) => id)).toEqual(['C', 'R', 'S']);
    expect(told.places).toEqual([
      [9, 0],
      [0, 9],
    ]);
    expect(findings(two, 'dead-end')[0]!.severity).toBe('info');
  });
  test('one flush end makes a zone, not the ends that stay closed', () => {
    const plan = { ...two, flushEnds: Table.of([{ id: 'F', runId: 'S', end: 'end' as const }]) };
    expect(findings(plan, 'no-flush-end')).toEqual([]);
    expect(findings(plan, 'dead-end')[0]!.refs).toEqual([{ table: 'runs', id: 'R' }]);
    const after = fixed(plan, 'dead-end');
    expect([...after.flushEnds].map(({ runId, end }) => [runId, end])).toEqual([
      ['S', 'end'],
      ['R', 'end'],
    ]);
  });
  test('the fix opens the ends that are closed, whichever way a run was drawn', () => {
    const plan = site([row('R', [9, 0], [0, 0]), row('S', [0, 0], [0, 9])]);
    const after = fixed(plan, 'no-flush-end');
    expect([...after.flushEnds].map(({ runId, end }) => [runId, end])).toEqual([
      ['R', 'start'],
      ['S', 'end'],
    ]);
    for (const rule of ['no-flush-end', 'dead-end']) expect(findings(after, rule)).toEqual([]);
  });
  test('a zone in a ring has no closed end to open, and is told all the same', () => {
    const ring = site([row('R', [0, 0], [3, 0], [3, 3], [0, 3], [0, 0])]);
    const told = findings(ring, 'no-flush-end')[0]!;
    expect(told.fix).toBeUndefined();
    expect(findings(ring, 'dead-end')).toEqual([]);
  });
  test('each zone is held to it, and a run without control set is an error', () => {
    const plan = {
      ...two,
      supplies: two.supplies.with(supply('W', [30, 0])),
      controls: two.controls.with(control('D', [30, 0])),
      runs: two.runs.with(row('T', [30, 0], [39, 0])),
      flushEnds: Table.of([{ id: 'F', runId: 'S', end: 'end' as const }]),
    };
    expect(findings(plan, 'no-flush-end').map(({ refs }) => refs[0]!.id)).toEqual(['D']);
    expect(findings(two, 'no-control-set')).toEqual([]);
    expect(findings({ ...two, controls: Table.of() }, 'no-control-set')[0]!.severity).toBe('error');
  });
  test('a plan without tubing asks for no flush end', () => {
    expect(findings(site([]), 'no-flush-end')).toEqual([]);
  });
});

test('10: regulator before the filter', () => {
  expect(findings(two, 'filter-after-regulator')).toEqual([]);
  const plan = site([...two.runs], { regulatorFirst: true });
  expect(findings(plan, 'filter-after-regulator')[0]!.severity).toBe('warning');
  const after = fixed(plan, 'filter-after-regulator');
  expect(after.controls.get('C')!.regulatorFirst).toBe(false);
  expect(findings(after, 'filter-after-regulator')).toEqual([]);
});

describe('11 and 12: the filter', () => {
  const coarse = site([...two.runs], { filter: 'disc-120' });
  test('11: coarser than 150 mesh; the fix takes the coarsest that will do', () => {
    expect(findings(two, 'filter-mesh')).toEqual([]);
    expect(findings(coarse, 'filter-mesh')[0]!.message).toContain('120 mesh, coarser than the 150 mesh');
    expect(findings(limited(coarse, { 'filter-mesh.least': 120 }), 'filter-mesh')).toEqual([]);
    const after = fixed(coarse, 'filter-mesh');
    expect(after.controls.get('C')!.filter).toBe('screen-155');
    expect(findings(after, 'filter-mesh')).toEqual([]);
    const finer = limited(two, { 'filter-mesh.least': 200 });
    expect(fixed(finer, 'filter-mesh').controls.get('C')!.filter).toBe('screen-200');
  });
  test('11: nothing behind it, nothing to clog', () => {
    expect(findings({ ...coarse, runs: Table.of() }, 'filter-mesh')).toEqual([]);
  });
  /** 36 rows of 60 emitters of 0.9 gph: 9.7 L/min each 10 rows, 8.6 gpm in all through a filter rated for 8. */
  const many = (rows: number): Plan =>
    site(
      Array.from({ length: rows }, (_, k) =>
        dripline(
          `R${k}`,
          [
            [0, 0],
            [18 * Math.cos(k / 50), 18 * Math.sin(k / 50)],
          ],
          { law: 'inline-pc', ratedFlowLph: 0.9 * GALLON_L },
        ),
      ),
      { regulator: 'window-0.5-15' },
    );
  test('12: loss over 3 psi clean, with the limit of the plan', () => {
    expect(findings(many(8), 'filter-flow-high')).toEqual([]);
    const told = findings(many(12), 'filter-flow-high')[0]!;
    // 12 x 60 x 0.9 gph = 10.8 gpm: 3 psi x (10.8 / 8)^2 = 5.5 psi.
    expect(told.message).toContain('10.8 gpm');
    expect(told.message).toContain('loses 5.5 psi');
    expect(findings(limited(many(12), { 'filter-flow-high.loss': 6 * PSI_KPA }), 'filter-flow-high')).toEqual(
      [],
    );
    // A limit of 1 psi is reached at 8 / sqrt(3) = 4.6 gpm; 8 rows take 7.2.
    expect(
      findings(limited(many(8), { 'filter-flow-high.loss': PSI_KPA }), 'filter-flow-high')[0]!.message,
    ).toContain('more than the 4.62 gpm');
  });
  test('12: the fix takes a larger one that is fine enough; without one there is none', () => {
    expect(fixed(many(12), 'filter-flow-high').controls.get('C')!.filter).toBe('screen-150-15');
    const fine = limited(many(12), { 'filter-mesh.least': 250 });
    expect(findings(fine, 'filter-flow-high')[0]!.fix).toBeUndefined();
    const after = fixed(limited(many(12), { 'filter-mesh.least': 120 }), 'filter-flow-high');
    expect(after.controls.get('C')!.filter).toBe('disc-120');
    expect(findings(after, 'filter-flow-high')).toEqual([]);
  });
});

describe('13: longest run', () => {
  const plain = (lengthM: number, slope = 0): Plan => ({
    ...site([
      dripline(
        'R',
        [
          [0, 0],
          [lengthM, 0],
        ],
        { firstM: 0.3 },
      ),
    ]),
    levels: slope === 0 ? Table.of() : Table.of([level('a', 0, 0, 0), level('b', 100, 0, slope)]),
  });
  const limit = longestRun({
    tubing: 'inline-17',
    law: 'inline-plain',
    ratedFlowLph: 2.3,
    spacingM: 0.3,
    inletKpa: 25 * PSI_KPA,
    slopePercent: 0,
    limit: 'flow-variation-10',
  }).lengthM;
  test('speaks beyond what the longest-run aid gives, and not before', () => {
    expect(findings(plain(limit - 0.3), 'run-too-long')).toEqual([]);
    const told = findings(plain(limit + 1.5), 'run-too-long')[0]!;
    expect(told.severity).toBe('error');
    expect(told.message).toContain('from 25.0 psi');
    expect(told.refs).toEqual([{ table: 'runs', id: 'R' }]);
  });
  test('the share that may be used of it is a limit of the plan', () => {
    const limits = { 'run-too-long.share': 80 };
    expect(findings(limited(plain(0.7 * limit), limits), 'run-too-long')).toEqual([]);
    expect(findings(limited(plain(0.9 * limit), limits), 'run-too-long')[0]!.message).toContain('80 % of');
  });
  test('a run that is fed in the middle counts as two', () => {
    const path: Point[] = [
      [-0.8 * limit, 0],
      [0, 0],
      [0.8 * limit, 0],
    ];
    expect(findings(site([dripline('R', path, { firstM: 0.3 })]), 'run-too-long')).toEqual([]);
  });
  test('where the supply gives too little from the start, length is not the cause', () => {
    const dry = { ...plain(40), supplies: Table.of([supply('V', [0, 0], { pressureKpa: 30 })]) };
    expect(findings(dry, 'outlet-pressure-low')).toHaveLength(1);
    expect(findings(dry, 'run-too-long')).toEqual([]);
  });
  test('two runs end to end count as one; another kind of dripline, or a branch, parts them', () => {
    const half = 0.55 * limit;
    const ends = (more: Partial<NonNullable<Run['inline']>> = {}, ...others: Run[]): Plan =>
      site([
        dripline('R', [
          [0, 0],
          [half, 0],
        ]),
        dripline(
          'S',
          [
            [2 * half, 0],
            [half, 0],
          ],
          more,
        ),
        ...others,
      ]);
    const told = findings(ends(), 'run-too-long')[0]!;
    expect(told.refs.map(({ id }) => id)).toEqual(['R', 'S']);
    expect(told.message).toContain('R" with the run that goes on at its end leads water');
    expect(findings(ends({ ratedFlowLph: 1 }), 'run-too-long')).toEqual([]);
    expect(findings(ends({}, blank('T', [half, 0], [half, 1])), 'run-too-long')).toEqual([]);
    // Fed where they meet each stands for itself.
    const middle: Plan = {
      ...ends(),
      supplies: Table.of([supply('V', [half, 0])]),
      controls: Table.of([control('C', [half, 0])]),
    };
    expect(findings(middle, 'run-too-long')).toEqual([]);
  });
  test('runs that go round in a ring come to an end', () => {
    const ring = site([
      dripline('R', [
        [0, 0],
        [limit, 0],
        [limit, limit],
      ]),
      dripline('S', [
        [limit, limit],
        [0, limit],
        [0, 0],
      ]),
    ]);
    expect(findings(ring, 'run-too-long')).toHaveLength(1);
  });
  test('a rise makes it shorter', () => {
    expect(findings(plain(limit - 3), 'run-too-long')).toEqual([]);
    expect(findings(plain(limit - 3, 4), 'run-too-long')[0]!.message).toContain('rising 4 %');
  });
});

test('14: two runs of 1/2 in tubing end to end count as one', () => {
  const plan = (...more: Run[]): Plan =>
    site([blank('A', [0, 0], [45, 0]), blank('B', [90, 0], [45, 0]), ...more]);
  const told = findings(plan(), 'blank-run-long')[0]!;
  expect(told.refs.map(({ id }) => id)).toEqual(['A', 'B']);
  expect(told.message).toContain('counted end to end');
  expect(findings(fixed(plan(), 'blank-run-long'), 'blank-run-long')).toEqual([]);
  expect(findings(plan(blank('T', [45, 0], [45, 9])), 'blank-run-long')).toEqual([]);
  const fedBetween: Plan = {
    ...plan(),
    supplies: Table.of([supply('V', [45, 0])]),
    controls: Table.of([control('C', [45, 0])]),
  };
  expect(findings(fedBetween, 'blank-run-long')).toEqual([]);
});

describe('14: 1/2 in tubing', () => {
  const header = (lengthM: number, count: number, tubing = 'blank-half-600'): Plan => ({
    ...site([{ ...blank('H', [0, 0], [lengthM, 0]), tubing }], { regulator: 'window-0.5-15' }),
    emitters: Table.of(
      Array.from({ length: count }, (_, k) =>
        emitter(`E${k}`, 'H', [1 + k * 0.2, 0], { law: 'point-pc', ratedFlowLph: 4 * GALLON_L }),
      ),
    ),
  });
  test('over 200 ft, or over 200 gph', () => {
    expect(findings(header(199 * FOOT_M, 10), 'blank-run-long')).toEqual([]);
    expect(findings(header(202 * FOOT_M, 10), 'blank-run-long')[0]!.severity).toBe('warning');
    expect(findings(header(20, 50), 'blank-run-flow')).toEqual([]);
    expect(findings(header(20, 52), 'blank-run-flow')[0]!.message).toContain('208');
    expect(findings(header(202 * FOOT_M, 52, 'blank-three-quarter'), 'blank-run-long')).toEqual([]);
    const limits = { 'blank-run.length': 70, 'blank-run.flow': 900 };
    expect(findings(limited(header(202 * FOOT_M, 52), limits), 'blank-run-long')).toEqual([]);
    expect(findings(limited(header(20, 52), limits), 'blank-run-flow')).toEqual([]);
  });
  test('the fix takes 3/4 in', () => {
    for (const [plan, rule] of [
      [header(202 * FOOT_M, 10), 'blank-run-long'],
      [header(20, 52), 'blank-run-flow'],
    ] as const) {
      const after = fixed(plan, rule);
      expect(after.runs.get('H')!.tubing).toBe('blank-three-quarter');
      expect(findings(after, rule)).toEqual([]);
    }
  });
  test('15: velocity, with the limit of the plan', () => {
    const plan = header(20, 52);
    expect(findings(plan, 'velocity-high')).toEqual([]);
    // 208 gph through 15.24 mm are 1.2 m/s.
    expect(findings(limited(plan, { 'velocity-high.most': 1 }), 'velocity-high')[0]!.refs).toEqual([
      { table: 'runs', id: 'H' },
    ]);
    expect(findings(header(20, 80), 'velocity-high')[0]!.message).toContain('faster than 5.0 ft/s');
  });
});
