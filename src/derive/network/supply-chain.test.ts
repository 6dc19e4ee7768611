import { describe, expect, test } from 'vitest';
import {
  backflowCurve,
  backflowType,
  meterBySize,
  meterLossKpa,
  valvePattern,
  zoneValveBySize,
  zoneValveCurve,
  type LossPoint,
} from '../../catalog/index.ts';
import { headLoss, headToKpa, kpaToHead, lphToM3s, viscosity } from '../../hydraulics/index.ts';
import type { Plan, WaterService } from '../../plan/records.ts';
import { control, dripline, planOf, supply } from '../plan-for-tests.ts';
import type { SupplyPart } from '../results.ts';
import { studyOf } from '../study.ts';
import { buildPlanNetwork } from './index.ts';
import { pressureBehindValve } from './supply-chain.ts';

const surveyed: Partial<WaterService> = {
  staticKpa: 400,
  meterSize: '5/8"',
  serviceSize: '3/4',
  serviceMaterial: 'copper',
  serviceLengthM: 20,
  backflowType: 'PVB',
  backflowSize: '3/4 in',
};
const point = { pressureKpa: 360, flowLph: 900 };

function planWith(water: Partial<WaterService>, valveSize: string | null = '3/4'): Plan {
  const plan = planOf({
    supplies: [supply('V', [0, 0], { pressureKpa: null, valveSize, valveType: 'globe' })],
    controls: [control('C', [0, 0])],
    runs: Array.from({ length: 8 }, (_, k) =>
      dripline(`R${k}`, [
        [0, 0],
        [15, k],
      ]),
    ),
  });
  return { ...plan, water: { ...plan.water, ...water } };
}
const chain = (plan: Plan): SupplyPart[] =>
  buildPlanNetwork(plan).parts.supplies[0]!.chain.map(({ part }) => part);
const leftOut = (plan: Plan): readonly SupplyPart[] => buildPlanNetwork(plan).parts.supplies[0]!.leftOut;

describe('which losses lie before the valve', () => {
  test('a static reading holds none, wherever it was taken', () => {
    const all = ['meter', 'service pipe', 'backflow preventer', 'zone valve'];
    for (const measuredAt of ['meter', 'valve', null] as const) {
      expect(chain(planWith({ ...surveyed, measuredAt }))).toEqual(all);
    }
  });
  test('working points hold all that lies before their place', () => {
    const at = (measuredAt: WaterService['measuredAt']): Plan =>
      planWith({ ...surveyed, workingPoints: [point], measuredAt });
    expect(chain(at('valve'))).toEqual(['measured curve', 'zone valve']);
    expect(chain(at(null))).toEqual(['measured curve', 'zone valve']);
    expect(chain(at('meter'))).toEqual([
      'measured curve',
      'service pipe',
      'backflow preventer',
      'zone valve',
    ]);
  });
  test('what was not surveyed is left out and said once, without an error', () => {
    const plan = planWith({ staticKpa: 400, serviceSize: '3/4' }, null);
    expect(chain(plan)).toEqual([]);
    expect(leftOut(plan)).toEqual(['meter', 'service pipe', 'backflow preventer', 'zone valve']);
    const told = studyOf(plan).notices.filter(({ rule }) => rule === 'loss-left-out');
    expect(told).toHaveLength(1);
    expect(told[0]!.severity).toBe('info');
    expect(told[0]!.message).toContain('meter size; size and length of the service pipe');
    const known = planWith({ ...surveyed, workingPoints: [point] });
    expect(studyOf(known).notices.map(({ rule }) => rule)).not.toContain('loss-left-out');
  });
  test('sizes that the catalog does not have, and no backflow preventer at all', () => {
    const plan = planWith({ ...surveyed, meterSize: '7', backflowType: 'none' });
    expect(chain(plan)).toEqual(['service pipe', 'zone valve']);
    expect(leftOut(plan)).toEqual(['meter']);
  });
});

describe('how much they take', () => {
  test('each loss is that of its curve at the flow of the zone', () => {
    const { results } = studyOf(planWith(surveyed));
    const [own] = results.supplies;
    const flowLph = own!.flowLph;
    expect(flowLph).toBeGreaterThan(800);
    const losses = new Map(own!.losses.map(({ part, lossKpa }) => [part, lossKpa]));
    expect(losses.get('meter')).toBeCloseTo(meterLossKpa(meterBySize('5/8')!, flowLph), 1);
    // Type L copper, 3/4 in: 0.785 in bore.
    const pipe = { lengthM: 20, boreM: 0.785 * 0.0254, roughnessM: 1.5e-6 };
    expect(losses.get('service pipe')).toBeCloseTo(
      headToKpa(headLoss(pipe, lphToM3s(flowLph), viscosity(20))),
      4,
    );
    const straight = (points: readonly LossPoint[]): number => {
      const k = points.findIndex((p) => p.flowLph > flowLph);
      const [a, b] = [points[k - 1]!, points[k]!];
      return a.lossKpa + ((flowLph - a.flowLph) / (b.flowLph - a.flowLph)) * (b.lossKpa - a.lossKpa);
    };
    // A monotone curve stays between its points, so the straight line is near.
    const backflow = straight(backflowCurve(backflowType('PVB')!, '3/4')!);
    expect(Math.abs(losses.get('backflow preventer')! - backflow)).toBeLessThan(0.1 * backflow);
    const valve = straight(zoneValveCurve(zoneValveBySize('3/4')!, valvePattern('globe')));
    expect(Math.abs(losses.get('zone valve')! - valve)).toBeLessThan(0.1 * valve);
    const sum = own!.losses.reduce((total, { lossKpa }) => total + lossKpa, 0);
    expect(own!.outletKpa).toBeCloseTo(400 - sum, 6);
  });
  test('each supply has its own chain', () => {
    const plan = planOf({
      supplies: [supply('V1', [0, 0], { valveSize: '1' }), supply('V2', [0, 50])],
      controls: [control('C1', [0, 0]), control('C2', [0, 50])],
      runs: [
        dripline('R1', [
          [0, 0],
          [9, 0],
        ]),
        dripline('R2', [
          [0, 50],
          [20, 50],
        ]),
      ],
    });
    const { supplies } = studyOf({ ...plan, water: { ...plan.water, ...surveyed } }).results;
    expect(supplies.map(({ losses }) => losses.length)).toEqual([4, 3]);
    expect(supplies[1]!.flowLph).toBeGreaterThan(1.8 * supplies[0]!.flowLph);
  });
  test('reckoned by itself it gives what the solved network gives', () => {
    for (const water of [surveyed, { ...surveyed, workingPoints: [{ pressureKpa: 360, flowLph: 900 }] }]) {
      const plan = planWith(water);
      const { supplies } = studyOf(plan).results;
      const supply = plan.supplies.get('V')!;
      const kpa = pressureBehindValve(plan.water, supply, plan.water.staticKpa, supplies[0]!.flowLph);
      expect(kpa).toBeCloseTo(supplies[0]!.outletKpa, 3);
    }
    expect(pressureBehindValve(planWith(surveyed).water, supply('V', [0, 0]), null, 100)).toBeNull();
  });
  test('cold water is thicker: more is lost in the service pipe', () => {
    const lost = (waterC: number | null): number => {
      const { supplies } = studyOf(planWith({ ...surveyed, waterC })).results;
      return supplies[0]!.losses.find(({ part }) => part === 'service pipe')!.lossKpa;
    };
    expect(lost(5)).toBeGreaterThan(1.05 * lost(30));
    expect(lost(null)).toBeCloseTo(lost(20), 9);
    expect(buildPlanNetwork(planWith({ ...surveyed, waterC: 10 })).network.viscosityM2s).toBeCloseTo(
      viscosity(10),
      15,
    );
  });
  test('a typed height of the valve counts for the whole chain', () => {
    const plan = planWith(surveyed);
    const high = { ...plan, supplies: plan.supplies.with({ ...plan.supplies.get('V')!, zM: 3 }) };
    const { network, parts } = buildPlanNetwork(high);
    const { source } = parts.supplies[0]!;
    expect(network.nodes.fixedHeadM[source]).toBeCloseTo(3 + kpaToHead(400), 9);
  });
});
