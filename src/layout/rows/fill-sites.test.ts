import { describe, expect, test } from 'vitest';
import { GPM_LPH } from '../../base/units.ts';
import { ON_SLOPES } from '../../catalog/index.ts';
import { fillBed } from './fill-bed.ts';
import { area, bedPlan, CHOICES, FT, IN, rectangle } from './plan-for-fill-tests.ts';

/**
 * Two invented sites with figures that were worked out apart from this program (field practice notes, part 6, beside
 * the project): rows, feet, emitters and flow must come out within 3 %.
 */
const SITES = [
  {
    name: 'site 3: 60 x 26 ft at 40 %, slightly falling along',
    bed: [60, 26],
    rise: [-0.005, 0.4],
    edgeIn: 12,
    expected: { rows: 17, lengthFt: 986, emitters: 657, gpm: 6.57 },
  },
  {
    name: 'site 6: 420 x 59 ft at 2:1',
    bed: [420, 59],
    rise: [0, 0.5],
    edgeIn: 4,
    expected: { rows: 41, lengthFt: 17_220, emitters: 11_480, gpm: 114.8 },
  },
] as const;

const choices = {
  ...CHOICES,
  direction: 'contour',
  lowerThirdFactor: ON_SLOPES.lowerThirdFactor,
} as const;

describe.each(SITES)('$name', ({ bed, rise, edgeIn, expected }) => {
  const plan = bedPlan([area('B', rectangle(0, 0, bed[0] * FT, bed[1] * FT))], ...rise);
  const filled = fillBed(plan, 'B', { ...choices, edgeM: edgeIn * IN });
  if (!filled.ok) throw new Error(filled.problem.what);
  const { figures, runs } = filled.value;

  test('rows, length, emitters and flow', () => {
    expect(figures.rows).toBe(expected.rows);
    const within = (value: number, target: number) => expect(Math.abs(value / target - 1)).toBeLessThan(0.03);
    within(figures.lengthM / FT, expected.lengthFt);
    within(figures.emitters, expected.emitters);
    within(figures.flowLph / GPM_LPH, expected.gpm);
  });

  test('spacing is that on the ground, wider in the lowest third', () => {
    const v = runs.filter(({ inline }) => inline).map(({ path }) => path[0]![1]);
    const onGround = v.slice(1).map((y, i) => (y - v[i]!) * Math.hypot(1, rise[1]));
    expect(figures.lowerSpacingM! / figures.rowSpacingM).toBeCloseTo(1.25, 9);
    expect(onGround[0]).toBeCloseTo(figures.lowerSpacingM!, 4);
    expect(onGround.at(-1)).toBeCloseTo(figures.rowSpacingM, 4);
    expect(figures.rowSpacingM).toBeGreaterThanOrEqual(18 * IN - 1e-9);
    expect(figures.rowSpacingM).toBeLessThan(18 * IN * 1.07);
  });
});
