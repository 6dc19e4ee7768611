import fc from 'fast-check';
import { describe, test } from 'vitest';
import { regionArea, regionOf } from '../../base/clip.ts';
import { boxOf, type Point, type Ring } from '../../base/point.ts';
import { ringContains } from '../../base/polygon.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import { hilly, levelsOn, starOf, type GroundAt } from '../rows/any-bed-for-tests.ts';
import { area, bedPlan, rectangle } from '../rows/plan-for-fill-tests.ts';
import { bandsOf } from './index.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const outline = fc
  .tuple(fc.array(number(2, 9), { minLength: 4, maxLength: 11 }), number(0, 360))
  .map(([radii, turn]): Ring => starOf([18, 15], radii, turn));
const plane = fc.tuple(number(-0.8, 0.8), number(-0.8, 0.8)).map(
  ([east, north]): GroundAt =>
    ([x, y]) =>
      east * x + north * y,
);
const hills = fc
  .tuple(
    fc.tuple(number(-0.5, 0.5), number(-0.5, 0.5)),
    fc.array(fc.tuple(number(8, 30), number(5, 25), number(-4, 4), number(2, 8)), { maxLength: 3 }),
  )
  .map(([rise, list]): GroundAt => hilly(rise, list));

function must(holds: boolean, what: string): void {
  if (!holds) throw new Error(what);
}

/** Bands share the bed out without rest, and lie between their heights. */
function expectBands(plan: Plan, riseM: number | null): void {
  const bed = plan.areas.get('B')!;
  const found = bandsOf(plan, 'B', { riseM });
  if (!found.ok) {
    must(/level|It would take|no area/.test(found.problem.what), found.problem.what);
    return;
  }
  const { bands, riseM: whole } = found.value;
  const region = regionOf(bed.outline, bed.holes);
  const whole2 = regionArea(region);
  const shared = bands.reduce((sum, { areaM2 }) => sum + areaM2, 0);
  must(Math.abs(shared - whole2) < 1e-3 + 1e-5 * whole2, `bands have ${shared} of ${whole2} m2`);
  const inParts = bands.reduce((sum, { parts }) => parts.reduce((s, { areaM2 }) => s + areaM2, sum), 0);
  must(Math.abs(inParts - shared) < 1e-6 * shared, 'parts are not the band');
  const most = riseM ?? Infinity;
  const ground = groundOf(plan);
  for (const { parts, fromM, toM, lowest, highest, number: at } of bands) {
    must(toM - fromM <= Math.max(most, whole / bands.length) + 1e-6, `band ${at} rises by ${toM - fromM}`);
    const own = parts.filter(({ areaM2 }) => areaM2 > 0.5);
    for (const { outline: ring, holes } of own) {
      // Small cuttings of the bands beside may belong to it: its own ground lies within, looked at in a grid.
      let outM2 = 0;
      const box = boxOf(ring)!;
      const step = Math.max(box.maxX - box.minX, box.maxY - box.minY) / 40;
      for (let x = box.minX + step / 2; x < box.maxX; x += step)
        for (let y = box.minY + step / 2; y < box.maxY; y += step) {
          const p: Point = [x, y];
          if (!ringContains(ring, p) || holes.some((hole) => ringContains(hole, p))) continue;
          const { zM } = ground.heightAt(p);
          must(zM >= lowest.zM - 1e-6 && zM <= highest.zM + 1e-6, `${zM} beyond band ${at}`);
          if (zM < fromM - 1e-3 || zM > toM + 1e-3) outM2 += step * step;
        }
      must(outM2 < 0.5, `${outM2} m2 of band ${at} lie beyond its heights`);
    }
  }
}

describe('bands of any bed on any ground', () => {
  test('planes', () => {
    fc.assert(
      fc.property(outline, plane, fc.option(number(0.4, 4)), (ring, zAt, riseM) => {
        const plan = { ...bedPlan([area('B', ring)]), levels: levelsOn(zAt, 2) };
        expectBands(plan, riseM);
      }),
      { seed: 1207, numRuns: 60 },
    );
  });
  test('curved ground, with a hole', () => {
    fc.assert(
      fc.property(
        outline,
        hills,
        fc.option(number(0.4, 4)),
        fc.tuple(number(10, 24), number(8, 20)),
        (ring, zAt, riseM, [x, y]) => {
          const holes = [rectangle(x, y, 1.5, 2)];
          const plan = { ...bedPlan([area('B', ring, { holes })]), levels: levelsOn(zAt, 8) };
          expectBands(plan, riseM);
        },
      ),
      { seed: 88, numRuns: 60 },
    );
  });
});
