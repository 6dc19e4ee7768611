import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { solve } from '../../hydraulics/index.ts';
import type { CheckValve, FlushEnd, Plan } from '../../plan/records.ts';
import { blank, control, dripline, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { readResults } from '../read-results.ts';
import { drainDown } from './drain-down.ts';
import { readFlushing } from './flushing.ts';
import { networkFor } from './network-for.ts';
import type { Scenario } from './scenario.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** A zone with the whole way from the street: service, devices, header, rows with or without a flush header. */
const zone = fc.record({
  rows: fc.integer({ min: 1, max: 5 }),
  lengthM: number(2, 25),
  fallM: number(-4, 4),
  law: fc.constantFrom('inline-pc', 'inline-plain', 'inline-pc-check'),
  flushHeader: fc.boolean(),
  checks: fc.array(
    fc.record({ row: fc.nat({ max: 4 }), share: number(0, 1), openKpa: fc.constantFrom(0, 3, 7) }),
    {
      maxLength: 4,
    },
  ),
  staticPsi: number(20, 80),
  lowPsi: fc.option(number(28, 60)),
  point: fc.option(number(300, 3500)),
  measuredAt: fc.constantFrom('meter' as const, 'valve' as const, null),
  meterSize: fc.constantFrom('5/8', '1', null),
  backflowType: fc.constantFrom('PVB', 'RP', 'AVB', null),
  serviceM: fc.option(number(1, 60)),
  valveSize: fc.constantFrom('3/4', '1', null),
  waterC: fc.option(number(2, 35)),
});
type Zone = typeof zone extends fc.Arbitrary<infer T> ? T : never;

function planFor(z: Zone): Plan {
  const ends = (k: number): readonly Point[] => [
    [0, k],
    [z.lengthM, k],
  ];
  const rows = Array.from({ length: z.rows }, (_, k) => dripline(`R${k}`, ends(k + 1), { law: z.law }));
  const footer = z.flushHeader ? [blank('F', [z.lengthM, 0.5], [z.lengthM, z.rows + 0.5])] : [];
  const plan = planOf({
    levels: [
      level('a', 0, 0, 0),
      level('b', z.lengthM, 0, -z.fallM),
      level('c', 0, 9, 0.5),
      level('d', z.lengthM, 9, 0.5 - z.fallM),
    ],
    supplies: [supply('V', [0, 0], { pressureKpa: null, valveSize: z.valveSize })],
    controls: [control('C', [0, 0])],
    runs: [blank('H', [0, 0], [0, z.rows + 0.5]), ...rows, ...footer],
  });
  return {
    ...plan,
    water: {
      ...plan.water,
      staticKpa: z.staticPsi * PSI,
      lowStaticKpa: z.lowPsi === null ? null : Math.min(z.lowPsi, z.staticPsi) * PSI,
      workingPoints: z.point === null ? [] : [{ pressureKpa: 0.7 * z.staticPsi * PSI, flowLph: z.point }],
      measuredAt: z.measuredAt,
      meterSize: z.meterSize,
      serviceSize: '3/4',
      serviceMaterial: 'copper',
      serviceLengthM: z.serviceM,
      backflowType: z.backflowType,
      waterC: z.waterC,
    },
    checkValves: Table.of(
      z.checks.map(({ row, share, openKpa }, i): CheckValve => ({
        id: `K${i}`,
        runId: `R${row % z.rows}`,
        at: [share * z.lengthM, 1 + (row % z.rows)],
        openKpa,
      })),
    ),
    flushEnds: Table.of<FlushEnd>(
      z.flushHeader
        ? [{ id: 'FF', runId: 'F', end: 'end' }]
        : rows.map(({ id }) => ({ id: `F${id}`, runId: id, end: 'end' })),
    ),
  };
}

const settings = { seed: 77, numRuns: 80 };

describe('for any zone with the whole way from the street', () => {
  test('every state settles, and what enters leaves', () => {
    fc.assert(
      fc.property(zone, number(0, 1), (z, share) => {
        const plan = planFor(z);
        const open = [...plan.flushEnds].map(({ id }) => id);
        const scenarios: readonly Scenario[] = [
          { kind: 'running' },
          { kind: 'static' },
          { kind: 'flushing', open },
          { kind: 'clogged', share },
          { kind: 'dirty-filter' },
          { kind: 'low-supply' },
        ];
        for (const scenario of scenarios) {
          const net = networkFor(plan, scenario);
          const solution = solve(net.network);
          expect(solution.converged, scenario.kind).toBe(true);
          const { supplies, totalFlowLph } = readResults(net, solution);
          const flushed = readFlushing(net, solution).reduce((sum, { flowLph }) => sum + flowLph, 0);
          expect(Math.abs(supplies[0]!.flowLph - totalFlowLph - flushed)).toBeLessThan(
            1e-5 * (1 + totalFlowLph + flushed),
          );
          const lost = supplies[0]!.losses.reduce((sum, { lossKpa }) => sum + lossKpa, 0);
          expect(supplies[0]!.losses.every(({ lossKpa }) => lossKpa >= -1e-6)).toBe(true);
          if (scenario.kind !== 'low-supply') {
            expect(supplies[0]!.outletKpa + lost).toBeCloseTo(z.staticPsi * PSI, 4);
          }
        }
      }),
      settings,
    );
  });
  test('a dirty filter, a low supply and clogging raise no flow in all', () => {
    fc.assert(
      fc.property(zone, number(0, 1), (z, share) => {
        const plan = planFor(z);
        const total = (scenario: Scenario): number => {
          const net = networkFor(plan, scenario);
          return readResults(net, solve(net.network)).totalFlowLph;
        };
        const usual = total({ kind: 'running' });
        for (const scenario of [
          { kind: 'dirty-filter' },
          { kind: 'low-supply' },
          { kind: 'clogged', share },
        ] as const) {
          expect(total(scenario)).toBeLessThanOrEqual(usual * (1 + 1e-6) + 1e-6);
        }
      }),
      settings,
    );
  });
  test('the tubing holds what drains and what stays, with its check valves and without', () => {
    fc.assert(
      fc.property(zone, (z) => {
        const plan = planFor(z);
        const [withChecks, without] = [drainDown(plan), drainDown(plan, { checks: false })];
        for (const { drainedL, heldL, totalL } of [withChecks, without]) {
          expect(drainedL + heldL).toBeCloseTo(totalL, 9);
          const litres = (boreMm: number, lengthM: number): number =>
            (Math.PI / 4) * boreMm ** 2 * lengthM * 1e-3;
          const slope = Math.hypot(z.lengthM, z.fallM);
          const rise = Math.hypot(1, 0.5 / 9);
          const blankM = (z.rows + 0.5) * rise + (z.flushHeader ? z.rows * rise : 0);
          expect(totalL).toBeCloseTo(litres(14.2, z.rows * slope) + litres(15.24, blankM), 6);
        }
        if (z.checks.length === 0) expect(withChecks.drainedL).toBeCloseTo(without.drainedL, 12);
      }),
      settings,
    );
  });
});
