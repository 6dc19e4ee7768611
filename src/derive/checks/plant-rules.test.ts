import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan, Plant, PointEmitter } from '../../plan/records.ts';
import { rootShares } from '../wetting/index.ts';
import { blank, control, dripline, emitter, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';

const plant = (id: string, at: Point, more: Partial<Plant> = {}): Plant => ({
  id,
  at,
  name: id,
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
  ...more,
});
const at = (id: string, x: number, y: number, more: Partial<PointEmitter> = {}): PointEmitter =>
  emitter(id, 'H', [x, y], { law: 'point-pc', ...more });
const site = (emitters: readonly PointEmitter[], plants: readonly Plant[] = []): Plan => ({
  ...planOf({
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [blank('H', [0, 0], [20, 0])],
    emitters,
  }),
  plants: Table.of(plants),
});

describe('16: length of feeders', () => {
  const feeder = (feet: number): Plan => site([at('E', 5, feet * FOOT_M)]);
  test('over 6 ft a warning, over 10 ft an error, with limits of the plan', () => {
    expect(findings(feeder(6), 'feeder-long')).toEqual([]);
    expect(findings(feeder(6.2), 'feeder-long')[0]!.severity).toBe('warning');
    expect(findings(feeder(10.2), 'feeder-long')[0]!.severity).toBe('error');
    expect(findings(limited(feeder(8), { 'feeder-long.warning': 9 * FOOT_M }), 'feeder-long')).toEqual([]);
    const strict = limited(feeder(5), { 'feeder-long.error': 4 * FOOT_M });
    expect(findings(strict, 'feeder-long')[0]!.severity).toBe('error');
  });
  test('feeders that hang one on another count together', () => {
    const plan = site([at('E', 5, 4 * FOOT_M), at('F', 5, 8 * FOOT_M, { fromEmitterId: 'E' })]);
    const told = findings(plan, 'feeder-long')[0]!;
    expect(told.refs).toEqual([{ table: 'emitters', id: 'F' }]);
    expect(told.message).toContain(`8' 0"`);
  });
});

describe('17: emitters on one feeder', () => {
  const chain = (count: number): Plan =>
    site(
      Array.from({ length: count }, (_, k) =>
        at(`E${k}`, 5, 0.3 + 0.3 * k, k === 0 ? {} : { fromEmitterId: `E${k - 1}` }),
      ),
    );
  test('two a warning, three an error, one is well', () => {
    expect(findings(chain(1), 'feeder-shared')).toEqual([]);
    expect(findings(chain(2), 'feeder-shared')[0]!).toMatchObject({
      severity: 'warning',
      refs: [
        { table: 'emitters', id: 'E0' },
        { table: 'emitters', id: 'E1' },
      ],
    });
    expect(findings(chain(3), 'feeder-shared')[0]!.severity).toBe('error');
    expect(findings(limited(chain(2), { 'feeder-shared.warning': 2 }), 'feeder-shared')).toEqual([]);
    const limits = { 'feeder-shared.error': 3 };
    expect(findings(limited(chain(3), limits), 'feeder-shared')[0]!.severity).toBe('warning');
  });
  test('branches of one feeder count together; emitters at one place on the run do not', () => {
    const fan = site([
      at('A', 5, 0.5),
      at('B', 4.8, 0.8, { fromEmitterId: 'A' }),
      at('D', 5.2, 0.8, { fromEmitterId: 'A' }),
    ]);
    expect(findings(fan, 'feeder-shared')[0]!.message).toContain('3 emitters (A, B, D)');
    expect(findings(site([at('A', 5, 0.5), at('B', 5, -0.5)]), 'feeder-shared')).toEqual([]);
  });
});

describe('18: one emitter only', () => {
  const one = (canopyMatureM: number, ...more: PointEmitter[]): Plan =>
    site([at('E', 5, 0, { plantId: 'P' }), ...more], [plant('P', [5, 0.3], { canopyMatureM })]);
  test('speaks over a canopy of 2 ft', () => {
    expect(findings(one(2 * FOOT_M), 'plant-one-emitter')).toEqual([]);
    const told = findings(one(0.9), 'plant-one-emitter')[0]!;
    expect(told.refs).toEqual([{ table: 'plants', id: 'P' }]);
    expect(told.message).toContain('1 plant with a mature canopy over');
    expect(findings(limited(one(0.9), { 'plant-one-emitter.canopy': 1 }), 'plant-one-emitter')).toEqual([]);
  });
  test('a second one, one shared with a neighbour, and dripline count', () => {
    expect(findings(one(0.9, at('F', 5, 0.6, { plantId: 'P' })), 'plant-one-emitter')).toEqual([]);
    const far = at('F', 9, 0, { plantId: 'Q', alsoPlantIds: ['P'] });
    expect(findings(one(0.9, far), 'plant-one-emitter')).toEqual([]);
    const line = one(0.9);
    const runs = line.runs.with(
      dripline('R', [
        [0, 0.5],
        [9, 0.5],
      ]),
      blank('J', [0, 0], [0, 0.5]),
    );
    expect(findings({ ...line, runs }, 'plant-one-emitter')).toEqual([]);
  });
  test('the fix adds one on the other side of the stem', () => {
    const after = fixed(one(0.9), 'plant-one-emitter');
    const added = [...after.emitters].find(({ id }) => id !== 'E')!;
    expect(added.at[0]).toBeCloseTo(5, 9);
    expect(added.at[1]).toBeCloseTo(0.6, 9);
    expect(added).toMatchObject({ runId: 'H', plantId: 'P', law: 'point-pc', ratedFlowLph: 4 });
    expect(findings(after, 'plant-one-emitter')).toEqual([]);
    const three = limited(one(0.9), { 'plant-one-emitter.least': 4 });
    const four = fixed(three, 'plant-one-emitter');
    expect(four.emitters.size).toBe(4);
    expect(findings(four, 'plant-one-emitter')).toEqual([]);
  });
});

test('19: a plant without emitter is an error, one that shares an emitter is not without', () => {
  const plan = (more: Partial<PointEmitter>): Plan =>
    site([at('E', 5, 0, { plantId: 'P', ...more })], [plant('P', [5, 0.3]), plant('Q', [5.7, 0.3])]);
  expect(findings(plan({}), 'plant-without-emitter')[0]!).toMatchObject({
    severity: 'error',
    refs: [{ table: 'plants', id: 'Q' }],
  });
  expect(findings(plan({ alsoPlantIds: ['Q'] }), 'plant-without-emitter')).toEqual([]);
  // To name a plant is not to water it: 5 m off nothing comes to its roots.
  const far = site([at('E', 5, 0, { plantId: 'Q' })], [plant('Q', [10, 0])]);
  expect(findings(far, 'plant-without-emitter')[0]!.refs).toEqual([{ table: 'plants', id: 'Q' }]);
  expect(findings(site([], [plant('P', [5, 0.3])]), 'plant-without-emitter')).toEqual([]);
});

describe('20: wetted share', () => {
  /** A plant of a canopy in metres with `count` emitters about it. */
  const round = (count: number, canopyMatureM: number, more: Partial<Plant> = {}): Plan =>
    site(
      Array.from({ length: count }, (_, k) => {
        const angle = (2 * Math.PI * k) / count;
        const r = canopyMatureM / 4;
        return at(`E${k}`, 5 + r * Math.cos(angle), r * Math.sin(angle), { plantId: 'P' });
      }),
      [plant('P', [5, 0], { canopyMatureM, ...more })],
    );
  const percentOf = (plan: Plan): number =>
    100 * rootShares(plan, studyOf(plan).results.outlets).get('P')!.mature;
  test('of a shrub under 50 % is told, of one well wetted not', () => {
    const dry = round(2, 3);
    expect(percentOf(dry)).toBeLessThan(48);
    const told = findings(dry, 'wetted-share')[0]!;
    expect(told).toMatchObject({ severity: 'warning', refs: [{ table: 'plants', id: 'P' }] });
    expect(told.message).toContain(`${Math.round(percentOf(dry))} % at maturity`);
    const wet = round(4, 1);
    expect(percentOf(wet)).toBeGreaterThan(60);
    expect(findings(wet, 'wetted-share')).toEqual([]);
    const part = round(3, 2);
    const strict = { 'wetted-share.shrub': percentOf(part) + 5 };
    expect(findings(limited(part, strict), 'wetted-share')).toHaveLength(1);
    expect(findings(limited(dry, { 'wetted-share.shrub': 1 }), 'wetted-share')).toEqual([]);
  });
  test('of a tree: under 50 % a warning, under 75 % worth a word', () => {
    const tree = (count: number, canopy: number) => round(count, canopy, { plantClass: 'tree' });
    expect(findings(tree(2, 4), 'wetted-share')[0]!.severity).toBe('warning');
    const plan = tree(8, 2);
    const percent = percentOf(plan);
    const severities = (limits: Record<string, number>) =>
      findings(limited(plan, limits), 'wetted-share').map(({ severity }) => severity);
    expect(severities({ 'wetted-share.tree': percent - 5, 'wetted-share.tree-aim': percent + 5 })).toEqual([
      'info',
    ]);
    expect(severities({ 'wetted-share.tree': percent - 9, 'wetted-share.tree-aim': percent - 5 })).toEqual(
      [],
    );
  });
  test('ground cover, and plants that no outlet reaches, are left to other rules', () => {
    expect(findings(round(1, 3, { plantClass: 'groundcover' }), 'wetted-share')).toEqual([]);
    const plan = round(2, 1);
    const apart = { ...plan, plants: plan.plants.with(plant('Q', [5, 9], { canopyMatureM: 3 })) };
    expect(findings(apart, 'wetted-share').flatMap(({ refs }) => refs.map(({ id }) => id))).not.toContain(
      'Q',
    );
  });
});
