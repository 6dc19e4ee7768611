import { describe, expect, test } from 'vitest';
import { distance, directionDeg, type Point } from '../../base/point.ts';
import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { placedEmitters } from '../../catalog/plant-emitters.ts';
import type { Plant } from '../../plan/records.ts';
import { placeEmitters, USUAL_POINTS, type PointChoices } from './index.ts';
import { plant, planWith, rectangle, tilted } from './plan-for-points-tests.ts';

const BED = rectangle('B1', 'bed', -5, -5, 10, 10);
const place = (one: Plant, more: Partial<PointChoices> = {}, parts: Parameters<typeof planWith>[0] = {}) => {
  const plan = planWith({ areas: [BED], plants: [one], ...parts });
  return placeEmitters(plan, [...plan.plants], { ...USUAL_POINTS, ...more });
};
const shrub = (more: Partial<Plant> = {}): Plant => plant('P1', [0, 0], more);
/** Angle of a place from the stem against a direction, -180 to 180 degrees. */
const off = (at: Point, fromDeg: number): number => ((directionDeg([0, 0], at) - fromDeg + 540) % 360) - 180;

describe('number and size', () => {
  test.each([
    // Two a shrub of 1 gph; in close planting the one of 1 gph is shared between two of 0.5 gph.
    ['shrub', 4, false, 'loam', 2, 1],
    ['shrub', 4, true, 'loam', 2, 0.5],
    ['shrub', 1.5, true, 'loam', 1, 1],
    ['groundcover', 2, true, 'loam', 1, 0.5],
    ['groundcover', 3, true, 'loam', 2, 0.5],
    ['perennial', 1, false, 'clay', 1, 0.5],
    ['tree', 10, false, 'loam', 6, 1],
    // The same flow from twice as many on sand and clay.
    ['shrub', 4, false, 'sand', 4, 0.5],
    ['shrub', 4, false, 'clay', 4, 0.5],
    ['tree', 21, false, 'silty clay', 24, 2],
    ['tree', 21, false, null, 12, 4],
  ] as const)(
    '%s of %d ft, close %s, on %s: %d of %d gph',
    (plantClass, feet, isClose, texture, count, gph) => {
      const found = placedEmitters(plantClass, feet * FOOT_M, isClose, texture);
      expect([found.count, found.flowLph]).toEqual([count, gph * GALLON_L]);
      expect(found.source).not.toBe('');
    },
  );

  test('number and size as chosen go before the usual ones, for their class only', () => {
    const { emitters } = place(shrub(), { count: 3, flowLph: { shrub: 7.5, tree: 99 } });
    expect(emitters.map(({ ratedFlowLph }) => ratedFlowLph)).toEqual([7.5, 7.5, 7.5]);
  });

  test('a bed whose canopies close over it gives half of the flow to each shrub', () => {
    const many = Array.from({ length: 100 }, (_, i) =>
      plant(`P${i}`, [-4.5 + (i % 10), -4.5 + Math.floor(i / 10)]),
    );
    const plan = planWith({ areas: [BED], plants: many });
    const one = placeEmitters(plan, [many[55]!], USUAL_POINTS).emitters;
    expect(one.map(({ ratedFlowLph }) => ratedFlowLph / GALLON_L)).toEqual([0.5, 0.5]);
    const open = placeEmitters(planWith({ areas: [BED], plants: [many[55]!] }), [many[55]!], USUAL_POINTS);
    expect(open.emitters.map(({ ratedFlowLph }) => ratedFlowLph / GALLON_L)).toEqual([1, 1]);
  });
});

describe('distance from the stem', () => {
  test.each([
    // 12 in where nothing is measured; else the edge of the present canopy, at least 6 in, at most the root zone.
    ['now', null, FOOT_M],
    ['now', 3 * FOOT_M, 1.5 * FOOT_M],
    ['now', 0.1, 0.5 * FOOT_M],
    ['now', 9, 2 * FOOT_M],
    ['mature', null, (2 * FOOT_M * 2) / 3],
  ] as const)('%s with a present canopy of %s m', (where, canopyNowM, expected) => {
    const { emitters } = place(shrub({ canopyNowM }), { place: where });
    expect(emitters).toHaveLength(2);
    for (const { at } of emitters) expect(distance(at, [0, 0])).toBeCloseTo(expected, 9);
  });
});

describe('side of the stem', () => {
  test('on the flat two stand on opposite sides', () => {
    const [a, b] = place(shrub()).emitters;
    expect(a!.at[0]).toBeCloseTo(-b!.at[0], 9);
    expect(a!.at[1]).toBeCloseTo(-b!.at[1], 9);
  });

  test.each([
    [0, 0.4, 90],
    [0.3, 0, 0],
    [-0.1, 0.1, 135],
  ])('rising %d east and %d north: two abreast, uphill', (east, north, uphillDeg) => {
    const { emitters } = place(shrub(), {}, { levels: tilted(east, north) });
    expect(emitters.map(({ at }) => Math.round(Math.abs(off(at, uphillDeg))))).toEqual([30, 30]);
    const many = place(shrub(), { count: 6, place: 'mature' }, { levels: tilted(east, north) }).emitters;
    expect(many).toHaveLength(6);
    for (const { at } of many) expect(Math.abs(off(at, uphillDeg))).toBeLessThanOrEqual(60 + 1e-9);
  });

  test('just under 10 percent counts as flat', () => {
    const { emitters } = place(shrub(), {}, { levels: tilted(0, 0.099) });
    expect(Math.min(...emitters.map(({ at }) => at[1]))).toBeLessThanOrEqual(1e-9);
  });
});

describe('places that are taken', () => {
  test('paving on one side: turned round the stem', () => {
    const slab = rectangle('S', 'paving', 0.2, -5, 2, 10);
    const { emitters, notes } = place(shrub(), {}, { areas: [BED, slab] });
    expect(emitters).toHaveLength(2);
    for (const { at } of emitters) expect(at[0]).toBeLessThan(0.2);
    expect(notes).toEqual([]);
  });

  test('paved uphill on a slope: level with the stem, never below it', () => {
    const slab = rectangle('S', 'paving', -5, 0.14, 10, 4);
    const { emitters } = place(shrub(), {}, { areas: [BED, slab], levels: tilted(0, 0.3) });
    expect(emitters).toHaveLength(2);
    for (const { at } of emitters) {
      expect(at[1]).toBeGreaterThanOrEqual(0);
      expect(at[1]).toBeLessThan(0.14);
    }
  });

  test('all about is built over: no emitter, and a note that names the plant', () => {
    const house = rectangle('H', 'building', -3, -3, 6, 6);
    const { emitters, notes } = place(shrub(), {}, { areas: [BED, house] });
    expect(emitters).toEqual([]);
    expect(notes).toMatchObject([{ rule: 'no-place', refs: [{ table: 'plants', id: 'P1' }] }]);
  });

  test('a stem beside it: six inches off that one too', () => {
    const other = plant('P2', [FOOT_M, 0]);
    const plan = planWith({ areas: [BED], plants: [shrub(), other] });
    const { emitters } = placeEmitters(plan, [...plan.plants], USUAL_POINTS);
    expect(emitters).toHaveLength(4);
    for (const { at } of emitters) {
      expect(Math.min(distance(at, [0, 0]), distance(at, other.at))).toBeGreaterThanOrEqual(0.1524 - 1e-9);
    }
  });

  test('beside a lawn the emitters stay in the bed', () => {
    const lawn = rectangle('L', 'lawn', 0.2, -5, 5, 10);
    const bed = rectangle('B1', 'bed', -5, -5, 5.2, 10);
    const { emitters } = place(shrub(), {}, { areas: [lawn, bed] });
    for (const { at } of emitters) expect(at[0]).toBeLessThanOrEqual(0.2);
  });

  test('plants without numbers are left out and told, the rest goes on', () => {
    const bad = [
      plant('P2', [Number.NaN, 1]),
      plant('P3', [2, 2], { canopyMatureM: Number.NaN }),
      plant('P4', [3, 3], { canopyMatureM: 0 }),
    ];
    const plan = planWith({ areas: [BED], plants: [shrub(), ...bad] });
    const { emitters, notes } = placeEmitters(plan, [...plan.plants], USUAL_POINTS);
    expect(emitters.filter(({ plantId }) => plantId === 'P1')).toHaveLength(2);
    expect(emitters.every(({ at }) => at.every(Number.isFinite))).toBe(true);
    expect(notes.find(({ rule }) => rule === 'bad-plant')!.refs.map(({ id }) => id)).toEqual(['P2', 'P3']);
  });
});
