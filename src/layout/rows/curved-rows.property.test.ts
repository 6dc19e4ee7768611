import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { directionDeg, distance, type Point } from '../../base/point.ts';
import { distanceToRing, selfCrossings } from '../../base/polygon.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import {
  expectApart,
  expectInside,
  expectWatered,
  hilly,
  levelsOn,
  placesAlong,
  starOf,
} from './any-bed-for-tests.ts';
import type { Filled, FillChoices } from './choices.ts';
import { fillBed } from './fill-bed.ts';
import { angleBetween } from './frame.ts';
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

const bumpy = fc
  .record({
    rise: fc.tuple(from(-0.3, 0.3), from(-0.5, 0.5)),
    hills: fc.array(fc.tuple(from(10, 30), from(5, 25), from(-1.5, 1.5), from(3, 8)), {
      minLength: 1,
      maxLength: 3,
    }),
  })
  .map(({ rise, hills }) => hilly(rise, hills));

const bed = fc.record({
  outline: fc.oneof(star, blob),
  holes: fc.array(pebble, { maxLength: 2 }),
  paving: fc.array(pebble, { maxLength: 1 }),
  zAt: bumpy,
  edgeM: fc.constantFrom(0.1, 0.3),
  rowSpacingM: fc.constantFrom(0.3, 0.45, 0.6),
  headers: fc.constantFrom<FillChoices['headers']>('both ends', 'both ends', 'serpentine'),
  lowerThirdFactor: fc.constantFrom(1, 1.25),
});
type Given = typeof bed extends fc.Arbitrary<infer T> ? T : never;
const options = { seed: 31, numRuns: 25 } as const;

const planOf = ({ outline, holes, paving, zAt }: Given): Plan => ({
  ...bedPlan([
    area('B', outline, { holes }),
    ...paving.map((ring, i) => area(`P${i}`, ring, { use: 'paving' })),
  ]),
  levels: levelsOn(zAt),
});

function filledOf(plan: Plan, given: Given): Filled | null {
  const { edgeM, rowSpacingM, headers, lowerThirdFactor } = given;
  const filled = fillBed(plan, 'B', {
    ...CHOICES,
    pattern: 'curved',
    edgeM,
    rowSpacingM,
    headers,
    lowerThirdFactor,
    emitterSpacingM: 0.3,
  });
  if (!filled.ok) expect(filled.problem.what).toMatch(/no room|shorter than one/);
  return filled.ok ? filled.value : null;
}

describe('curved rows in any bed on any ground', () => {
  test('stay inside, keep their distance from every edge, do not cross, and carry water', () => {
    let rows = 0;
    fc.assert(
      fc.property(bed, (given) => {
        fc.pre(selfCrossings(given.outline).length === 0);
        const plan = planOf(given);
        const filled = filledOf(plan, given);
        if (!filled) return;
        const lines = filled.runs.filter(({ inline }) => inline);
        rows += lines.length;
        expectInside(filled.runs, given.outline, [...given.holes, ...given.paving], given.edgeM, 0.012);
        expectApart(lines.map(({ path }) => path));
        expectWatered(plan, filled);
      }),
      options,
    );
    expect(rows).toBeGreaterThan(400);
  });

  test('lie between 35 % nearer and 30 % farther apart than asked, but for a hair, and where the ground is level', () => {
    let [near, places] = [0, 0];
    let [wide, open] = [0, 0];
    fc.assert(
      fc.property(bed, blob, (from, outline) => {
        const given = { ...from, outline };
        const ask = { ...given, holes: [], paving: [], headers: 'both ends', lowerThirdFactor: 1 } as const;
        const plan = planOf({ ...ask, holes: [], paving: [] });
        const filled = filledOf(plan, { ...ask, holes: [], paving: [] });
        if (!filled) return;
        const ground = groundOf(plan);
        const lines = filled.runs.filter(({ inline }) => inline).map(({ path }) => path);
        const asked = filled.figures.rowSpacingM;
        const toLine = (at: Point, path: (typeof lines)[number]): number => {
          const { point, distance: inPlan } = nearestOnPath(path, at);
          return inPlan > 2 * asked ? inPlan : ground.surfaceLength([at, point]);
        };
        lines.forEach((path, i) => {
          for (const at of placesAlong(path, 1.5)) {
            places += 1;
            const least = Math.min(...lines.map((other, j) => (j === i ? Infinity : toLine(at, other))));
            if (least < 0.6 * asked) near += 1;
          }
        });
        // Between the rows, away from the edge where pieces may be too short to be drawn.
        for (let x = 11; x < 29; x += 0.9)
          for (let y = 6; y < 24; y += 0.9) {
            const at: Point = [x, y];
            if (ground.slopeAt(at).percent < 5 || !isDeep(given.outline, at, 1 + asked)) continue;
            open += 1;
            const least = Math.min(...lines.map((path) => toLine(at, path)));
            if (least > (1.35 * asked) / 2) wide += 1;
          }
      }),
      { ...options, numRuns: 8 },
    );
    expect(places).toBeGreaterThan(1000);
    expect(open).toBeGreaterThan(500);
    // Short stretches are not ended or begun where rows would fray.
    expect(near / places).toBeLessThan(0.015);
    expect(wide / open).toBeLessThan(0.005);
  });

  test('run within 15 degrees of the contour on steep ground, or it is said', () => {
    let [off, steep, said] = [0, 0, 0];
    fc.assert(
      fc.property(bed, (given) => {
        fc.pre(selfCrossings(given.outline).length === 0);
        const plan = planOf(given);
        const filled = filledOf(plan, { ...given, headers: 'both ends' });
        if (!filled) return;
        if (filled.notes.some(({ kind }) => kind === 'up-and-down')) {
          said += 1;
          return;
        }
        const ground = groundOf(plan);
        for (const { path, inline } of filled.runs) {
          if (!inline) continue;
          path.slice(1).forEach((b, i) => {
            const a = path[i]!;
            const { percent, fallDeg } = ground.slopeAt([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
            if (percent <= 8 || distance(a, b) < 0.1) return;
            steep += distance(a, b);
            if (angleBetween(directionDeg(a, b), fallDeg + 90) > 20) off += distance(a, b);
          });
        }
      }),
      options,
    );
    expect(steep).toBeGreaterThan(1000);
    expect(said).toBeLessThan(5);
    expect(off / steep).toBeLessThan(0.001);
  });
});

function isDeep(outline: readonly Point[], at: Point, depthM: number): boolean {
  let inside = false;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length]!;
    if (a[1] > at[1] !== b[1] > at[1] && at[0] < ((b[0] - a[0]) * (at[1] - a[1])) / (b[1] - a[1]) + a[0])
      inside = !inside;
  });
  return inside && distanceToRing(outline, at) > depthM;
}
