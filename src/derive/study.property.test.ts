import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Path, Point } from '../base/point.ts';
import { pathLength, pointAlong } from '../base/polyline.ts';
import { Table } from '../base/table.ts';
import type { Level, Plan, Run } from '../plan/records.ts';
import { groundOf } from './ground/index.ts';
import { blank, control, dripline, emitter, lateral, level, planOf, supply } from './plan-for-tests.ts';
import type { OutletResult } from './results.ts';
import { studyOf } from './study.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** A zone: valve, old lateral, control set, header, rows with or without a flush header, emitters on the header. */
const zone = fc.record({
  levels: fc.array(fc.tuple(number(-15, 15), number(-15, 15), number(0, 4)), { maxLength: 7 }),
  rows: fc.integer({ min: 1, max: 5 }),
  rowLength: number(1, 12),
  bend: number(-1, 1),
  spacingM: number(0.3, 0.7),
  firstM: number(0.11, 0.29),
  law: fc.constantFrom('inline-pc', 'inline-plain'),
  flushHeader: fc.boolean(),
  setKpa: number(60, 280),
  staticKpa: number(300, 600),
  hasWorkingPoint: fc.boolean(),
  emitters: fc.array(fc.tuple(number(0.5, 5), number(-1.5, 0)), { maxLength: 6 }),
});
type Zone = typeof zone extends fc.Arbitrary<infer T> ? T : never;

function planFor(z: Zone): Plan {
  const rowAt = (k: number): number => 1 + k * 1.1;
  const end = (k: number): Point => [z.rowLength, rowAt(k) + z.bend];
  const runs: Run[] = [blank('H', [0, 0], [0, 6])];
  for (let k = 0; k < z.rows; k++) {
    runs.push(
      dripline(`R${k}`, [[0, rowAt(k)], [z.rowLength / 2, rowAt(k)], end(k)], {
        law: z.law,
        spacingM: z.spacingM,
        firstM: z.firstM,
      }),
    );
  }
  if (z.flushHeader && z.rows > 1) runs.push(blank('F', end(0), end(z.rows - 1)));
  const plan = planOf({
    levels: z.levels.map(([x, y, zM], i): Level => level(`L${i}`, x, y, zM)),
    supplies: [supply('V', [-6, -2], { pressureKpa: null })],
    laterals: [
      lateral('V', 'T1', [-6, -2], [-3, -2]),
      lateral('T1', 'T2', [-3, -2], [0, 0]),
      lateral('T1', 'T3', [-3, -2], [-3, 4], { size: '1/2' }),
    ],
    controls: [control('C', [0, 0], { setKpa: z.setKpa })],
    runs,
    emitters: z.emitters.map(([y, x], i) => emitter(`E${i}`, 'H', [x, y])),
  });
  return {
    ...plan,
    water: {
      ...plan.water,
      staticKpa: z.staticKpa,
      workingPoints: z.hasWorkingPoint ? [{ pressureKpa: z.staticKpa * 0.9, flowLph: 900 }] : [],
    },
  };
}

const outletsOf = (plan: Plan): readonly OutletResult[] => studyOf(plan).results.outlets;
const settings = { seed: 4711, numRuns: 60 };

/** Matches outlets by owner and place along, not by order. */
function byName(outlets: readonly OutletResult[]): Map<string, OutletResult> {
  return new Map(outlets.map((o) => [`${o.owner.table}/${o.owner.id}/${o.number}`, o]));
}

describe('for any zone', () => {
  test('it converges, and what leaves the outlets enters through the control set', () => {
    fc.assert(
      fc.property(zone, (z) => {
        const { results } = studyOf(planFor(z));
        expect(results.solution.converged).toBe(true);
        const sum = results.outlets.reduce((total, outlet) => total + outlet.flowLph, 0);
        expect(sum).toBeGreaterThan(0);
        expect(Math.abs(results.zones[0]!.flowLph - sum)).toBeLessThanOrEqual(1e-6 * sum);
        expect(results.zones[0]!.outletCount).toBe(results.outlets.length);
        expect(results.outlets.every((outlet) => outlet.state !== 'apart')).toBe(true);
        let byRun = 0;
        for (const run of results.runs.values()) byRun += run.flowLph;
        expect(Math.abs(byRun - sum)).toBeLessThanOrEqual(1e-9 * sum);
      }),
      settings,
    );
  });

  test('moving and turning the plan changes no pressure', () => {
    fc.assert(
      fc.property(zone, number(0, 6.28), number(-300, 300), number(-300, 300), (z, angle, dx, dy) => {
        const plan = planFor(z);
        const move = ([x, y]: Point): Point => [
          x * Math.cos(angle) - y * Math.sin(angle) + dx,
          x * Math.sin(angle) + y * Math.cos(angle) + dy,
        ];
        const placed = <T extends { readonly id: string; readonly at: Point }>(table: Table<T>): Table<T> =>
          Table.of([...table].map((record) => ({ ...record, at: move(record.at) })));
        const moved: Plan = {
          ...plan,
          levels: placed(plan.levels),
          supplies: placed(plan.supplies),
          controls: placed(plan.controls),
          emitters: placed(plan.emitters),
          laterals: Table.of([...plan.laterals].map((l) => ({ ...l, a: move(l.a), b: move(l.b) }))),
          runs: Table.of([...plan.runs].map((run) => ({ ...run, path: run.path.map(move) }))),
        };
        const other = outletsOf(moved);
        outletsOf(plan).forEach((outlet, i) => {
          expect(Math.abs(other[i]!.pressureKpa - outlet.pressureKpa)).toBeLessThan(1e-5);
        });
      }),
      settings,
    );
  });

  test('the order of records changes nothing', () => {
    fc.assert(
      fc.property(zone, (z) => {
        const plan = planFor(z);
        const turned = <T extends { readonly id: string }>(table: Table<T>): Table<T> =>
          Table.of(table.toArray().reverse());
        const other = byName(
          outletsOf({
            ...plan,
            levels: turned(plan.levels),
            laterals: turned(plan.laterals),
            runs: turned(plan.runs),
            emitters: turned(plan.emitters),
          }),
        );
        for (const [name, outlet] of byName(outletsOf(plan))) {
          expect(Math.abs(other.get(name)!.pressureKpa - outlet.pressureKpa)).toBeLessThan(1e-6);
        }
      }),
      settings,
    );
  });

  test('drawing a run the other way round changes nothing', () => {
    fc.assert(
      fc.property(zone, (z) => {
        const plan = planFor({ ...z, levels: [] });
        const header = plan.runs.get('H')!;
        const turned = { ...plan, runs: plan.runs.with({ ...header, path: header.path.toReversed() }) };
        const name = (o: OutletResult): string => `${o.owner.id}/${o.at.map((v) => v.toFixed(6)).join()}`;
        const other = new Map(outletsOf(turned).map((o) => [name(o), o]));
        for (const outlet of outletsOf(plan)) {
          expect(Math.abs(other.get(name(outlet))!.pressureKpa - outlet.pressureKpa)).toBeLessThan(1e-6);
        }
      }),
      settings,
    );
  });

  test('a run cut into two joined runs with the same emitters gives the same pressures', () => {
    fc.assert(
      fc.property(zone, number(0.05, 0.95), (z, share) => {
        const plan = planFor(z);
        const run = plan.runs.get('R0')!;
        const { first, second } = cut(run, groundOf(plan), share);
        const other = outletsOf({ ...plan, runs: plan.runs.with(first, second) });
        const whole = outletsOf(plan);
        const own = other.filter((o) => o.runId === first.id || o.runId === second.id);
        const before = whole.filter((o) => o.runId === 'R0');
        expect(own.length).toBe(before.length);
        const along = (o: OutletResult): number => o.at[0];
        own.sort((a, b) => along(a) - along(b));
        before.forEach((outlet, i) => {
          expect(Math.abs(own[i]!.pressureKpa - outlet.pressureKpa)).toBeLessThan(1e-6);
        });
        const rest = byName(other);
        for (const outlet of whole.filter((o) => o.runId !== 'R0')) {
          const same = rest.get(`${outlet.owner.table}/${outlet.owner.id}/${outlet.number}`)!;
          expect(Math.abs(same.pressureKpa - outlet.pressureKpa)).toBeLessThan(1e-6);
        }
      }),
      settings,
    );
  });

  test('one more metre of water at the supply lowers no pressure', () => {
    fc.assert(
      fc.property(zone, (z) => {
        const low = outletsOf(planFor(z));
        const high = outletsOf(planFor({ ...z, staticKpa: z.staticKpa + 9.80665, hasWorkingPoint: false }));
        low.forEach((outlet, i) => {
          expect(high[i]!.pressureKpa).toBeGreaterThanOrEqual(outlet.pressureKpa - 1e-5);
        });
      }),
      settings,
    );
  });
});

/** Cuts a run at a share of its length in plan, a little beside any emitter, and keeps the emitters' places. */
function cut(run: Run, ground: ReturnType<typeof groundOf>, share: number): { first: Run; second: Run } {
  const { firstM, spacingM } = run.inline!;
  const total = pathLength(run.path);
  const part = (along: number): Path => {
    const kept: Point[] = [];
    let walked = 0;
    run.path.forEach((p, i) => {
      if (i > 0) walked += pathLength([run.path[i - 1]!, p]);
      if (walked < along) kept.push(p);
    });
    return [...kept, pointAlong(run.path, along)];
  };
  let along = share * total;
  let onGround = 0;
  for (let tries = 0; tries < 40; tries++) {
    onGround = ground.surfaceLength(part(along));
    const beside = (((onGround - firstM) % spacingM) + spacingM) % spacingM;
    if (beside > 0.02 && beside < spacingM - 0.02) break;
    along += along < total / 2 ? 0.013 : -0.013;
  }
  const firstPath = part(along);
  const at = firstPath.at(-1)!;
  const rest = run.path.slice(firstPath.length - 1);
  const passed = onGround < firstM ? 0 : Math.floor((onGround - firstM) / spacingM) + 1;
  return {
    first: { ...run, path: firstPath },
    second: {
      ...run,
      id: 'R0b',
      path: [at, ...rest],
      inline: { ...run.inline!, firstM: firstM + passed * spacingM - onGround },
    },
  };
}
