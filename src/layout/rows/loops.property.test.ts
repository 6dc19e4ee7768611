import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { distanceToRing, polygonContains, selfCrossings } from '../../base/polygon.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import type { Plan } from '../../plan/records.ts';
import { expectApart, expectInside, expectWatered, starOf } from './any-bed-for-tests.ts';
import type { Filled } from './choices.ts';
import { fillBed } from './fill-bed.ts';
import { area, bedPlan, CHOICES } from './plan-for-fill-tests.ts';

/** Even over a range; doubles by chance are mostly next to nothing. */
const from = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1000 }).map((k) => min + ((max - min) * k) / 1000);

/** Outlines like stars, with deep notches. */
const star = fc
  .tuple(
    fc.array(fc.double({ min: 1.2, max: 9, noNaN: true }), { minLength: 3, maxLength: 14 }),
    fc.double({ min: 0, max: 360, noNaN: true }),
  )
  .map(([radii, turnDeg]) => starOf([20, 15], radii, turnDeg));

/** Wide outlines with bays. */
const blob = fc
  .tuple(fc.array(from(5, 9), { minLength: 5, maxLength: 14 }), from(0, 360))
  .map(([radii, turnDeg]) => starOf([20, 15], radii, turnDeg));

const pebble = fc
  .tuple(
    fc.double({ min: 12, max: 28, noNaN: true }),
    fc.double({ min: 7, max: 23, noNaN: true }),
    fc.array(fc.double({ min: 0.2, max: 1.6, noNaN: true }), { minLength: 3, maxLength: 7 }),
  )
  .map(([x, y, radii]) => starOf([x, y], radii, 11));

const bed = fc.record({
  outline: fc.oneof(star, blob),
  holes: fc.array(pebble, { maxLength: 2 }),
  paving: fc.array(pebble, { maxLength: 1 }),
  rise: fc.constantFrom<Point>([0, 0], [0.1, 0.3]),
  edgeM: fc.constantFrom(0.05, 0.1, 0.3),
  rowSpacingM: fc.constantFrom(0.45, 0.6, 1),
  equalise: fc.boolean(),
});
type Given = typeof bed extends fc.Arbitrary<infer T> ? T : never;

const planOf = ({ outline, holes, paving, rise }: Given): Plan =>
  bedPlan(
    [area('B', outline, { holes }), ...paving.map((ring, i) => area(`P${i}`, ring, { use: 'paving' }))],
    ...rise,
  );

function filledOf(plan: Plan, { edgeM, rowSpacingM, equalise }: Given): Filled | null {
  const filled = fillBed(plan, 'B', {
    ...CHOICES,
    pattern: 'loops',
    edgeM,
    rowSpacingM,
    equalise,
    emitterSpacingM: 0.3,
  });
  if (!filled.ok) expect(filled.problem.what).toMatch(/no room|shorter than one/);
  return filled.ok ? filled.value : null;
}

describe('loops in any bed', () => {
  test('stay inside, keep their distance, do not meet, close in themselves, and carry water', () => {
    let loops = 0;
    fc.assert(
      fc.property(bed, (given) => {
        fc.pre(selfCrossings(given.outline).length === 0);
        const plan = planOf(given);
        const filled = filledOf(plan, given);
        if (!filled) return;
        const rings = filled.runs.filter(({ name }) => name.startsWith('Loop ') && !name.includes('header'));
        loops += rings.length;
        for (const { path } of rings) expect(path[0]).toEqual(path.at(-1));
        expectInside(filled.runs, given.outline, [...given.holes, ...given.paving], given.edgeM, 0.012);
        expectApart(rings.map(({ path }) => path));
        expectWatered(plan, filled);
      }),
      { seed: 41, numRuns: 25, endOnFailure: true },
    );
    expect(loops).toBeGreaterThan(120);
  });

  test('no ground lies farther from a line than loops lie apart', () => {
    let [places, far] = [0, 0];
    fc.assert(
      fc.property(bed, blob, (from, outline) => {
        const given = { ...from, outline, holes: [], paving: [], rise: [0, 0] as Point };
        const filled = filledOf(planOf(given), given);
        if (!filled) return;
        const { rowSpacingM } = filled.figures;
        const lines = filled.runs.filter(({ inline }) => inline);
        for (let x = 11; x < 29; x += 0.9)
          for (let y = 6; y < 24; y += 0.9) {
            const at: Point = [x, y];
            if (!polygonContains(outline, [], at)) continue;
            if (distanceToRing(outline, at) < given.edgeM) continue;
            places += 1;
            const least = Math.min(...lines.map(({ path }) => distance(nearestOnPath(path, at).point, at)));
            if (least > rowSpacingM * 1.01) far += 1;
          }
      }),
      { seed: 42, numRuns: 12, endOnFailure: true },
    );
    expect(places).toBeGreaterThan(1500);
    expect(far / places).toBeLessThan(0.005);
  });
});
