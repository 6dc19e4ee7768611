import { describe, expect, test } from 'vitest';
import { regionArea } from '../../base/clip.ts';
import type { Area, AreaUse } from '../../plan/records.ts';
import { openGround } from './bed-scene.ts';
import { fillBed } from './fill-bed.ts';
import { area, bedPlan, CHOICES, rectangle } from './plan-for-fill-tests.ts';

const bed = area('B', rectangle(3, 2, 6, 3));
const all = (use: AreaUse): Area => area('L', rectangle(0, 0, 12, 8), { use });
/** Open ground of the bed among other areas, m2. */
const open = (others: readonly Area[], leaveOut: readonly string[] = [], of = bed): number =>
  regionArea(openGround(bedPlan([...others, of]), of, leaveOut));

describe('ground of a bed among other areas', () => {
  test.each([
    ['alone', [], 18],
    ['cut into a lawn', [all('lawn')], 18],
    ['an island in paving', [all('paving')], 18],
    ['half on a lawn', [area('L', rectangle(0, 0, 6, 8), { use: 'lawn' })], 18],
    ['half under paving', [area('P', rectangle(0, 0, 6, 8), { use: 'paving' })], 9],
    ['under a building', [all('building')], 0],
    ['with a walk across', [area('P', rectangle(5, 0, 1, 8), { use: 'paving' })], 15],
    ['island in paving, with a walk across', [all('paving'), area('W', rectangle(5, 0, 1, 8), { use: 'paving' })], 15], // prettier-ignore
    ['island in paving, with a shed', [all('paving'), area('S', rectangle(4, 3, 1, 1), { use: 'building' })], 17], // prettier-ignore
    ['with a lawn wholly in it', [area('L', rectangle(4, 3, 2, 1), { use: 'lawn' })], 16],
    ['drawn twice, as a lawn too', [area('L', rectangle(3, 2, 6, 3), { use: 'lawn' })], 18],
    ['under a bed beside it', [area('C', rectangle(6, 0, 6, 8))], 18],
    ['far from all', [area('P', rectangle(50, 50, 5, 5), { use: 'paving' })], 18],
  ] as const)('%s', (_, others, expected) => {
    expect(open(others)).toBeCloseTo(expected, 3);
  });

  test('what is left out stays out, whatever it is', () => {
    expect(open([area('L', rectangle(0, 0, 6, 8), { use: 'lawn' })], ['L'])).toBeCloseTo(9, 3);
    expect(open([area('C', rectangle(6, 0, 6, 8))], ['C'])).toBeCloseTo(9, 3);
    expect(open([], ['B', 'nowhere'])).toBeCloseTo(18, 3);
  });

  test('holes of the bed and bad outlines', () => {
    const holed = { ...bed, holes: [rectangle(4, 3, 1, 1)] };
    expect(open([all('lawn')], [], holed)).toBeCloseTo(17, 3);
    expect(open([all('paving')], [], holed)).toBeCloseTo(17, 3);
    expect(open([], [], { ...bed, outline: [] })).toBe(0);
    expect(open([area('X', [[NaN, 0], [1, 1], [2, 0]], { use: 'paving' })])).toBeCloseTo(18, 3); // prettier-ignore
  });

  test('rows in a bed that lies on a lawn or in paving are those of the bed alone', () => {
    const rows = (others: readonly Area[]) => {
      const result = fillBed(bedPlan([...others, bed]), 'B', CHOICES);
      if (!result.ok) throw new Error(result.problem.what);
      return result.value.figures;
    };
    const alone = rows([]);
    for (const use of ['lawn', 'paving'] as const) {
      const { lengthM, rows: count, emitters } = rows([all(use)]);
      expect([count, emitters]).toEqual([alone.rows, alone.emitters]);
      expect(lengthM).toBeCloseTo(alone.lengthM, 3);
    }
    const half = rows([area('L', rectangle(0, 0, 6, 8), { use: 'lawn' })]);
    expect(half.lengthM).toBeCloseTo(alone.lengthM, 3);
  });
});
