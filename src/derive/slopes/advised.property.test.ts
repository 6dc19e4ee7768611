import fc from 'fast-check';
import { test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Plan } from '../../plan/records.ts';
import { findings } from '../checks/findings-for-tests.ts';
import { blank, control, dripline, level, planOf, supply } from '../plan-for-tests.ts';
import { advisedEdit, advisedOf } from './index.ts';

function must(holds: boolean, what: string): void {
  if (!holds) throw new Error(what);
}
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Rows on one or two headers, drawn either way, fed at any row; ground with a plane slope and a hump. */
const site = fc
  .record({
    share: number(-0.8, 0.8),
    across: number(-0.3, 0.3),
    hump: number(-2, 2),
    rows: fc.integer({ min: 2, max: 12 }),
    fedAt: fc.integer({ min: 0, max: 11 }),
    turned: fc.boolean(),
    flushTurned: fc.boolean(),
    withFlush: fc.boolean(),
    winterC: fc.option(number(-20, 5)),
  })
  .map((ask): Plan => {
    const ys = Array.from({ length: ask.rows }, (_, i) => 2 + 1.1 * i);
    const fed = ys[Math.min(ask.fedAt, ask.rows - 1)]!;
    const header = ys.map((y): Point => [2, y]);
    const flush = ys.map((y): Point => [8, y]);
    const plan = planOf({
      levels: [
        level('Z1', 0, 0, 0),
        level('Z2', 20, 0, 20 * ask.across),
        level('Z3', 0, 20, 20 * ask.share),
        level('Z4', 20, 20, 20 * (ask.share + ask.across)),
        level('Z5', 3, 8, 8 * ask.share + ask.hump),
      ],
      supplies: [supply('V', [0, fed])],
      controls: [control('C', [0, fed])],
      runs: [
        blank('Lead', [0, fed], [2, fed]),
        blank('Header', ...(ask.turned ? header.toReversed() : header)),
        ...(ask.withFlush ? [blank('Flush', ...(ask.flushTurned ? flush.toReversed() : flush))] : []),
        ...ys.map((y, i) =>
          dripline(
            `Row ${i}`,
            [
              [2, y],
              [8, y],
            ],
            { law: 'inline-pc' },
          ),
        ),
      ],
    });
    return {
      ...plan,
      climate: { ...plan.climate, lowestWinterC: ask.winterC },
      flushEnds: Table.of(ask.withFlush ? [{ id: 'F', runId: 'Flush', end: 'end' as const }] : []),
    };
  });

test('what is advised, once set, is enough, and shuts nothing off', () => {
  fc.assert(
    fc.property(site, (plan) => {
      const { parts } = advisedOf(plan);
      const set = advisedEdit(parts).apply(plan);
      const again = advisedOf(set).parts;
      must(again.length === 0, `still advised: ${again.map(({ kind, runId }) => `${kind} ${runId}`).join()}`);
      must(
        findings(set, 'check-valve-backwards').length === findings(plan, 'check-valve-backwards').length,
        'a check valve stands against the water',
      );
      const dry = (one: Plan) => findings(one, 'outlets-dry').length;
      must(dry(set) === dry(plan), 'outlets are dry');
    }),
    { seed: 4417, numRuns: 60 },
  );
});
