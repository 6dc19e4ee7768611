import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { FOOT_M, GALLON_L } from '../../base/units.ts';
import { usualEmitters } from '../../catalog/plant-emitters.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../plan/empty.ts';
import type { Area, Head, Plan, Plant, PlantKind } from '../../plan/records.ts';
import { blank, control, dripline, emitter, level, supply } from '../plan-for-tests.ts';
import { expectedDripFlow } from './expected-drip.ts';

const gph = (flow: number) => flow * GALLON_L;

function bed(widthM: number, heightM: number, use: Area['use'] = 'bed', x = 0): Area {
  return {
    id: `${use}${x}`,
    use,
    name: '',
    outline: [
      [x, 0],
      [x + widthM, 0],
      [x + widthM, heightM],
      [x, heightM],
    ],
    holes: [],
  };
}

function plant(id: string, x: number, y: number, more: Partial<Plant> = {}): Plant {
  return {
    id,
    at: [x, y],
    name: 'A',
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1,
    rootBallM: null,
    waterUse: null,
    ...more,
  };
}

function head(id: string, x: number, y: number, more: Partial<Head> = {}): Head {
  return { ...UNMEASURED_HEAD, id, at: [x, y], ...more };
}

function planWith(parts: Partial<Plan>): Plan {
  return { ...emptyPlan(), heads: Table.of([head('H', 0, 0)]), ...parts };
}

describe('usual emitters of a plant', () => {
  test.each([
    ['shrub', 4, false, 2, 1],
    ['shrub', 4, true, 1, 1],
    ['perennial', 1, false, 1, 0.5],
    ['groundcover', 3, true, 1, 0.5],
    ['tree', 5, false, 4, 1],
    ['tree', 7, false, 6, 1],
    ['tree', 10, false, 6, 1],
    ['tree', 15, true, 10, 1],
    ['tree', 20, false, 10, 1],
    ['tree', 21, false, 12, 4],
  ] as const)('%s of %d ft, close %s: %d of %d gph', (plantClass, feet, isClose, count, flow) => {
    const usual = usualEmitters(plantClass, feet * FOOT_M, isClose);
    expect([usual.count, usual.flowLph]).toEqual([count, gph(flow)]);
    expect(usual.source).not.toBe('');
  });
});

describe('before anything is drawn', () => {
  test('point emitters and dripline, the smaller and the larger', () => {
    const plan = planWith({
      areas: Table.of([bed(10, 3)]),
      plants: Table.of([
        plant('1', 1, 1),
        plant('2', 3, 1),
        plant('3', 5, 1, { plantClass: 'tree', canopyMatureM: 3 }),
        plant('4', 7, 1, { plantClass: 'perennial' }),
      ]),
    });
    const expected = expectedDripFlow(plan, null)!;
    // Canopies of 9.4 m2 in 30 m2 are not close.
    expect(expected.pointLph).toBeCloseTo(gph(2 * 2 + 6 + 0.5), 9);
    expect(expected.driplineLph).toBeCloseTo((30 / (1.5 * FOOT_M) ** 2) * gph(0.6), 6);
    expect(expected).toMatchObject({
      lowLph: expected.pointLph,
      highLph: expected.driplineLph,
      drawnLph: null,
    });
    expect(expected.how).toContain('from point emitters');
  });

  test('close planting gets one emitter a shrub', () => {
    const plants = Table.of(
      Array.from({ length: 40 }, (_, i) => plant(`${i}`, i / 4, 1, { canopyMatureM: 1.2 })),
    );
    const plan = planWith({ areas: Table.of([bed(10, 3)]), plants });
    expect(expectedDripFlow(plan, null)!.pointLph).toBeCloseTo(gph(40), 9);
  });

  test('dripline lies on the slope: 3 in 4 makes a quarter more', () => {
    const levels = Table.of([level('1', 0, 0, 0), level('2', 40, 0, 0), level('3', 0, 40, 30)]);
    const flat = planWith({ areas: Table.of([bed(8, 6)]) });
    const steep = expectedDripFlow({ ...flat, levels }, null)!;
    expect(steep.driplineLph! / expectedDripFlow(flat, null)!.driplineLph!).toBeCloseTo(1.25, 6);
    expect(steep.pointLph).toBeNull();
    expect(steep.lowLph).toBe(steep.highLph);
  });

  test('plants on lawn do not count, plants on a bed in the lawn do', () => {
    const plan = planWith({
      areas: Table.of([bed(20, 20, 'lawn'), bed(4, 4)]),
      plants: Table.of([plant('1', 2, 2), plant('2', 15, 15)]),
    });
    expect(expectedDripFlow(plan, null)!.pointLph).toBeCloseTo(gph(2), 9);
  });

  test('kinds of the plant list count as far as they are not placed', () => {
    const kind: PlantKind = {
      name: ' a',
      plantClass: 'shrub',
      canopyNowM: null,
      canopyMatureM: 1,
      rootBallM: null,
      waterUse: null,
      count: 3,
    };
    const plan = planWith({
      areas: Table.of([bed(10, 3)]),
      plants: Table.of([plant('1', 1, 1)]),
      planting: { kinds: [kind, { ...kind, plantClass: 'perennial', count: null }] },
    });
    expect(expectedDripFlow(plan, null)!.pointLph).toBeCloseTo(gph(3 * 2), 9);
  });

  test('two zones share plants and beds by their nearest heads', () => {
    const plan = planWith({
      areas: Table.of([bed(12, 2)]),
      heads: Table.of([
        head('1', 2, 1, { zone: '1' }),
        head('2', 4, 1, { zone: '2' }),
        head('3', 9, 1, { zone: '2' }),
      ]),
      supplies: Table.of([supply('V1', [0, 0], { zone: '1' }), supply('V2', [0, 0], { zone: '2' })]),
      plants: Table.of([plant('1', 1, 1), plant('2', 5, 1), plant('3', 11, 1)]),
    });
    const one = expectedDripFlow(plan, '1')!;
    const two = expectedDripFlow(plan, '2')!;
    expect([one.pointLph, two.pointLph]).toEqual([expect.closeTo(gph(2), 9), expect.closeTo(gph(4), 9)]);
    expect(two.driplineLph! / one.driplineLph!).toBeCloseTo(9 / 3, 6);
    expect(expectedDripFlow(plan, '3')).toBeNull();
    expect(expectedDripFlow(plan, null)).toBeNull();
  });

  test('nothing to water is not known, never zero', () => {
    expect(expectedDripFlow(emptyPlan(), null)).toBeNull();
    expect(expectedDripFlow(planWith({}), null)).toBeNull();
    const noHeads = { ...emptyPlan(), areas: Table.of([bed(2, 2)]) };
    expect(expectedDripFlow(noHeads, null)!.driplineLph).toBeGreaterThan(0);
  });
});

describe('drip that is drawn', () => {
  const drawn: Partial<Plan> = {
    areas: Table.of([bed(12, 2)]),
    heads: Table.of([head('1', 2, 1, { zone: '1' }), head('2', 9, 1, { zone: '2' })]),
    supplies: Table.of([supply('V1', [0, 0], { zone: '1' }), supply('V2', [0, 5], { zone: '2' })]),
    controls: Table.of([control('C', [0, 0])]),
    runs: Table.of([
      blank('R', [0, 0], [6, 0]),
      dripline('D', [
        [6, 0],
        [6, 1.5],
      ]),
    ]),
    emitters: Table.of([emitter('E', 'R', [3, 0], { ratedFlowLph: 8 })]),
  };

  test('counts at its rated flow, on the zone whose valve feeds it', () => {
    const plan = planWith(drawn);
    // Dripline of 1.5 m: emitters of 2.3 L/h at 0.15, 0.45, ... 1.35 m.
    expect(expectedDripFlow(plan, '1')).toMatchObject({
      lowLph: expect.closeTo(5 * 2.3 + 8, 9),
      highLph: expect.closeTo(5 * 2.3 + 8, 9),
      how: 'rated flow of the drip as drawn',
    });
    expect(expectedDripFlow(plan, '2')!.drawnLph).toBeNull();
  });

  test('with one zone all of it counts, joined or not', () => {
    const plan = planWith({
      ...drawn,
      heads: Table.of([head('1', 2, 1)]),
      supplies: Table.of([supply('V', [50, 50])]),
    });
    expect(expectedDripFlow(plan, null)!.drawnLph).toBeCloseTo(5 * 2.3 + 8, 9);
  });
});
