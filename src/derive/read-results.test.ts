import { describe, expect, test } from 'vitest';
import { headLoss, headToKpa, lphToM3s, solve, viscosity } from '../hydraulics/index.ts';
import { buildPlanNetwork } from './network/index.ts';
import { blank, control, dripline, emitter, level, planOf, PSI, supply } from './plan-for-tests.ts';
import { readResults } from './read-results.ts';
import { studyOf } from './study.ts';
import { supplyFlowLph } from './zones.ts';

const atValve = { supplies: [supply('V', [0, 0])], controls: [control('C', [0, 0])] };

describe('what a solution says of the plan', () => {
  test('standing water: pressure differs by the height alone', () => {
    const plan = planOf({
      ...atValve,
      levels: [level('a', 0, 0, 0), level('b', 10, 0, -10)],
      runs: [blank('H', [0, 0], [10, 0])],
    });
    const { results } = studyOf(plan);
    const run = results.runs.get('H')!;
    expect(run.inletKpa).toBeCloseTo(25 * PSI, 6);
    // 10 m of water under standard gravity: 98.0665 kPa.
    expect(run.highestKpa - run.worstKpa).toBeCloseTo(98.0665, 6);
    expect(run.maxVelocityMs).toBe(0);
    expect(results.uniformity).toBeNull();
    expect(results.meanFlowLph).toBeNaN();
  });
  test('states: good, low, high, dry and apart', () => {
    // A hill of 30 m on the way: at its foot too much pressure, halfway too little, on top none.
    const plan = planOf({
      supplies: [supply('V', [0, 0], { pressureKpa: 600 })],
      controls: [control('C', [0, 0], { setKpa: 250 })],
      levels: [level('a', 0, 0, 0), level('b', 30, 0, 30)],
      runs: [blank('H', [0, 0], [30, 0]), blank('X', [40, 9], [41, 9])],
      emitters: [
        emitter('foot', 'H', [1, 0]),
        emitter('middle', 'H', [10, 0]),
        emitter('above', 'H', [21, 0]),
        emitter('top', 'H', [29, 0]),
        emitter('lone', 'X', [40.5, 9]),
      ],
    });
    const { outlets } = studyOf(plan).results;
    expect(Object.fromEntries(outlets.map((o) => [o.owner.id, o.state]))).toEqual({
      foot: 'high',
      middle: 'good',
      above: 'low',
      top: 'dry',
      lone: 'apart',
    });
    expect(outlets.find((o) => o.owner.id === 'top')!.flowLph).toBe(0);
    expect(outlets.find((o) => o.owner.id === 'lone')!.pressureKpa).toBeNaN();
  });
  test('pressure at a feeder outlet is that at its end', () => {
    const plan = planOf({
      ...atValve,
      runs: [blank('H', [0, 0], [5, 0])],
      emitters: [emitter('near', 'H', [4, 0]), emitter('far', 'H', [4, 1.5])],
    });
    const { outlets } = studyOf(plan).results;
    const [far, near] = ['far', 'near'].map((id) => outlets.find((o) => o.owner.id === id)!);
    expect(far!.pressureKpa).toBeLessThan(near!.pressureKpa);
    expect(far!.feederM).toBeCloseTo(1.5, 9);
  });
  test('a run of compensating emitters loses what the pieces lose one by one', () => {
    // 100 emitters of 2.3 L/h every 0.3 m on 17 mm dripline; each piece summed by hand, from the far end.
    const plan = planOf({
      ...atValve,
      runs: [
        dripline(
          'R',
          [
            [0, 0],
            [30, 0],
          ],
          { law: 'inline-pc', firstM: 0.3 },
        ),
      ],
    });
    let lossM = 0;
    for (let k = 1; k <= 100; k++) {
      const bodies = k === 1 ? 0.05 + 0.1 : k === 100 ? 0.05 : 0.1;
      const pipe = { lengthM: 0.3 + bodies, boreM: 0.0142, roughnessM: 1.5e-6 };
      lossM += headLoss(pipe, lphToM3s(2.3 * k), viscosity(20));
    }
    const { results } = studyOf(plan);
    const last = results.outlets.at(-1)!;
    expect(results.outletCount).toBe(100);
    expect(last.pressureKpa).toBeCloseTo(25 * PSI - headToKpa(lossM), 4);
    expect(results.runs.get('R')!.worstKpa).toBeCloseTo(last.pressureKpa, 9);
  });
  test('mixed emitters compare by their share of the rated flow', () => {
    const plan = planOf({
      ...atValve,
      runs: [blank('H', [0, 0], [5, 0])],
      emitters: [2, 4, 8, 16].map((ratedFlowLph, k) =>
        emitter(`E${k}`, 'H', [1 + k, 0], { law: 'point-pc', ratedFlowLph }),
      ),
    });
    const { results } = studyOf(plan);
    expect(results.totalFlowLph).toBeCloseTo(30, 9);
    expect(results.uniformity!.dulq).toBeCloseTo(100, 9);
    expect(results.uniformity!.flowVariation).toBeCloseTo(0, 9);
  });
  test('a supply that feeds a run itself is a zone, and its flow is known', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0], { pressureKpa: 150 })],
      runs: [
        dripline('R', [
          [0, 0],
          [6, 0],
        ]),
      ],
    });
    const planNetwork = buildPlanNetwork(plan);
    const solution = solve(planNetwork.network);
    const results = readResults(planNetwork, solution);
    expect(results.zones).toHaveLength(1);
    expect(results.zones[0]).toMatchObject({ owner: { table: 'supplies', id: 'V' }, outletCount: 20 });
    expect(results.zones[0]!.flowLph).toBeCloseTo(results.totalFlowLph, 6);
    expect(supplyFlowLph(planNetwork, solution, planNetwork.parts.supplies[0]!)).toBeCloseTo(
      results.totalFlowLph,
      6,
    );
  });
  test('an empty plan', () => {
    const { results, notices, existing } = studyOf(planOf({}));
    expect(results.outletCount).toBe(0);
    expect(results.zones).toEqual([]);
    expect(notices).toEqual([]);
    expect(existing.headCount).toBe(0);
  });
});
