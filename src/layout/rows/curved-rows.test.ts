import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import { expectApart, expectWatered, levelsOn, type GroundAt } from './any-bed-for-tests.ts';
import type { Filled, FillChoices } from './choices.ts';
import { shareAsked } from './curved-rows.ts';
import { fillDefaults } from './defaults.ts';
import { fillBed } from './fill-bed.ts';
import { emittersOn } from './figures.ts';
import { area, bedPlan, CHOICES, FT, IN, rectangle } from './plan-for-fill-tests.ts';

const bed = area('B', rectangle(10, 8, 20, 14));
const ASK: FillChoices = { ...CHOICES, pattern: 'curved', direction: 'contour' };

const on = (zAt: GroundAt, steps = 60): Plan => ({ ...bedPlan([bed]), levels: levelsOn(zAt, steps) });
function filled(plan: Plan, ask: Partial<FillChoices> = {}): Filled {
  const result = fillBed(plan, 'B', { ...ASK, ...ask });
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}
const rowsOf = ({ runs }: Filled) => runs.filter(({ inline }) => inline);
const kinds = ({ notes }: Filled) => notes.map(({ kind }) => kind);

/** A bank that turns a corner: a cone of 40 % about a place below the bed. */
const APEX: Point = [20, -5];
const cone: GroundAt = (p) => 20 - 0.4 * distance(p, APEX);

describe('on plane ground', () => {
  test.each([
    { name: 'site 3', size: [60, 26], rise: [-0.005, 0.4], edgeIn: 12 },
    { name: 'site 6', size: [420, 59], rise: [0, 0.5], edgeIn: 4 },
  ] as const)('$name: the straight rows', ({ size, rise, edgeIn }) => {
    const plan = bedPlan([area('B', rectangle(0, 0, size[0] * FT, size[1] * FT))], ...rise);
    const ask = { ...ASK, edgeM: edgeIn * IN, lowerThirdFactor: 1.25 };
    const straight = fillBed(plan, 'B', { ...ask, pattern: 'straight' });
    const curved = fillBed(plan, 'B', ask);
    if (!straight.ok || !curved.ok) throw new Error();
    expect(curved.value.figures).toEqual(straight.value.figures);
    expect(curved.value.runs).toEqual(straight.value.runs);
    expect(kinds(curved.value)).toEqual(['plane', ...kinds(straight.value)]);
  });

  test('without levels: straight along the long edge, and it is said', () => {
    const result = filled(bedPlan([bed]));
    expect(kinds(result)).toContain('level');
    expect(result.figures.directionDeg).toBe(0);
  });
});

describe('on a cone', () => {
  const plan = on(cone);
  const result = filled(plan);

  test('rows are arcs about its apex, at equal distances on the ground', () => {
    const radii = rowsOf(result)
      .map(({ path }) => {
        const all = path.map((p) => distance(p, APEX));
        // Faces of the ground are plane: half a metre of chord on 15 m of radius.
        expect(Math.max(...all) - Math.min(...all)).toBeLessThan(0.04);
        return all.reduce((sum, r) => sum + r, 0) / all.length;
      })
      .toSorted((a, b) => a - b);
    const lines = radii.filter((r, i) => i === 0 || r - radii[i - 1]! > 0.1);
    expect(lines).toHaveLength(result.figures.rows);
    for (const [i, r] of lines.slice(1).entries())
      expect((r - lines[i]!) * Math.hypot(1, 0.4)).toBeCloseTo(result.figures.rowSpacingM, 1);
    expect(result.figures.rowSpacingM).toBeGreaterThanOrEqual(18 * IN - 1e-9);
    expect(kinds(result)).not.toContain('tees');
    expect(kinds(result)).not.toContain('up-and-down');
    expectApart(rowsOf(result).map(({ path }) => path));
    expectWatered(plan, result);
  });

  test('straight rows there run off the contour, and curved ones are the usual', () => {
    expect(fillDefaults(plan, 'B').choices.pattern).toBe('curved');
    expect(
      fillDefaults(
        on(([, y]) => 0.3 * y),
        'B',
      ).choices.pattern,
    ).toBe('straight');
  });

  test('the lowest third is wider', () => {
    const { figures } = filled(plan, { lowerThirdFactor: 1.25 });
    expect(figures.lowerSpacingM! / figures.rowSpacingM).toBeCloseTo(1.25, 9);
    expect(figures.rows).toBeLessThan(result.figures.rows);
  });

  test('emitters stand between those of the next row where the guide across them passes', () => {
    const ground = groundOf(plan);
    const placesNear = rowsOf(result).flatMap(({ path, inline }) => {
      const length = ground.surfaceLength(path);
      // Distance of the middle of an arc that is symmetric about x = 20 from its nearest emitter, in spacings.
      if (Math.abs(path[0]![0] + path.at(-1)![0] - 40) > 0.1 || emittersOn(length, { inline }) < 20)
        return [];
      return [((length / 2 - inline!.firstM) / inline!.spacingM) % 1];
    });
    expect(placesNear.length).toBeGreaterThan(5);
    for (const [i, share] of placesNear.slice(1).entries()) {
      const step = Math.abs(share - placesNear[i]!);
      expect(Math.min(Math.abs(step - 0.5), 0.5)).toBeLessThan(0.2);
    }
  });

  test('back and forth, and rows only', () => {
    const line = filled(plan, { headers: 'serpentine' });
    expect(line.runs.every(({ inline }) => inline !== null)).toBe(true);
    expectWatered(plan, line);
    expect(filled(plan, { headers: 'none' }).flushEnds).toEqual([]);
  });
});

describe('where contours spread and pinch', () => {
  // Three times as steep at one end as at the other.
  const fan: GroundAt = ([x, y]) => (y - 15) * (0.15 + 0.03 * (x - 10));
  const plan = on(fan);
  const result = filled(plan);

  test('further rows begin, with tees to the rows beside them', () => {
    expect(kinds(result)).toEqual(expect.arrayContaining(['tees', 'uneven']));
    const tees = result.runs.filter(({ name }) => name.startsWith('Tee'));
    expect(tees.length).toBeGreaterThan(3);
    for (const { path } of tees) expect(distance(path[0]!, path[1]!)).toBeLessThan(1.2);
    expectApart(rowsOf(result).map(({ path }) => path));
    expectWatered(plan, result);
  });

  test('spacings are halved and doubled into 65 % to 130 % of what is asked', () => {
    expect([1, 0.78, 0.76, 0.4, 0.2, 1.5, 1.6, 3.2].map((density) => shareAsked(density))).toEqual(
      [1, 1 / 0.78, 0.5 / 0.76, 0.5 / 0.4, 0.25 / 0.2, 1 / 1.5, 2 / 1.6, 4 / 3.2].map((share) =>
        expect.closeTo(share, 9),
      ),
    );
  });
});

test('on a hill rows close in themselves and are joined: one start', () => {
  const plan = on((p) => 6 - 0.02 * distance(p, [20, 15]) ** 2);
  const result = filled(plan);
  const closed = rowsOf(result).filter(({ path }) => distance(path[0]!, path.at(-1)!) < 1e-9);
  expect(closed.length).toBeGreaterThan(5);
  expect(result.starts).toHaveLength(1);
  expectWatered(plan, result);
});

describe('what cannot be', () => {
  test('a tiny bed, too many rows, an outline that crosses itself', () => {
    const told = (plan: Plan, ask: Partial<FillChoices> = {}) => {
      const answer = fillBed(plan, 'B', { ...ASK, ...ask });
      return answer.ok ? '' : answer.problem.what;
    };
    const levels = levelsOn(cone);
    expect(told({ ...bedPlan([area('B', rectangle(15, 10, 0.4, 0.3))]), levels })).toMatch(/no room/);
    const bow: Point[] = [
      [12, 10],
      [22, 18],
      [22, 10],
      [12, 18],
    ];
    expect(told({ ...bedPlan([area('B', bow)]), levels })).toBe('');
    expect(
      told({ ...bedPlan([area('B', rectangle(0, 0, 4000, 3000))]), levels }, { rowSpacingM: 0.1 }),
    ).toMatch(/at most|no room/);
  });
});
