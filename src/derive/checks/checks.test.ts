import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import { blank, control, dripline, emitter, lateral, level, planOf, PSI, supply } from '../plan-for-tests.ts';
import { studyOf } from '../study.ts';

const GPM = 227.1247;
const notice = (plan: Plan, rule: string) => studyOf(plan, 'us').notices.find((found) => found.rule === rule);
/** What is told of most plans here, as little is surveyed of their water, and their rows end closed. */
const USUAL = ['loss-left-out', 'dead-end', 'no-flush-end'];
const rules = (plan: Plan): string[] =>
  studyOf(plan, 'us')
    .notices.map((found) => found.rule)
    .filter((rule) => !USUAL.includes(rule));

const row: Point[] = [
  [0, 0],
  [9, 0],
];
const sound = planOf({
  supplies: [supply('V', [0, 0])],
  controls: [control('C', [0, 0])],
  runs: [dripline('R', row)],
});

test('a sound plan gives no notice', () => {
  expect(rules(sound)).toEqual([]);
});

describe('supply and control set', () => {
  test('no pressure typed', () => {
    const plan = { ...sound, supplies: Table.of([supply('V', [0, 0], { pressureKpa: null })]) };
    expect(rules(plan)).toEqual(['supply-pressure']);
    expect(studyOf(plan).results.outlets.every((outlet) => outlet.state === 'apart')).toBe(true);
    const typed = { ...plan, water: { ...plan.water, staticKpa: 400 } };
    expect(rules(typed)).toEqual([]);
  });
  test('nets of two valves that meet', () => {
    const two = (end: Point): Plan =>
      planOf({
        supplies: [supply('V1', [0, 0]), supply('V2', [20, 0])],
        controls: [control('C1', [0, 0]), control('C2', [20, 0])],
        runs: [
          dripline('R1', [
            [0, 0],
            [10, 0],
          ]),
          dripline('R2', [[20, 0], end]),
        ],
      });
    expect(rules(two([10, 1]))).toEqual([]);
    expect(notice(two([10, 0]), 'supplies-joined')!.refs.map((ref) => ref.id)).toEqual(['V1', 'V2']);
  });
  test('a run on the valve without a control set', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0], { pressureKpa: 150 })],
      runs: [dripline('R', row)],
    });
    expect(notice(plan, 'no-control-set')!.refs).toEqual([{ table: 'runs', id: 'R' }]);
  });
  test('flow outside the flow range of the regulator', () => {
    const withRegulator = (regulator: string): Plan => ({
      ...sound,
      controls: Table.of([control('C', [0, 0], { regulator })]),
    });
    // 30 emitters of about 3 L/h are 0.4 gpm.
    expect(rules(withRegulator('window-0.1-8'))).toEqual([]);
    const low = notice(withRegulator('window-2-20'), 'regulator-flow-low')!;
    expect(low.severity).toBe('error');
    expect(low.message).toContain('flow range of its regulator begins at 2.00 gpm');
    expect(low.message).not.toContain('window');
    expect(low.message).toContain('gpm');
    expect(studyOf(withRegulator('window-2-20'), 'metric').notices[0]!.message).toContain('L/h');
    const many = Array.from({ length: 24 }, (_, k) =>
      dripline(`R${k}`, [
        [0, 0],
        [25, k],
      ]),
    );
    expect(rules({ ...sound, runs: Table.of(many) })).toContain('regulator-flow-high');
    expect(rules({ ...sound, runs: Table.of(many) })).toContain('filter-flow-high');
  });
  test('pressure to spare before the regulator', () => {
    const at = (pressureKpa: number): Plan => ({
      ...sound,
      supplies: Table.of([supply('V', [0, 0], { pressureKpa })]),
    });
    expect(rules(at(31 * PSI))).not.toContain('regulator-headroom');
    expect(notice(at(28 * PSI), 'regulator-headroom')!.severity).toBe('warning');
    expect(notice(at(20 * PSI), 'regulator-headroom')!.severity).toBe('error');
  });
  test('minimum and maximum flow of the valve', () => {
    const valve = (minGpm: number, maxGpm: number): Plan => ({
      ...sound,
      supplies: Table.of([supply('V', [0, 0], { minFlowLph: minGpm * GPM, maxFlowLph: maxGpm * GPM })]),
    });
    expect(rules(valve(0.25, 15))).toEqual([]);
    expect(notice(valve(5, 160), 'valve-flow-low')!.message).toContain('5.00 gpm');
    expect(rules(valve(0.1, 0.2))).toEqual(['valve-flow-high']);
    // Nothing drawn behind the valve is no fault of the valve.
    expect(rules({ ...valve(5, 160), runs: Table.of() })).toEqual(['control-without-outlet']);
  });
});

describe('outlets and runs', () => {
  test('pressures out of range are told once for each run, with their number', () => {
    const steep = {
      ...sound,
      levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, -9)]),
      supplies: Table.of([supply('V', [0, 0], { pressureKpa: 500 })]),
    };
    const high = notice(steep, 'outlet-pressure-high')!;
    const count = studyOf(steep).results.outlets.filter((outlet) => outlet.state === 'high').length;
    expect(count).toBeGreaterThan(0);
    expect(high.message.startsWith(`${count} outlet${count === 1 ? '' : 's'} of run "R"`)).toBe(true);
    const weak = { ...sound, controls: Table.of([control('C', [0, 0], { setKpa: 7 * PSI })]) };
    expect(rules(weak)).toContain('outlet-pressure-low');
    const hill = { ...sound, levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, 25)]) };
    expect(rules(hill)).toContain('outlets-dry');
  });
  test('runs behind one control set are told together, those behind another apart', () => {
    const zone = (n: number, x: number) => ({
      supply: supply(`V${n}`, [x, 0]),
      control: control(`C${n}`, [x, 0], { setKpa: 7 * PSI }),
      runs: [
        blank(`H${n}`, [x, 0], [x, 8]),
        ...Array.from({ length: 7 }, (_, k) =>
          dripline(`R${n}${k}`, [
            [x, k + 1],
            [x + 6, k + 1],
          ]),
        ),
      ],
    });
    const zones = [zone(1, 0), zone(2, 20)];
    const plan = planOf({
      supplies: zones.map((one) => one.supply),
      controls: zones.map((one) => one.control),
      runs: zones.flatMap((one) => one.runs),
    });
    const low = studyOf(plan).notices.filter(({ rule }) => rule === 'outlet-pressure-low');
    expect(low.map(({ refs }) => refs.map(({ id }) => id))).toEqual(
      [1, 2].map((n) => Array.from({ length: 7 }, (_, k) => `R${n}${k}`)),
    );
    const { outlets } = studyOf(plan).results;
    for (const { message } of low) {
      expect(message.startsWith(`${outlets.length / 2} outlets of runs `)).toBe(true);
      expect(message).toContain('and 2 more have too little pressure');
    }
  });
  test('water faster than 5 ft/s', () => {
    const plan = planOf({
      supplies: [supply('V', [-5, 0])],
      laterals: [lateral('V', 'T', [-5, 0], [0, 0], { size: '1/2', material: 'copper' })],
      controls: [control('C', [0, 0])],
      runs: Array.from({ length: 12 }, (_, k) =>
        dripline(
          `R${k}`,
          [
            [2, 0],
            [14, k + 1],
          ],
          { ratedFlowLph: 4 },
        ),
      ),
    });
    const fed = { ...plan, runs: plan.runs.with(blank('H', [0, 0], [2, 0])) };
    const told = studyOf(fed).notices.filter((found) => found.rule === 'velocity-high');
    expect(told.map((found) => found.refs.map((ref) => ref.id))).toContainEqual(['H']);
    expect(told[0]!.message).toContain('ft/s');
    expect(rules({ ...sound })).not.toContain('velocity-high');
  });
  test('long feeders', () => {
    const reach = (feet: number): Plan =>
      planOf({
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [blank('H', [0, 0], [9, 0])],
        emitters: Array.from({ length: 8 }, (_, k) =>
          emitter(`E${k}`, 'H', [k + 1, k === 0 ? feet * 0.3048 : 0], { ratedFlowLph: 4 }),
        ),
      });
    expect(rules(reach(6))).toEqual([]);
    expect(notice(reach(7), 'feeder-long')!.severity).toBe('warning');
    expect(notice(reach(11), 'feeder-long')!.severity).toBe('error');
    expect(notice(reach(11), 'feeder-long')!.refs).toEqual([{ table: 'emitters', id: 'E0' }]);
  });
});

describe('plants, outlines, photo', () => {
  const plant = (id: string, at: Point): Plant => ({
    id,
    at,
    name: `shrub ${id}`,
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1,
    rootBallM: null,
    waterUse: null,
  });
  test('a plant that nothing waters, once emitters are laid out', () => {
    const base = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [
        blank('H', [0, 0], [9, 0]),
        dripline('R', [
          [0, 0],
          [0, 9],
        ]),
      ],
    });
    const plan = {
      ...base,
      plants: Table.of([
        plant('owned', [3, 0.7]),
        plant('near', [5, 0.2]),
        plant('row', [0.3, 6]),
        plant('dry', [7, 5]),
      ]),
    };
    // One emitter of the row is enough for the rule to speak.
    expect(notice(plan, 'plant-without-emitter')!.refs.map(({ id }) => id)).toEqual(['owned', 'near', 'dry']);
    const bare = { ...plan, runs: plan.runs.without(['R']) };
    expect(rules(bare)).not.toContain('plant-without-emitter');
    const emitters = Table.of([emitter('E1', 'H', [3, 0], { plantId: 'owned' }), emitter('E2', 'H', [5, 0])]);
    const found = notice({ ...plan, emitters }, 'plant-without-emitter')!;
    expect(found.refs).toEqual([{ table: 'plants', id: 'dry' }]);
    expect(found.message).toContain('shrub dry');
  });
  test('an outline that crosses itself', () => {
    const bed = (...outline: Point[]): Plan => ({
      ...sound,
      areas: Table.of([{ id: 'B', use: 'bed' as const, name: '', outline, holes: [] }]),
    });
    expect(rules(bed([0, 0], [4, 0], [4, 4], [0, 4]))).toEqual([]);
    expect(rules(bed([0, 0], [4, 4], [4, 0], [0, 4]))).toEqual(['outline-crossing']);
  });
  test('the photo speaks up when its lines disagree', () => {
    const plan = (lengthM: number): Plan => ({
      ...sound,
      photo: {
        pictureId: 'p',
        name: 'p',
        widthPx: 1000,
        heightPx: 1000,
        corner: [0, 0],
        turnDeg: 0,
        assumedWidthM: 10,
        strength: 1,
        rectification: null,
        measures: [
          { a: [0, 0], b: [900, 0], lengthM: 9, role: 'fit' },
          { a: [0, 0], b: [0, 900], lengthM: 9, role: 'fit' },
          { a: [0, 0], b: [600, 600], lengthM, role: 'check' },
        ],
      },
    });
    expect(rules(plan(8.5))).toEqual([]);
    expect(rules(plan(8.2))).toEqual(['photo-residual']);
  });
});
