import { describe, expect, test } from 'vitest';
import { outletLawById } from '../../catalog/index.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { pointDefaults } from './defaults.ts';

const plant = (x: number): Plant => ({
  id: `P${x}`,
  name: '',
  at: [x, 5],
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
});
/** Ground that rises by a share to the east. */
const site = (rise: number): Plan => ({
  ...emptyPlan('test'),
  levels: Table.of(
    [0, 20].flatMap((x) => [0, 10].map((y) => ({ id: `Z${x}${y}`, at: [x, y] as const, zM: rise * x }))),
  ),
});

describe('usual emitters at plants', () => {
  test('with a check from 5 % on, with the source', () => {
    const { choices, lawSource } = pointDefaults(site(0.05), [plant(5)]);
    expect(outletLawById(choices.law)).toMatchObject({ use: 'point', compensating: true });
    expect(outletLawById(choices.law)!.closingKpa).toBeGreaterThan(0);
    expect(lawSource).toContain('built-in checks');
  });
  test('without one on flatter ground, without levels, without plants, and at places that are no number', () => {
    const nowhere = { ...plant(5), at: [NaN, 5] as const };
    for (const [plan, plants] of [
      [site(0.04), [plant(5)]],
      [emptyPlan('test'), [plant(5)]],
      [site(0.2), []],
      [site(0.2), [nowhere]],
    ] as const) {
      const { choices, lawSource } = pointDefaults(plan, plants);
      expect(outletLawById(choices.law)!.closingKpa).toBeNull();
      expect(lawSource).toBeNull();
    }
  });
});
