import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { LINK } from '../../hydraulics/network.ts';
import type { CheckValve, FlushEnd, Plan } from '../../plan/records.ts';
import { blank, control, dripline, emitter, planOf, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';
import { buildPlanNetwork } from './index.ts';

const valve = (id: string, runId: string, at: Point, openKpa = 0): CheckValve => ({ id, runId, at, openKpa });
const row: Point[] = [
  [0, 0],
  [9, 0],
];
const zone = (path: readonly Point[], ...valves: CheckValve[]): Plan => ({
  ...planOf({
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [dripline('R', path)],
  }),
  checkValves: Table.of(valves),
});
const states = (plan: Plan): string[] => [
  ...new Set(studyOf(plan).results.outlets.map(({ state }) => state)),
];

describe('check valves', () => {
  test('one in the direction of flow changes nothing but for its opening pressure', () => {
    const plain = studyOf(zone(row)).results;
    const free = studyOf(zone(row, valve('K', 'R', [4.5, 0.01]))).results;
    const sprung = studyOf(zone(row, valve('K', 'R', [4.5, 0.01], 7))).results;
    expect(free.lowestKpa).toBeCloseTo(plain.lowestKpa, 3);
    const before = (at: number): number => sprung.outlets[at]!.pressureKpa;
    // Outlets 15 and 16 lie 0.15 m before and behind it.
    expect(before(14) - before(15)).toBeGreaterThan(7);
    expect(before(14) - before(15)).toBeLessThan(7.6);
    expect(sprung.outlets).toHaveLength(plain.outlets.length);
    expect(sprung.runs.get('R')!.lengthM).toBeCloseTo(9, 9);
  });
  test('the valve is a link of its own between two nodes at its place', () => {
    const { network, parts, pieces, runNodes } = buildPlanNetwork(zone(row, valve('K', 'R', [4.5, 0.2])));
    const [placed] = parts.checkValves;
    const { link } = placed!;
    expect(network.links.kind[link]).toBe(LINK.check);
    expect(pieces[link]).toEqual({ owner: { table: 'checkValves', id: 'K' }, a: [4.5, 0], b: [4.5, 0] });
    expect(runNodes.get('R')).toContain(network.links.from[link]);
    expect(runNodes.get('R')).toContain(network.links.to[link]);
    let length = 0;
    pieces.forEach(({ owner }, l) => (length += owner.table === 'runs' ? network.links.lengthM[l]! : 0));
    expect(length).toBeCloseTo(9, 9);
  });
  test('one against the flow shuts off what lies behind it, and is told', () => {
    const plan = zone([...row].reverse(), valve('K', 'R', [4.5, 0]));
    expect(states(plan).toSorted()).toEqual(['apart', 'good']);
    const told = studyOf(plan).notices.find(({ rule }) => rule === 'check-valve-backwards')!;
    expect(told.severity).toBe('error');
    expect(told.refs[0]).toEqual({ table: 'checkValves', id: 'K' });
    expect(studyOf(zone(row, valve('K', 'R', [4.5, 0]))).notices.map(({ rule }) => rule)).not.toContain(
      'check-valve-backwards',
    );
  });
  test('at the start, at the end, on an outlet, and several in one place', () => {
    const at = [0, 9, 0.15, 4.5, 4.5].map((x, i) => valve(`K${i}`, 'R', [x, 0], i === 4 ? 5 : 0));
    const plan = zone(row, ...at);
    const { network, parts } = buildPlanNetwork(plan);
    expect(parts.checkValves).toHaveLength(5);
    expect([...network.links.lengthM].every((length) => length >= 0)).toBe(true);
    expect(states(plan)).toEqual(['good']);
    expect(studyOf(plan).results.solution.converged).toBe(true);
  });
  test('in a run between two headers it lets water pass one way', () => {
    const ladder = (x0: number, x1: number): Plan => ({
      ...planOf({
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [blank('A', [0, 0], [5, 0]), blank('J', [x0, 0], [x1, 3]), blank('B', [5, 3], [9, 3])],
        emitters: [emitter('E', 'B', [8, 3])],
      }),
      checkValves: Table.of([valve('K', 'J', [5, 1.5])]),
    });
    expect(states(ladder(5, 5))).toEqual(['good']);
    const plan = ladder(5, 5);
    const turned = { ...plan, runs: plan.runs.with(blank('J', [5, 3], [5, 0])) };
    expect(states(turned)).toEqual(['apart']);
  });
  test('one whose run is gone is left out and told', () => {
    const plan = zone(row, valve('K', 'gone', [4, 0]));
    expect(buildPlanNetwork(plan).notices.map(({ rule }) => rule)).toEqual(['check-valve-without-run']);
  });
});

test('flush ends lie at the ends of their runs; one without a run is told', () => {
  const end = (id: string, runId: string, which: FlushEnd['end']): FlushEnd => ({ id, runId, end: which });
  const plan = {
    ...zone(row),
    flushEnds: Table.of([end('F', 'R', 'end'), end('S', 'R', 'start'), end('X', 'no', 'end')]),
  };
  const { network, parts, notices } = buildPlanNetwork(plan);
  expect(parts.flushEnds.map(({ id, at }) => [id, at])).toEqual([
    ['F', [9, 0]],
    ['S', [0, 0]],
  ]);
  const [last, first] = parts.flushEnds;
  expect(network.links.to[last!.link]).toBe(last!.node);
  expect(network.links.from[first!.link]).toBe(first!.node);
  expect(notices.map(({ rule }) => rule)).toEqual(['flush-end-without-run']);
});
