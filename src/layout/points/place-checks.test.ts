import { describe, expect, test } from 'vitest';
import { distance } from '../../base/point.ts';
import { FOOT_M } from '../../base/units.ts';
import { findings } from '../../derive/checks/findings-for-tests.ts';
import type { Plan, Plant, PlantClass } from '../../plan/records.ts';
import { placeEmitters, pointsEdit, USUAL_POINTS, type PointChoices } from './index.ts';
import { plant, planWith, rectangle, tilted } from './plan-for-points-tests.ts';

/** What the aid places is what the checks ask for. */

const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];
/** One of each class in four sizes, far from each other. */
const EACH = CLASSES.flatMap((plantClass, row) =>
  [1, 2.5, 6, 20].map((feet, i) =>
    plant(`${plantClass}-${feet}`, [20 * i, 20 * row], { plantClass, canopyMatureM: feet * FOOT_M }),
  ),
);
const BED = rectangle('B', 'bed', -15, -15, 100, 100);

function laid(
  plants: readonly Plant[],
  levels: ReturnType<typeof tilted>,
  texture: string,
  ask: Partial<PointChoices>,
): Plan {
  const plan = planWith({ areas: [BED], plants, levels, texture, start: [-5, -5] });
  return pointsEdit(plan, plants, { ...USUAL_POINTS, ...ask }, 'Place').apply(plan);
}

describe('emitters as the checks want them', () => {
  test.each([0, 0.04, 0.052, 0.07, 0.099, 0.12, 0.4])('on a slope of %d', (rise) => {
    for (const [east, north] of [
      [-rise, 0],
      [0, rise],
      [-0.6 * rise, -0.8 * rise],
    ] as const) {
      // prettier-ignore
      for (const texture of ['sand', 'loam'])
        for (const place of ['now', 'mature'] as const) {
          const plan = laid(EACH, tilted(east, north), texture, { place });
          expect(findings(plan, 'emitters-downhill')).toEqual([]);
          // A canopy of one foot has no root zone beyond 12 in: there is no such tree.
          const near = findings(plan, 'emitter-near-stem').flatMap(({ refs }) => refs.map(({ id }) => id));
          expect(near.filter((id) => id.startsWith('tree') && id !== 'tree-1')).toEqual([]);
        }
    }
  });

  test('a ground cover with one emitter on 7 percent has it uphill', () => {
    const cover = plant('G', [0, 0], { plantClass: 'groundcover', canopyMatureM: 1.5 * FOOT_M });
    const [one, ...more] = laid([cover], tilted(-0.07, 0), 'loam', {}).emitters;
    expect(more).toEqual([]);
    expect(one!.at[0]).toBeLessThan(-0.15);
  });

  test('a tree of 6 ft on sand, flat: none within 12 in of the trunk, nor of a tree beside it', () => {
    const tree = plant('T', [0, 0], { plantClass: 'tree', canopyMatureM: 6 * FOOT_M });
    const beside = plant('S', [0.7, 0], { canopyMatureM: 4 * FOOT_M });
    const { emitters } = laid([tree, beside], [], 'sand', {});
    expect(emitters.size).toBeGreaterThan(6);
    for (const { at } of emitters) expect(distance(at, [0, 0])).toBeGreaterThanOrEqual(FOOT_M - 1e-9);
  });

  test('a new tree: on its root ball, 6 in off the trunk at least', () => {
    for (const [ballM, leastM] of [
      [0.5, 0.25],
      [0.2, FOOT_M / 2],
      [2, FOOT_M],
    ] as const) {
      // prettier-ignore
      const tree = plant('T', [0, 0], {
        plantClass: 'tree',
        canopyMatureM: 6 * FOOT_M,
        canopyNowM: 0.1,
        rootBallM: ballM,
      });
      const { emitters } = laid([tree], [], 'loam', { place: 'now', count: 2 });
      expect(emitters.size).toBe(2);
      for (const { at } of emitters) expect(distance(at, [0, 0])).toBeCloseTo(leastM, 6);
    }
  });

  test('on 5 to 10 percent half of several at least lie uphill or level, paving or not', () => {
    const shrub = plant('P', [0, 0], { canopyMatureM: 5 * FOOT_M });
    const slab = rectangle('W', 'paving', -0.9, 0.2, 0.7, 5);
    for (let count = 1; count <= 9; count++)
      for (const areas of [[BED], [BED, slab]]) {
        const plan = planWith({ areas, plants: [shrub], levels: tilted(0.03, 0.06), texture: 'loam' });
        const { emitters } = placeEmitters(plan, [shrub], { ...USUAL_POINTS, count });
        expect(emitters).toHaveLength(count);
        const up = emitters.filter(({ at: [x, y] }) => x * 0.03 + y * 0.06 >= -1e-9);
        expect(up.length).toBeGreaterThanOrEqual(Math.ceil(count / 2));
      }
  });

  test('where all of the uphill side is paved an emitter stands downhill rather than not at all', () => {
    const shrub = plant('P', [0, 0]);
    const areas = [BED, rectangle('W', 'paving', -5, -0.02, 10, 5)];
    const place = (north: number) =>
      placeEmitters(planWith({ areas, plants: [shrub], levels: tilted(0, north) }), [shrub], {
        ...USUAL_POINTS,
        count: 1,
      }).emitters;
    expect(place(0.07)).toHaveLength(1);
    expect(place(0.3)).toHaveLength(0);
  });
});
