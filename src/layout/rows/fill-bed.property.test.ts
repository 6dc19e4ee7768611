import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { between, polar, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing, polygonContains, selfCrossings } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import type { Plan } from '../../plan/records.ts';
import type { Filled, FillChoices, RowDirection } from './choices.ts';
import { fillBed } from './fill-bed.ts';
import { fillEdit } from './fill-edit.ts';
import { frameAlong } from './frame.ts';
import { area, bedPlan, CHOICES } from './plan-for-fill-tests.ts';

/** Outlines like stars, with deep notches; holes like pebbles. */
const starOf = (at: Point, radii: readonly number[], turnDeg: number): Ring =>
  radii.map((radius, i) => polar(at, radius, turnDeg + (360 * i) / radii.length));

const star = fc
  .tuple(
    fc.array(fc.double({ min: 1.2, max: 9, noNaN: true }), { minLength: 3, maxLength: 14 }),
    fc.double({ min: 0, max: 360, noNaN: true }),
  )
  .map(([radii, turnDeg]) => starOf([20, 15], radii, turnDeg));
const pebble = fc
  .tuple(
    fc.double({ min: 12, max: 28, noNaN: true }),
    fc.double({ min: 7, max: 23, noNaN: true }),
    fc.array(fc.double({ min: 0.2, max: 1.6, noNaN: true }), { minLength: 3, maxLength: 7 }),
  )
  .map(([x, y, radii]) => starOf([x, y], radii, 11));

const fill = fc.record({
  outline: star,
  holes: fc.array(pebble, { maxLength: 3 }),
  paving: fc.array(pebble, { maxLength: 2 }),
  rise: fc.constantFrom<Point>([0, 0], [0.1, 0.3], [-0.4, 0.02]),
  edgeM: fc.constantFrom(0, 0.1, 0.3),
  rowSpacingM: fc.constantFrom(0.3, 0.45, 0.6),
  emitterSpacingM: fc.constantFrom(0.3, 0.45),
  direction: fc.constantFrom<RowDirection>('contour', 'long edge', 37),
});

const options = { seed: 20, numRuns: 120 } as const;

function filledOf(plan: Plan, ask: Partial<FillChoices>): Filled | null {
  const filled = fillBed(plan, 'B', { ...CHOICES, ...ask });
  if (!filled.ok) expect(filled.problem.what).toMatch(/no room|shorter than one/);
  return filled.ok ? filled.value : null;
}

const planOf = ({
  outline,
  holes,
  paving,
  rise,
}: {
  outline: Ring;
  holes: Ring[];
  paving: Ring[];
  rise: Point;
}) =>
  bedPlan(
    [area('B', outline, { holes }), ...paving.map((ring, i) => area(`P${i}`, ring, { use: 'paving' }))],
    ...rise,
  );

describe('any bed', () => {
  test('rows and headers stay inside and keep their distance from every edge', () => {
    let rows = 0;
    fc.assert(
      fc.property(fill, (given) => {
        fc.pre(selfCrossings(given.outline).length === 0);
        const filled = filledOf(planOf(given), given);
        const out = [...given.holes, ...given.paving];
        for (const { path, inline } of filled?.runs ?? []) {
          if (inline) rows += 1;
          if (given.edgeM === 0) continue;
          // Headers leave out corners that turn by less than a joint.
          const slack = inline ? 0.001 : 0.011;
          for (const [i, b] of path.slice(1).entries()) {
            for (let k = 0; k <= 10; k++) {
              const at = between(path[i]!, b, k / 10);
              const away = Math.min(...[given.outline, ...out].map((ring) => distanceToRing(ring, at)));
              expect(polygonContains(given.outline, [], at)).toBe(true);
              for (const ring of out) expect(polygonContains(ring, [], at)).toBe(false);
              expect(away).toBeGreaterThan(given.edgeM - slack);
            }
          }
        }
      }),
      options,
    );
    expect(rows).toBeGreaterThan(2000);
  });

  test('rows are parallel and equally far apart, but where pieces are missing', () => {
    let gaps = 0;
    fc.assert(
      fc.property(fill, (given) => {
        const filled = filledOf(planOf({ ...given, rise: [0, 0] }), given);
        if (!filled) return;
        const { rowSpacingM, directionDeg } = filled.figures;
        const frame = frameAlong(directionDeg, [0, 0]);
        const levels = filled.runs
          .filter(({ inline }) => inline)
          .map(({ path }) => path.map((p) => frame.toFrame(p)[1]));
        for (const [a, b] of levels) expect(b).toBeCloseTo(a!, 6);
        const across = [...new Set(levels.map(([a]) => Math.round(a! * 1e5) / 1e5))].toSorted(
          (a, b) => a - b,
        );
        for (const [i, v] of across.slice(1).entries()) {
          gaps += 1;
          const steps = (v - across[i]!) / rowSpacingM;
          expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-3);
        }
        if (across.length > 1) expect(rowSpacingM).toBeGreaterThan(given.rowSpacingM - 0.001);
      }),
      options,
    );
    expect(gaps).toBeGreaterThan(1000);
  });

  test('with a control set where the water enters, every row and header carries water', () => {
    let headers = 0;
    fc.assert(
      fc.property(fill, (given) => {
        const before = planOf(given);
        const filled = filledOf(before, given);
        if (!filled) return;
        const after = fillEdit(before, 'B', filled, { replace: false }).apply(before);
        headers += after.runs.toArray().filter(({ inline }) => !inline).length;
        const built = buildPlanNetwork({
          ...after,
          supplies: Table.of(filled.starts.map((at, i) => supply(`V${i}`, at))),
          controls: Table.of(filled.starts.map((at, i) => control(`C${i}`, at))),
        });
        expect(built.notices.filter(({ rule }) => /^run-(loose|apart|without-length)/.test(rule))).toEqual(
          [],
        );
        expect(built.outlets.length).toBe(filled.figures.emitters);
      }),
      options,
    );
    expect(headers).toBeGreaterThan(240);
  });

  test('rows back and forth likewise', () => {
    fc.assert(
      fc.property(fill, (given) => {
        const before = planOf(given);
        const filled = filledOf(before, { ...given, headers: 'serpentine' });
        if (!filled) return;
        const after = fillEdit(before, 'B', filled, { replace: false }).apply(before);
        const built = buildPlanNetwork({
          ...after,
          supplies: Table.of(filled.starts.map((at, i) => supply(`V${i}`, at))),
          controls: Table.of(filled.starts.map((at, i) => control(`C${i}`, at))),
        });
        expect(built.notices.filter(({ rule }) => /^run-(loose|apart|without-length)/.test(rule))).toEqual(
          [],
        );
        expect(built.outlets.length).toBe(filled.figures.emitters);
      }),
      options,
    );
  });
});
