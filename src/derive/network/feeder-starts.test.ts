import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Plan, PointEmitter } from '../../plan/records.ts';
import { feederTubes } from '../feeders.ts';
import { blank, control, emitter, level, planOf, supply } from '../plan-for-tests.ts';
import { solve } from '../../hydraulics/index.ts';
import { readResults } from '../read-results.ts';
import { feederStarts } from './feeder-starts.ts';
import { buildPlanNetwork } from './index.ts';

const atValve = { supplies: [supply('V', [0, 0])], controls: [control('C', [0, 0])] };
const on = (id: string, x: number, y: number, more: Partial<PointEmitter> = {}): PointEmitter =>
  emitter(id, 'H', [x, y], more);
const planWith = (...emitters: PointEmitter[]): Plan =>
  planOf({ ...atValve, runs: [blank('H', [0, 0], [10, 0]), blank('G', [0, 0], [0, 10])], emitters });
const resultsOf = (plan: Plan) => {
  const planNetwork = buildPlanNetwork(plan);
  return { planNetwork, results: readResults(planNetwork, solve(planNetwork.network)) };
};
const startsIn = (...emitters: PointEmitter[]) => {
  const told: string[] = [];
  const starts = feederStarts(Table.of(emitters), ({ id }, _, why) => void told.push(`${id} ${why}`));
  return { starts: Object.fromEntries(starts), told: told.sort() };
};

describe('where feeders start', () => {
  test('a chain and a star are taken as they are', () => {
    const { starts, told } = startsIn(
      on('A', 1, 1),
      on('B', 1, 2, { fromEmitterId: 'A' }),
      on('C', 1, 3, { fromEmitterId: 'B' }),
      on('D', 2, 2, { fromEmitterId: 'B' }),
    );
    expect(starts).toEqual({ B: 'A', C: 'B', D: 'B' });
    expect(told).toEqual([]);
  });

  test.each([
    ['one that is not there', [on('B', 1, 2, { fromEmitterId: 'X' })], ['B missing']],
    ['itself', [on('B', 1, 2, { fromEmitterId: 'B' })], ['B ring']],
    [
      'one of another run',
      [emitter('A', 'G', [1, 1]), on('B', 1, 2, { fromEmitterId: 'A' })],
      ['B other run'],
    ],
    [
      'one on the run',
      [on('A', 1, 1, { onRun: true }), on('B', 1, 2, { fromEmitterId: 'A' })],
      ['B open feeder'],
    ],
    ['one without a place', [on('A', NaN, 1), on('B', 1, 2, { fromEmitterId: 'A' })], ['B no place']],
  ] as const)('%s: led from the run, and told', (_, emitters, expected) => {
    expect(startsIn(...emitters)).toEqual({ starts: {}, told: expected });
  });

  test('a ring is led from the run, what hangs on it stays', () => {
    const { starts, told } = startsIn(
      on('A', 1, 1, { fromEmitterId: 'C' }),
      on('B', 1, 2, { fromEmitterId: 'A' }),
      on('C', 1, 3, { fromEmitterId: 'B' }),
      on('D', 2, 3, { fromEmitterId: 'C' }),
    );
    expect(starts).toEqual({ D: 'C' });
    expect(told).toEqual(['A ring', 'B ring', 'C ring']);
  });

  test('whatever names whatever: no ring is left, every start is there, each change is told once', () => {
    const ids = Array.from({ length: 12 }, (_, i) => `E${i}`);
    fc.assert(
      fc.property(
        fc.array(fc.option(fc.constantFrom(...ids, 'X'), { nil: undefined }), {
          minLength: 12,
          maxLength: 12,
        }),
        (names) => {
          const told: string[] = [];
          const emitters = Table.of(ids.map((id, i) => on(id, i, 1, { fromEmitterId: names[i] })));
          const starts = feederStarts(emitters, ({ id }) => void told.push(id));
          for (const id of starts.keys()) {
            let steps = 0;
            for (let at = starts.get(id); at !== undefined; at = starts.get(at)) {
              expect(emitters.has(at)).toBe(true);
              steps += 1;
              expect(steps).toBeLessThan(13);
            }
          }
          expect(new Set(told).size).toBe(told.length);
          expect(told.length + starts.size).toBe(names.filter((name) => name !== undefined).length);
        },
      ),
      { seed: 71, numRuns: 300 },
    );
  });
});

describe('several emitters on one feeder tube', () => {
  const chain = planWith(
    on('A', 5, 1),
    on('B', 5, 3, { fromEmitterId: 'A' }),
    on('C', 6, 1, { fromEmitterId: 'A', alsoPlantIds: ['P2'], plantId: 'P1' }),
  );

  test('one feeder leaves the run and carries all flows', () => {
    const { network, outlets, pieces, notices } = buildPlanNetwork(chain);
    expect(notices).toEqual([]);
    const feeders = pieces.flatMap(({ owner }, link) =>
      owner.table === 'emitters' ? [{ id: owner.id, link }] : [],
    );
    expect(feeders.map(({ id }) => id)).toEqual(['A', 'B', 'C']);
    const [a, b, c] = feeders.map(({ link }) => link);
    expect(network.links.from[b!]).toBe(network.links.to[a!]);
    expect(network.links.from[c!]).toBe(network.links.to[a!]);
    expect([a, b, c].map((link) => network.links.lengthM[link!])).toEqual(
      [1, 2, 1].map((x) => expect.closeTo(x, 9)),
    );
    expect(
      outlets.map(({ owner, tap, feederM, fromEmitterId }) => [owner.id, tap, feederM, fromEmitterId]),
    ).toEqual([
      ['A', [5, 0], 1, undefined],
      ['B', [5, 1], 2, 'A'],
      ['C', [5, 1], 1, 'A'],
    ]);
    const { results } = resultsOf(chain);
    const flow = (link: number): number => Math.abs(results.solution.flowM3s[link]!);
    expect(flow(a!)).toBeCloseTo(results.outlets.reduce((sum, { flowLph }) => sum + flowLph, 0) / 3.6e6, 12);
    expect(results.outlets[2]!.alsoPlantIds).toEqual(['P2']);
  });

  test('the tube is told with its flow and longest way', () => {
    expect(feederTubes(buildPlanNetwork(chain).outlets)).toEqual([
      { rootId: 'A', emitterIds: ['A', 'B', 'C'], ratedFlowLph: 12, longestM: 3 },
    ]);
  });

  test('a feeder that starts at an emitter on the tubing starts at the tubing', () => {
    const { outlets } = buildPlanNetwork(planWith(on('A', 5, 0), on('B', 5, 1, { fromEmitterId: 'A' })));
    const own = outlets.find(({ owner }) => owner.id === 'B')!;
    expect([own.tap, own.feederM, own.fromEmitterId]).toEqual([[5, 0], 1, undefined]);
  });

  test('two emitters at one place share the end of the feeder', () => {
    const { results } = resultsOf(planWith(on('A', 5, 1), on('B', 5, 1, { fromEmitterId: 'A' })));
    expect(results.outlets.map(({ feederM, state }) => [feederM, state])).toEqual([
      [1, 'good'],
      [0, 'good'],
    ]);
    expect(results.outlets[0]!.pressureKpa).toBeCloseTo(results.outlets[1]!.pressureKpa, 9);
  });

  test('bad starts give a notice with the emitter, and water all the same', () => {
    const plan = planWith(on('A', 5, 1, { fromEmitterId: 'B' }), on('B', 5, 2, { fromEmitterId: 'A' }));
    const { planNetwork, results } = resultsOf(plan);
    expect(planNetwork.notices.map(({ rule, refs }) => `${rule} ${refs[0]!.id}`).toSorted()).toEqual([
      'feeder-start A',
      'feeder-start B',
    ]);
    expect(planNetwork.notices[0]!.message).toContain('it is led from the run');
    expect(results.outlets.map(({ state }) => state)).toEqual(['good', 'good']);
  });

  test('on the run or at the plant: the same pressure and flow, also uphill', () => {
    const levels = [level('a', 0, 0, 0), level('b', 10, 0, 0), level('c', 0, 10, 3)];
    const both = [false, true].map(
      (onRun) =>
        resultsOf({ ...planWith(on('A', 5, 2, { onRun })), levels: Table.of(levels) }).results.outlets[0]!,
    );
    expect(both[0]!.pressureKpa).toBe(both[1]!.pressureKpa);
    expect(both.map(({ onRun }) => onRun)).toEqual([false, true]);
    // 0.6 m of rise are 5.9 kPa.
    const level0 = resultsOf(planWith(on('A', 5, 2, { onRun: true }))).results.outlets[0]!;
    expect(level0.pressureKpa - both[1]!.pressureKpa).toBeCloseTo(5.9, 1);
  });
});
