import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { GALLON_L } from '../../base/units.ts';
import { rootZone } from '../../derive/root-zone.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Plant } from '../../plan/records.ts';
import { emittersOfPlants, layPoints, placeEmitters, pointsEdit, USUAL_POINTS } from './index.ts';
import { plant, planWith, rectangle, tilted } from './plan-for-points-tests.ts';

const BED = rectangle('B1', 'bed', -5, -5, 12, 12);
const cover = (id: string, at: Point, more: Partial<Plant> = {}): Plant =>
  plant(id, at, { plantClass: 'groundcover', canopyMatureM: 1.2, ...more });
const ONE = { ...USUAL_POINTS, count: 1 };
const SHARE = { ...ONE, share: true };
const shared = (plants: readonly Plant[], parts: Parameters<typeof planWith>[0] = {}) => {
  const plan = planWith({ areas: [BED], plants, ...parts });
  return placeEmitters(plan, [...plan.plants], SHARE);
};
const groups = (plants: readonly Plant[], parts: Parameters<typeof planWith>[0] = {}) =>
  shared(plants, parts).emitters.map((one) => plantsOf(one).join(' '));

describe('plants that share an emitter', () => {
  test('only when asked for', () => {
    const plan = planWith({ areas: [BED], plants: [cover('P1', [0, 0]), cover('P2', [0.8, 0])] });
    expect(placeEmitters(plan, [...plan.plants], ONE).emitters).toHaveLength(2);
  });

  test('two that stand close have one between them, in both root zones, and that is told', () => {
    const pair = [cover('P1', [0, 0]), cover('P2', [0.8, 0])];
    const { emitters, notes } = shared(pair);
    expect(emitters.map(plantsOf)).toEqual([['P1', 'P2']]);
    for (const one of pair) {
      const { innerM, outerM } = rootZone(one);
      const far = distance(one.at, emitters[0]!.at);
      expect(far).toBeGreaterThanOrEqual(innerM);
      expect(far).toBeLessThanOrEqual(outerM);
    }
    expect(notes.map(({ rule, refs }) => [rule, refs.length])).toEqual([['shared', 2]]);
  });

  test('three at the most', () => {
    const close = [0, 1, 2, 3].map((i) => cover(`P${i}`, [0.5 * (i % 2), 0.5 * Math.floor(i / 2)]));
    const sizes = groups(close).map((names) => names.split(' ').length);
    expect(sizes).toEqual([3, 1]);
  });

  test.each([
    [
      'shrubs',
      [cover('P1', [0, 0], { plantClass: 'shrub' }), cover('P2', [0.8, 0], { plantClass: 'shrub' })],
    ],
    [
      'plants of another water use',
      [cover('P1', [0, 0], { waterUse: 'low' }), cover('P2', [0.8, 0], { waterUse: 'high' })],
    ],
    ['plants out of reach', [cover('P1', [0, 0]), cover('P2', [1.3, 0])]],
  ] as const)('%s share nothing', (_, plants) => {
    expect(groups(plants).every((names) => !names.includes(' '))).toBe(true);
  });

  test('nothing is shared across a wall', () => {
    const wall = rectangle('W', 'building', 0.35, -3, 0.1, 6);
    expect(groups([cover('P1', [0, 0]), cover('P2', [0.8, 0])], { areas: [BED, wall] })).toEqual([
      'P1',
      'P2',
    ]);
  });

  test('on a slope the common place is below no stem', () => {
    const up = [cover('P1', [0, 0]), cover('P2', [0.3, 0.3])];
    const { emitters } = shared(up, { levels: tilted(0, 0.3) });
    expect(emitters).toHaveLength(1);
    expect(emitters[0]!.at[1]).toBeGreaterThanOrEqual(0.3 - 1e-9);
  });

  test('each plant still has its number', () => {
    const plan = planWith({ areas: [BED], plants: [cover('P1', [0, 0]), cover('P2', [0.8, 0])] });
    const { emitters } = placeEmitters(plan, [...plan.plants], { ...SHARE, count: 2 });
    expect(emitters.map(plantsOf)).toEqual([
      ['P1', 'P2'],
      ['P1', 'P2'],
    ]);
    expect(distance(emitters[0]!.at, emitters[1]!.at)).toBeGreaterThan(0.09);
  });

  test('replaced: what one plant alone had goes, what it shares with another stays with that', () => {
    const plants = [cover('P1', [0, 0]), cover('P2', [0.8, 0])];
    const plan = planWith({ areas: [BED], plants, start: [-4, 0] });
    const both = pointsEdit(plan, plants, SHARE, 'Place').apply(plan);
    expect([...both.emitters].map(plantsOf)).toEqual([['P1', 'P2']]);
    const one = pointsEdit(both, [plants[0]!], ONE, 'Place').apply(both);
    expect([...one.emitters].map(plantsOf)).toEqual([['P2'], ['P1']]);
    expect(emittersOfPlants(one, [plants[1]!]).map(({ id }) => id)).toEqual(['E1']);
  });
});

describe('emitters on the tubing, and slack', () => {
  const plants = [plant('P1', [0, 0]), plant('P2', [1.5, 0.4])];
  const plan = planWith({ areas: [BED], plants, start: [-4, 0] });

  test('those with a feeder sit on the run, those on the tubing need no word', () => {
    const next = pointsEdit(plan, plants, { ...USUAL_POINTS, emitterAt: 'run' }, 'Place').apply(plan);
    const layout = layPoints(plan, plants, { ...USUAL_POINTS, emitterAt: 'run' });
    const flags = [...next.emitters].map(({ onRun }) => onRun === true);
    expect(flags).toEqual(layout.route.hung.map((on) => on!.feederM > 0));
    expect(flags).toContain(true);
    expect(
      [...pointsEdit(plan, plants, USUAL_POINTS, 'Place').apply(plan).emitters].some((one) => 'onRun' in one),
    ).toBe(false);
  });

  test('feeders are cut 10 % longer, or as the plan says', () => {
    const usual = layPoints(plan, plants, USUAL_POINTS);
    expect(usual.feederCutM / usual.feederM).toBeCloseTo(1.1, 9);
    const own = { ...plan, practice: { ...plan.practice, feederSlackPercent: 4 } };
    expect(layPoints(own, plants, USUAL_POINTS).feederCutM / usual.feederM).toBeCloseTo(1.04, 9);
  });

  test('the flow of those that share is that of the emitters', () => {
    const covers = planWith({ areas: [BED], plants: [cover('P1', [0, 0]), cover('P2', [0.8, 0])] });
    expect(layPoints(covers, [...covers.plants], SHARE).flowLph).toBeCloseTo(0.5 * GALLON_L, 9);
    expect(Table.of(covers.plants.toArray()).size).toBe(2);
  });
});
