import { describe, expect, test } from 'vitest';
import { acceptanceBands } from '../catalog/index.ts';
import { designEu } from '../hydraulics/index.ts';
import type { Plan } from '../plan/records.ts';
import { acceptanceOf } from './limits/acceptance.ts';
import { blank, control, dripline, emitter, level, planOf, PSI, supply } from './plan-for-tests.ts';
import type { OutletResult } from './results.ts';
import { studyOf } from './study.ts';
import { uniformityOf, variedUniformity } from './uniformity.ts';

const outlet = (flowLph: number, more: Partial<OutletResult> = {}): OutletResult => ({
  owner: { table: 'runs', id: 'R' },
  runId: 'R',
  number: 1,
  at: [0, 0],
  zM: 0,
  plantId: null,
  ratedFlowLph: 1,
  minKpa: 50,
  maxKpa: 200,
  compensating: false,
  cv: 0.05,
  closingKpa: null,
  tap: [0, 0],
  feederM: 0,
  pressureKpa: 100,
  flowLph,
  state: 'good',
  ...more,
});
/** Flows of mean 1.975, s(n - 1) 0.0539135, least 1.88; worked out by hand from the formulas. */
const SET = [2.0, 1.98, 1.95, 1.93, 2.02, 2.05, 1.9, 1.88, 1.97, 2.01, 1.99, 1.96, 1.94, 1.92, 2.03, 2.07];

describe('uniformity with manufacturing variation', () => {
  test('design emission uniformity, one emitter a plant and two', () => {
    const one = variedUniformity(SET.map((flow) => outlet(flow)));
    expect(one.eu).toBeCloseTo(100 * (1 - 1.27 * 0.05) * (1.88 / 1.975), 9);
    expect(one.eu).toBeCloseTo(designEu(0.05, 1, 1.88 / 1.975), 9);
    const pairs = SET.map((flow, i) => outlet(flow, { plantId: `P${i >> 1}` }));
    expect(variedUniformity(pairs).eu).toBeCloseTo(designEu(0.05, 2, 1.88 / 1.975), 9);
  });
  test('an emitter that plants share counts for the plant with the fewest', () => {
    // P0 has two, one of them shared with P1, which has no other: that one stands for e = 1, the other for 2.
    const two = [outlet(2, { plantId: 'P0', alsoPlantIds: ['P1'] }), outlet(2, { plantId: 'P0' })];
    const cv = (0.05 + 0.05 / Math.SQRT2) / 2;
    expect(variedUniformity(two).eu).toBeCloseTo(100 * (1 - 1.27 * cv), 9);
  });
  test('published examination question: Cv 0.06, two emitters a plant, qmin / qmean (100/120)^0.6 give 84.81', () => {
    // Two plants of two emitters each, three at the mean and the least below it: share of the least over the mean.
    const share = (100 / 120) ** 0.6;
    const rest = (4 - share) / 3;
    const flows = [share, rest, rest, rest].map((flow, i) =>
      outlet(flow, { cv: 0.06, plantId: `P${i >> 1}` }),
    );
    expect(variedUniformity(flows).eu).toBeCloseTo(84.81, 2);
  });
  test('statistical uniformity joins the variation of pressure and of making', () => {
    const none = variedUniformity(SET.map((flow) => outlet(flow, { cv: 0 })));
    expect(none.us).toBeCloseTo(97.2702, 4);
    const made = variedUniformity(SET.map((flow) => outlet(flow, { cv: 0.05 })));
    expect(made.us).toBeCloseTo(100 * (1 - Math.hypot(0.0539135 / 1.975, 0.05)), 4);
    expect(variedUniformity([outlet(2, { cv: 0 })])).toEqual({ eu: 100, us: 100 });
  });
  test('nothing flowing has none', () => {
    expect(variedUniformity([])).toEqual({ eu: null, us: null });
    expect(variedUniformity([outlet(0)])).toEqual({ eu: null, us: null });
  });
});

test('outlets that are dry or apart count with no flow', () => {
  const good = Array.from({ length: 12 }, () => outlet(1));
  const none = [outlet(0, { state: 'dry' }), outlet(0, { state: 'apart', pressureKpa: NaN })];
  expect(uniformityOf(good)!.dulq).toBeCloseTo(100, 9);
  // Of 14 the low quarter is 3.5: two with nothing, one and a half with 1; the mean is 12/14.
  expect(uniformityOf([...good, ...none])!.dulq).toBeCloseTo((100 * (1.5 / 3.5)) / (12 / 14), 9);
  expect(uniformityOf([...good, ...none])!.flowVariation).toBe(100);
  expect(uniformityOf(none)).toBeNull();
});

describe('of a plan', () => {
  const hill: Plan = planOf({
    levels: [level('a', 0, 0, 0), level('b', 30, 0, 30)],
    supplies: [supply('V', [0, 0], { pressureKpa: 600 })],
    controls: [control('C', [0, 0], { setKpa: 250 })],
    runs: [blank('H', [0, 0], [30, 0])],
    emitters: [emitter('foot', 'H', [1, 0]), emitter('middle', 'H', [10, 0]), emitter('top', 'H', [29, 0])],
  });
  test('counts by state, and the outlets of lowest and highest pressure', () => {
    const { results } = studyOf(hill);
    expect(results.counts).toEqual({ good: 1, low: 0, high: 1, dry: 1, apart: 0 });
    expect(results.outlets[results.lowestOutlet!]!.owner.id).toBe('top');
    expect(results.outlets[results.highestOutlet!]!.owner.id).toBe('foot');
    expect(results.lowestKpa).toBe(results.outlets[results.lowestOutlet!]!.pressureKpa);
    const empty = studyOf(planOf({})).results;
    expect([empty.lowestOutlet, empty.highestOutlet]).toEqual([null, null]);
  });
  test("a run's lowest pressure is also that behind its feeders", () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [5, 0])],
      emitters: [emitter('far', 'H', [4, 1.5], { ratedFlowLph: 15 })],
    });
    const { results } = studyOf(plan);
    expect(results.runs.get('H')!.worstKpa).toBe(results.outlets[0]!.pressureKpa);
  });
  test('each band that fits the kind of outlets stands with its class and source', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0], { setKpa: 20 * PSI })],
      runs: [
        dripline('R', [
          [0, 0],
          [30, 0],
        ]),
      ],
    });
    const found = acceptanceOf(studyOf(plan).results);
    expect(found.some(({ applies }) => applies.startsWith('line'))).toBe(true);
    expect(found.some(({ applies }) => applies.startsWith('point'))).toBe(false);
    expect(found.filter(({ measure }) => measure === 'Us')).toHaveLength(acceptanceBands('Us').length);
    for (const { className, source, percent } of found) {
      expect(className).not.toBe('');
      expect(source).not.toMatch(/from memory/);
      expect(Number.isFinite(percent)).toBe(true);
    }
    expect(acceptanceOf(studyOf(planOf({})).results)).toEqual([]);
  });
});
