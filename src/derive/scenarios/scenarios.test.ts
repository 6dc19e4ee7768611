import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { headToKpa, solve } from '../../hydraulics/index.ts';
import type { FlushEnd, Level, Plan, WaterService } from '../../plan/records.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { blank, control, dripline, emitter, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { readResults } from '../read-results.ts';
import {
  FLUSH_VELOCITY_MS,
  flushEndsTogether,
  flushGroups,
  readFlushedRuns,
  readFlushing,
} from './flushing.ts';
import { networkFor } from './network-for.ts';
import { resultsFor, scenarioNotices } from './scenario-notices.ts';
import { staticOf } from './static-pressures.ts';

const flushEnd = (id: string, runId: string): FlushEnd => ({ id, runId, end: 'end' });

/** A header along y with rows of dripline to the east, each with a flush end. */
function rows(count: number, more: Partial<WaterService> = {}, levels: readonly Level[] = []): Plan {
  const at = (k: number): Point => [0, 1 + k];
  const plan = planOf({
    levels,
    supplies: [supply('V', [0, 0], { pressureKpa: null })],
    controls: [control('C', [0, 0])],
    runs: [
      blank('H', [0, 0], [0, count]),
      ...Array.from({ length: count }, (_, k) => dripline(`R${k}`, [at(k), [15, 1 + k]])),
    ],
  });
  return {
    ...plan,
    water: { ...plan.water, staticKpa: 60 * PSI, ...more },
    flushEnds: Table.of(Array.from({ length: count }, (_, k) => flushEnd(`F${k}`, `R${k}`))),
  };
}
const weak = { workingPoints: [{ pressureKpa: 20 * PSI, flowLph: 800 }] };

describe('networks of a plan in other states', () => {
  test("equal scenarios of one plan give one network; the usual one is the plan's own", () => {
    const plan = rows(3);
    const one = networkFor(plan, { kind: 'flushing', open: ['F0', 'F1'] });
    expect(networkFor(plan, { kind: 'flushing', open: ['F1', 'F0'] })).toBe(one);
    expect(
      networkFor({ ...plan, site: { ...plan.site, name: 'x' } }, { kind: 'flushing', open: ['F0', 'F1'] }),
    ).toBe(one);
    expect(networkFor(plan, { kind: 'flushing', open: ['F0'] })).not.toBe(one);
    expect(networkFor(plan, { kind: 'running' }).network).toBe(buildPlanNetwork(plan).network);
  });
  test('dirty filters take their higher loss', () => {
    const plan = rows(3, weak);
    const lost = (kind: 'running' | 'dirty-filter'): number => {
      const net = networkFor(plan, { kind });
      const { headM } = solve(net.network);
      const { filterLink } = net.parts.controls[0]!;
      return headToKpa(
        headM[net.network.links.from[filterLink]!]! - headM[net.network.links.to[filterLink]!]!,
      );
    };
    // 3 psi clean and 10 psi dirty, both at the rated flow.
    expect(lost('dirty-filter') / lost('running')).toBeCloseTo(10 / 3, 1);
  });
  test('a low supply holds its source lower, also under a static pressure of its own', () => {
    const plan = rows(3, { lowStaticKpa: 40 * PSI });
    const held = (p: Plan): number => {
      const { network, parts } = networkFor(p, { kind: 'low-supply' });
      return headToKpa(network.nodes.fixedHeadM[parts.supplies[0]!.source]!);
    };
    expect(held(plan)).toBeCloseTo(40 * PSI, 6);
    const own = { ...plan, supplies: Table.of([supply('V', [0, 0], { pressureKpa: 55 * PSI })]) };
    expect(held(own)).toBeCloseTo(35 * PSI, 6);
    const unknown = networkFor(rows(3), { kind: 'low-supply' });
    expect(unknown.notices.map(({ rule }) => rule)).toContain('low-static-unknown');
  });
  test('a share of clogged outlets is spread evenly and shows in the uniformity', () => {
    const plan = rows(3);
    const share = (value: number) => {
      const net = networkFor(plan, { kind: 'clogged', share: value });
      const results = readResults(net, solve(net.network));
      return { results, shut: results.outlets.filter(({ flowLph }) => flowLph === 0), net };
    };
    const { results, shut, net } = share(0.1);
    expect(shut).toHaveLength(15);
    expect(net.isClosed(9)).toBe(true);
    expect(Math.max(...['R0', 'R1', 'R2'].map((id) => shut.filter(({ runId }) => runId === id).length))).toBe(
      5,
    );
    const clean = resultsFor(plan, { kind: 'running' });
    expect(results.uniformity!.dulq).toBeLessThan(clean.uniformity!.dulq - 30);
    expect(results.totalFlowLph).toBeLessThan(clean.totalFlowLph);
    expect([share(0).shut.length, share(1).shut.length, share(-1).shut.length]).toEqual([0, 150, 0]);
    expect(share(1).results.uniformity).toBeNull();
  });
});

describe('standing water', () => {
  const slope = [level('a', 0, 0, 0), level('b', 15, 0, -6), level('c', 0, 9, 0), level('d', 15, 9, -6)];
  test('the regulator creeps by its share, and each outlet has that and the height', () => {
    const plan = rows(2, {}, slope);
    const net = networkFor(plan, { kind: 'static' });
    const results = readResults(net, solve(net.network));
    expect(results.totalFlowLph).toBe(0);
    for (const { pressureKpa, zM } of results.outlets) {
      expect(pressureKpa).toBeCloseTo(25 * PSI * 1.15 - headToKpa(zM), 5);
    }
  });
  test('without solving it is the same', () => {
    const plans = [
      rows(2, {}, slope),
      rows(2, { staticKpa: 20 * PSI }, slope),
      rows(3, weak),
      // A regulator after another one.
      {
        ...rows(2, {}, slope),
        controls: Table.of([
          control('C', [0, 0], { setKpa: 40 * PSI }),
          control('D', [0, 0.5], { setKpa: 15 * PSI }),
        ]),
        runs: Table.of([
          blank('G', [0, 0], [0, 0.5]),
          ...rows(2)
            .runs.toArray()
            .map((run) => (run.id === 'H' ? blank('H', [0, 0.5], [0, 2]) : run)),
        ]),
      },
    ];
    for (const plan of plans) {
      const net = networkFor(plan, { kind: 'static' });
      const { headM } = solve(net.network);
      const own = staticOf(plan.controls, buildPlanNetwork(plan)).headM;
      headM.forEach((head, node) => {
        if (Number.isNaN(head)) expect(own[node]).toBeNaN();
        else expect(own[node]).toBeCloseTo(head, 5);
      });
    }
  });
  test('what stands over its rating is found, the outlet and the fittings', () => {
    const low = rows(2, {}, [
      level('a', 0, 0, 0),
      level('b', 15, 0, -12),
      level('c', 0, 9, 0),
      level('d', 15, 9, -12),
    ]);
    // 25 psi and a creep of 15 % are 28.8 psi; 30 psi, the most of a plain emitter, come 0.9 m down.
    const { outletsOver, runsOver, highestKpa } = staticOf(low.controls, buildPlanNetwork(low));
    expect(outletsOver.length).toBeGreaterThan(80);
    expect(highestKpa).toBeCloseTo(25 * PSI * 1.15 + headToKpa(12), 3);
    // 12 m are 17 psi: 45.8 psi, less than fittings hold.
    expect(runsOver).toEqual([]);
    const high = { ...low, controls: Table.of([control('C', [0, 0], { setKpa: 40 * PSI })]) };
    expect(staticOf(high.controls, buildPlanNetwork(high)).runsOver.map(({ runId }) => runId)).toEqual([
      'R0',
      'R1',
    ]);
    const flat = rows(2);
    expect(staticOf(flat.controls, buildPlanNetwork(flat)).outletsOver).toEqual([]);
  });
});

describe('flushing', () => {
  test('an open end gives A sqrt(2 g h) and the velocity is that over the bore', () => {
    const plan = rows(4);
    const net = networkFor(plan, { kind: 'flushing', open: ['F3'] });
    const solution = solve(net.network);
    const [end] = readFlushing(net, solution);
    const { flushEnd: placed } = net.openEnds[0]!;
    const headM = solution.headM[placed.node]! - net.network.nodes.elevationM[placed.node]!;
    expect(end!.velocityMs).toBeCloseTo(Math.sqrt(2 * 9.80665 * headM), 3);
    expect(end!.flowLph).toBeCloseTo((Math.PI / 4) * 0.0142 ** 2 * end!.velocityMs * 3.6e6, 3);
    expect(end!.reached).toBe(true);
    expect(readResults(net, solution).outlets).toHaveLength(200);
  });
  test('what the supply gives leaves by the outlets and the open ends', () => {
    for (const plan of [
      rows(3),
      rows(6, weak),
      rows(4, { ...weak, meterSize: '5/8', measuredAt: 'meter' }),
    ]) {
      const net = networkFor(plan, { kind: 'flushing', open: ['F0', 'F2'] });
      const solution = solve(net.network);
      const ends = readFlushing(net, solution).reduce((sum, { flowLph }) => sum + flowLph, 0);
      const { supplies, totalFlowLph } = readResults(net, solution);
      expect(ends).toBeGreaterThan(totalFlowLph / 10);
      expect(supplies[0]!.flowLph / (ends + totalFlowLph)).toBeCloseTo(1, 6);
    }
  });
  test('with a flush header each row is looked at, and all are slower than the open end', () => {
    const plan = rows(6);
    const footed = {
      ...plan,
      runs: plan.runs.with(blank('F', [15, 1], [15, 6], [16, 6])),
      flushEnds: Table.of([flushEnd('F', 'F')]),
    };
    const net = networkFor(footed, { kind: 'flushing', open: ['F'] });
    const solution = solve(net.network);
    const [end] = readFlushing(net, solution);
    const runs = new Map(readFlushedRuns(net, solution).map((run) => [run.runId, run]));
    expect(end!.reached).toBe(true);
    for (let k = 0; k < 6; k++) expect(runs.get(`R${k}`)!.slowestMs).toBeLessThan(end!.velocityMs);
    // The way is shortest by the first and the last row: the middle ones are the slowest.
    for (const outer of ['R0', 'R5']) {
      expect(runs.get('R2')!.slowestMs).toBeLessThan(0.9 * runs.get(outer)!.slowestMs);
    }
  });
  test('groups hold every end once, each fast enough in its group, and one more would be too many', () => {
    const plan = rows(12, weak);
    const all = [...plan.flushEnds].map(({ id }) => id);
    expect(flushEndsTogether(plan, all).every(({ reached }) => reached)).toBe(false);
    const groups = flushGroups(plan);
    expect(groups.flat()).toEqual(all);
    expect(groups.length).toBeGreaterThan(1);
    groups.forEach((group, g) => {
      expect(
        flushEndsTogether(plan, group).every(({ velocityMs }) => velocityMs >= FLUSH_VELOCITY_MS * 0.995),
      ).toBe(true);
      const next = groups[g + 1]?.[0];
      if (next !== undefined) {
        expect(flushEndsTogether(plan, [...group, next]).every(({ reached }) => reached)).toBe(false);
      }
    });
    const told = scenarioNotices(plan, 'us').find(({ rule }) => rule === 'flush-in-groups')!;
    expect(told.message).toContain(`${groups.length} groups`);
    expect(scenarioNotices(plan, 'us').map(({ rule }) => rule)).not.toContain('flush-velocity-low');
  });
  test('an end too slow even alone is told with its velocity', () => {
    const starved = rows(2, { workingPoints: [{ pressureKpa: 5 * PSI, flowLph: 100 }] });
    const told = scenarioNotices(starved, 'us').find(({ rule }) => rule === 'flush-velocity-low')!;
    expect(told.severity).toBe('warning');
    expect(told.source).toContain('Schwankl');
    expect(told.message).toMatch(/2 flush ends \(runs "R0", "R1"\).* ft\/s against [\d.]+ ft\/s/);
  });
  test('an end that no water reaches is no reason for groups', () => {
    const plan = rows(2, weak);
    const loose = {
      ...plan,
      runs: plan.runs.with(blank('X', [50, 50], [60, 50])),
      flushEnds: plan.flushEnds.with(flushEnd('FX', 'X')),
    };
    expect(scenarioNotices(loose, 'us').map(({ rule }) => rule)).not.toContain('flush-in-groups');
    expect(flushGroups(loose).flat()).toEqual(['F0', 'F1', 'FX']);
  });
  test('each of many groups is as large as it can be', () => {
    const plan = rows(30, weak);
    const groups = flushGroups(plan);
    expect(groups.flat()).toEqual([...plan.flushEnds].map(({ id }) => id));
    groups.slice(0, -1).forEach((group, g) => {
      const more = flushEndsTogether(plan, [...group, groups[g + 1]![0]!]);
      expect(more.every(({ reached }) => reached)).toBe(false);
      // An end too slow even alone has a group of its own.
      const fast = flushEndsTogether(plan, group).every(({ reached }) => reached);
      expect(fast || group.length === 1).toBe(true);
    });
    expect(Math.max(...groups.map((group) => group.length))).toBeGreaterThan(2);
  });
  test('1 ft/s in tubing of 0.600 in bore is 0.881 gpm, 2.448 d^2 V in inches and ft/s', () => {
    const plan = rows(1);
    const fed = { ...plan, flushEnds: Table.of([flushEnd('F', 'H')]) };
    const net = networkFor(fed, { kind: 'flushing', open: ['F'] });
    const [end] = readFlushing(net, solve(net.network));
    expect(end!.flowLph / 227.1247 / (end!.velocityMs / 0.3048)).toBeCloseTo(0.881, 3);
  });
  test('an end that is not on the plan stays shut and is told', () => {
    const net = networkFor(rows(2), { kind: 'flushing', open: ['F0', 'gone'] });
    expect(net.openEnds).toHaveLength(1);
    expect(net.notices.map(({ rule }) => rule)).toContain('flush-end-unknown');
  });
});

test('a closing pressure shuts an outlet high on the slope while others run', () => {
  const plan = planOf({
    levels: [level('a', 0, 0, 0), level('b', 20, 0, 16.5)],
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [blank('H', [0, 0], [20, 0])],
    emitters: [
      emitter('foot', 'H', [1, 0], { law: 'point-pc-check' }),
      emitter('top', 'H', [20, 0], { law: 'point-pc-check' }),
    ],
  });
  const { outlets } = resultsFor(plan, { kind: 'running' });
  // 25 psi less 16.5 m leave 1.5 psi at the top, under the 2 psi at which the check closes.
  const top = outlets.find(({ owner }) => owner.id === 'top')!;
  expect(top.pressureKpa).toBeGreaterThan(0);
  expect(top.flowLph).toBe(0);
  expect(outlets.find(({ owner }) => owner.id === 'foot')!.flowLph).toBeCloseTo(4, 2);
});
