import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { solve } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { checkPlan } from '../checks/index.ts';
import { underLaw } from '../network/friction-law.ts';
import { blank, control, dripline, emitter, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { readResults } from '../read-results.ts';
import { readFlushing } from '../scenarios/flushing.ts';
import { networkFor } from '../scenarios/network-for.ts';
import type { Scenario } from '../scenarios/scenario.ts';
import { staticOf } from '../scenarios/static-pressures.ts';
import { OUTLET_STATES, type OutletValues } from '../outlet-values.ts';
import type { OutletResult } from '../results.ts';
import { outletFacts, outletsFrom } from './outlet-columns.ts';
import {
  columnsOf,
  createStudyAsker,
  createStudyServer,
  OutOfStep,
  type StudyOrder,
  type StudyReply,
} from './study-server.ts';

/** Dripline, point emitters on and off the tubing, a run without water, one too high to get any. */
const PLAN: Plan = {
  ...planOf({
    levels: [level('Z1', 0, 0, 0), level('Z2', 40, 0, 1), level('Z3', 0, 40, 2)],
    supplies: [supply('V', [0, 0], { pressureKpa: 300 })],
    controls: [control('C', [0, 0])],
    runs: [
      blank('H', [0, 0], [0, 6]),
      dripline('R1', [
        [0, 2],
        [12, 2],
      ]),
      dripline('R2', [
        [0, 6],
        [12, 6],
      ]),
      dripline('far', [
        [30, 30],
        [36, 30],
      ]),
    ],
    emitters: [
      emitter('E1', 'H', [0.4, 3], { plantId: 'P1', law: 'point-pc' }),
      emitter('E2', 'H', [0, 4], { plantId: 'P1' }),
      emitter('R1', 'H', [-0.3, 5]),
    ],
  }),
  flushEnds: Table.of([
    { id: 'F1', runId: 'R1', end: 'end' as const },
    { id: 'F2', runId: 'R2', end: 'end' as const },
  ]),
};
const valuesOf = (outlets: readonly OutletResult[]): OutletValues => ({
  pressureKpa: Float64Array.from(outlets, ({ pressureKpa }) => pressureKpa),
  flowLph: Float64Array.from(outlets, ({ flowLph }) => flowLph),
  states: Uint8Array.from(outlets, ({ state }) => OUTLET_STATES.indexOf(state)),
});
const RUNNING: Scenario = { kind: 'running' };
const order = (plan: Plan, more: Partial<StudyOrder> = {}): StudyOrder => ({
  plan,
  scenario: RUNNING,
  friction: 'darcy-weisbach',
  units: 'us',
  ...more,
});

/** An asker and a server with the way of posts between them. */
function pair() {
  const asker = createStudyAsker();
  const server = createStudyServer();
  const replies: StudyReply[] = [];
  return {
    asker,
    server,
    replies,
    ask(asked: StudyOrder, whole?: boolean) {
      const request = structuredClone(asker.request(asked, whole));
      const made = server.study(request);
      const reply = structuredClone(made, { transfer: columnsOf(made) });
      replies.push(reply);
      return asker.read(reply);
    },
  };
}
const expected = ({ plan, scenario, friction }: StudyOrder) => {
  const network = underLaw(networkFor(plan, scenario), friction);
  const results = readResults(network, solve(network.network));
  return { network, results };
};
/** Figures of a solution that was begun from another one agree to this many digits. */
const near = (value: unknown, wanted: unknown): void => {
  if (typeof wanted === 'number' && Number.isFinite(wanted)) {
    expect(Math.abs((value as number) - wanted)).toBeLessThan(1e-5 * (1 + Math.abs(wanted)));
  } else expect(value).toEqual(wanted);
};

describe('outlets as columns', () => {
  test('come back as they were, whatever is null or has no number', () => {
    const { outlets } = expected(order(PLAN)).results;
    const odd = outlets.map((outlet, i) =>
      i % 3 === 0 ? { ...outlet, closingKpa: i, plantId: `P${i}` } : outlet,
    );
    expect(new Set(odd.map(({ owner }) => owner.table))).toEqual(new Set(['runs', 'emitters']));
    expect(new Set(odd.map(({ state }) => state)).has('apart')).toBe(true);
    for (const list of [outlets, odd, []]) {
      const facts = structuredClone(outletFacts(list));
      expect(outletsFrom(facts, structuredClone(valuesOf(list)))).toEqual(list);
    }
  });
});

describe('the study by patches', () => {
  test('says of a plan exactly what a study in one go says', () => {
    const { ask, server } = pair();
    const asked = order(PLAN);
    const { network, results } = expected(asked);
    expect(ask(asked)).toEqual({ results, flushed: [], standing: null });
    expect(server.check()).toEqual(checkPlan(PLAN, network, results, 'us'));
  });

  test('keeps saying so while the plan is edited and situations change', () => {
    const { ask, server, replies } = pair();
    const bent: Point[] = [
      [0, 6],
      [9, 7],
    ];
    const moved = { ...PLAN, runs: PLAN.runs.with(dripline('R2', bent)) };
    const cut = { ...moved, runs: moved.runs.without(['R1']), emitters: moved.emitters.without(['R1']) };
    const states: StudyOrder[] = [
      order(PLAN),
      order(moved),
      order(moved, { units: 'metric' }),
      order(moved, { friction: 'hazen-williams' }),
      order(moved, { scenario: { kind: 'flushing', open: ['F1', 'F2'] } }),
      order(moved, { scenario: { kind: 'static' } }),
      order(moved, { scenario: { kind: 'clogged', share: 0.3 } }),
      order(cut),
      order(PLAN),
    ];
    // All of them first: the network of the last plan alone is remembered.
    const answers = states.map((asked) => ({ asked, told: ask(asked), notices: server.check() }));
    for (const { asked, told, notices } of answers) {
      const { network, results } = expected(asked);
      expect(told.results.outlets.length).toBe(results.outlets.length);
      told.results.outlets.forEach((outlet, i) => {
        const wanted = results.outlets[i]!;
        for (const key of Object.keys(wanted) as (keyof typeof wanted)[]) near(outlet[key], wanted[key]);
      });
      expect([...told.results.runs.keys()]).toEqual([...results.runs.keys()]);
      for (const [id, run] of results.runs) {
        for (const key of Object.keys(run) as (keyof typeof run)[])
          near(told.results.runs.get(id)![key], run[key]);
      }
      expect(told.results.counts).toEqual(results.counts);
      expect(told.flushed.map(({ id }) => id)).toEqual(
        readFlushing(network, results.solution).map(({ id }) => id),
      );
      const standing = staticOf(asked.plan.controls, networkFor(asked.plan, RUNNING));
      expect(told.standing).toEqual(
        asked.scenario.kind === 'static'
          ? {
              highestKpa: standing.highestKpa,
              outletsOver: standing.outletsOver.length,
              runsOver: standing.runsOver.length,
            }
          : null,
      );
      expect(notices).toEqual(checkPlan(asked.plan, network, told.results, asked.units));
    }
    // Places are told again only when they changed; a situation does not move outlets.
    expect(replies.map(({ facts }) => facts !== null)).toEqual([
      ...[true, true, false, false, false, false, false, true, true],
    ]);
  });

  test('a plant that was moved is not solved again, but is checked', () => {
    const { ask } = pair();
    const first = ask(order(PLAN));
    const second = ask(order({ ...PLAN, climate: { lowestWinterC: -1, note: '' } }));
    expect(second.results.solution).toEqual(first.results.solution);
    expect(second.results.solution.iterations).toBe(first.results.solution.iterations);
  });

  test('a patch on another plan is refused; the whole plan puts it right', () => {
    const { asker, server, ask } = pair();
    ask(order(PLAN));
    // A request that got lost on its way.
    asker.request(order({ ...PLAN, runs: PLAN.runs.without(['R1']) }));
    const next = { ...PLAN, runs: PLAN.runs.without(['R2']) };
    expect(() => server.study(asker.request(order(next)))).toThrow(OutOfStep);
    const told = ask(order(next), true);
    expect([...told.results.runs.keys()]).toEqual([...expected(order(next)).results.runs.keys()]);
  });

  test('an error of the calculation leaves the mirror in step', () => {
    const { ask } = pair();
    ask(order(PLAN));
    const broken = order(PLAN, { scenario: null as unknown as Scenario });
    expect(() => ask(broken)).toThrow('null');
    const next = { ...PLAN, controls: PLAN.controls.with(control('C', [0, 0], { setKpa: 20 * PSI })) };
    expect(ask(order(next)).results.zones[0]!.outletKpa).toBeCloseTo(20 * PSI, 1);
  });
});
