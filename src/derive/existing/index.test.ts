import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL } from '../../plan/empty.ts';
import type { Area, Head, LateralPipe, Plan } from '../../plan/records.ts';
import { existingOf } from './index.ts';

function plan(parts: Partial<Plan>): Plan {
  return { ...emptyPlan(), ...parts };
}

function area(id: string, use: Area['use'], widthM: number, holes: Area['holes'] = []): Area {
  return {
    id,
    use,
    name: id,
    outline: [
      [0, 0],
      [0, 4],
      [widthM, 4],
      [widthM, 0],
    ],
    holes,
  };
}

function head(id: string, flowLph: number | null, waters: Head['waters'] = 'bed'): Head {
  return { ...UNMEASURED_HEAD, id, at: [0, 0], flowLph, waters };
}

function pipe(id: string, parts: Partial<LateralPipe>): LateralPipe {
  return {
    ...UNMEASURED_LATERAL,
    id,
    from: '',
    to: '',
    a: [0, 0],
    b: [0, 0],
    size: '1',
    material: 'PVC Schedule 40',
    ...parts,
  };
}

describe('existing system', () => {
  test('an empty plan: nothing, and nothing invented', () => {
    expect(existingOf(emptyPlan())).toEqual({
      bedAreaM2: 0,
      headCount: 0,
      totalFlowLph: 0,
      headsWithoutFlow: 0,
      lawnHeadCount: 0,
      precipitationMmPerH: null,
      lateralLengthM: 0,
      lateralSurfaceLengthM: 0,
      lateralVolumeL: 0,
      lateralsWithoutBore: [],
      assumedLateralCount: 0,
      plantCount: 0,
    });
  });

  test('beds less their holes, however they run; lawn and paving do not count', () => {
    const hole: Area['holes'] = [
      [
        [1, 1],
        [2, 1],
        [2, 2],
        [1, 2],
      ],
    ];
    const areas = Table.of([
      area('B1', 'bed', 10, hole),
      area('B2', 'bed', 2),
      area('L', 'lawn', 9),
      area('P', 'paving', 9),
    ]);
    expect(existingOf(plan({ areas })).bedAreaM2).toBeCloseTo(10 * 4 - 1 + 2 * 4, 12);
  });

  test('lawn heads are in the total and not in the precipitation; heads without flow are counted', () => {
    const areas = Table.of([area('B', 'bed', 5)]);
    const heads = Table.of([head('1', 100), head('2', 140), head('3', 500, 'lawn'), head('4', null)]);
    expect(existingOf(plan({ areas, heads }))).toMatchObject({
      headCount: 4,
      totalFlowLph: 740,
      headsWithoutFlow: 1,
      lawnHeadCount: 1,
      precipitationMmPerH: 240 / 20,
    });
  });

  test('without a measured flow, or without a bed, there is no precipitation', () => {
    const areas = Table.of([area('B', 'bed', 5)]);
    expect(existingOf(plan({ areas, heads: Table.of([head('1', null)]) }))).toMatchObject({
      totalFlowLph: null,
      precipitationMmPerH: null,
    });
    expect(
      existingOf(plan({ areas, heads: Table.of([head('1', 50, 'lawn')]) })).precipitationMmPerH,
    ).toBeNull();
    expect(existingOf(plan({ heads: Table.of([head('1', 50)]) })).precipitationMmPerH).toBeNull();
  });

  test('pipe: length in plan and on a slope of 3 in 4, volume by bore, unknown bores named', () => {
    const levels = Table.of([
      { id: '1', at: [0, 0] as const, zM: 0 },
      { id: '2', at: [50, 0] as const, zM: 0 },
      { id: '3', at: [0, 40] as const, zM: 30 },
    ]);
    const laterals = Table.of([
      pipe('A', { a: [0, 0], b: [0, 20] }),
      pipe('B', { a: [0, 20], b: [10, 20], size: '3/4', measured: false }),
      pipe('C', { a: [10, 20], b: [15, 20], size: null }),
    ]);
    const existing = existingOf(plan({ levels, laterals }));
    expect(existing.lateralLengthM).toBeCloseTo(35, 12);
    expect(existing.lateralSurfaceLengthM).toBeCloseTo(25 + 10 + 5, 9);
    // Bores 1.049 and 0.824 in: Hydraulic Institute Engineering Data Book, schedule 40.
    const litres = (Math.PI / 4) * ((1.049 * 0.0254) ** 2 * 20 + (0.824 * 0.0254) ** 2 * 10) * 1000;
    expect(existing.lateralVolumeL).toBeCloseTo(litres, 9);
    expect(existing.lateralsWithoutBore).toEqual(['C']);
    expect(existing.assumedLateralCount).toBe(1);
  });

  test('pipe of unknown bore alone has no volume', () => {
    const laterals = Table.of([pipe('A', { b: [3, 0], material: null })]);
    expect(existingOf(plan({ laterals }))).toMatchObject({ lateralLengthM: 3, lateralVolumeL: null });
  });
});
