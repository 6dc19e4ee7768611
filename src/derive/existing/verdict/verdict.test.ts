import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../../../base/table.ts';
import { emptyPlan } from '../../../plan/empty.ts';
import type { WaterUse } from '../../../plan/records.ts';
import { verdictOf } from './index.ts';
import {
  area,
  box,
  calmPlan,
  FT,
  head,
  only,
  pipe,
  plant,
  reasonsOf,
  valve,
} from './plan-for-verdict-tests.ts';

describe('nothing amiss', () => {
  test('nothing speaks for drip, so the zone is left; what was looked at is told', () => {
    const verdict = verdictOf(calmPlan(), 'us');
    expect(verdict.outcome).toBe('leave');
    expect(verdict.reasons).toEqual([]);
    expect(verdict.clear.map(({ rule }) => rule).sort()).toEqual([
      'mixed-water-use',
      'overspray-share',
      'pressure-budget',
      'rate-over-intake',
      'time-to-ponding',
      'valve-minimum',
    ]);
    expect(verdict.missing).toEqual(['Levels or a measured slope of the beds.']);
  });

  test('a steep bed speaks for drip, a gentle one is in order', () => {
    const sloping = (percent: number) =>
      verdictOf(
        calmPlan({
          falls: Table.of([{ id: 'S', from: [0, 10], to: [0, 0], by: { kind: 'slope', percent } }]),
        }),
        'us',
      );
    const steep = sloping(40).reasons.find(({ rule }) => rule === 'steep-slope')!;
    expect(steep).toMatchObject({ speaks: 'for', limit: 15, unit: '%', blocks: false });
    expect(steep.value).toBeCloseTo(40, 6);
    expect(sloping(10).reasons.map(({ rule }) => rule)).not.toContain('steep-slope');
    expect(sloping(10).clear.map(({ rule }) => rule)).toContain('steep-slope');
  });

  test('an empty plan: leave, and what to measure first', () => {
    const verdict = verdictOf(emptyPlan(), 'us');
    expect(verdict).toMatchObject({ outcome: 'leave', reasons: [], zones: [] });
    expect(verdict.missing).toHaveLength(1);
    expect(verdict.missing[0]).toContain('spray heads');
  });
});

test('heads drawn inside of a building are named as missing', () => {
  const areas = Table.of([area('B', 'bed', box(0, 0, 10, 10)), area('W', 'building', box(2, 4, 2, 2))]);
  expect(verdictOf(calmPlan({ areas }), 'us').missing).toContain(
    'Where head 1 stands: it is drawn inside of a building.',
  );
});

describe('old pipe', () => {
  test('galvanised steel, by any of its spellings', () => {
    const laterals = Table.of([pipe('V', '1', { material: 'galv. steel' }), pipe('1', '2')]);
    expect(only(calmPlan({ laterals }), 'galvanised')).toMatchObject({ speaks: 'condition', value: 1 });
    expect(only(calmPlan({ laterals }), 'galvanised').waysOut.join(' ')).toContain('new pipe from the valve');
  });

  test('assumed pieces, pieces without a bore, and no pipe at all', () => {
    const laterals = Table.of([pipe('V', '1', { measured: false }), pipe('1', '2', { size: null })]);
    const plan = calmPlan({ laterals });
    expect(only(plan, 'unknown-pipe').message).toContain('1 of 2 pieces of the old lateral is assumed');
    expect(verdictOf(plan, 'us').missing.join(' ')).toContain('Size and material');
    expect(verdictOf(calmPlan({ laterals: Table.of() }), 'us').missing.join(' ')).toContain(
      'old lateral from the valve',
    );
  });
});

describe('large trees', () => {
  const tree = (nowFt: number | null, matureFt: number) =>
    calmPlan({
      plants: Table.of([
        plant('t', [5, 9], {
          plantClass: 'tree',
          canopyNowM: nowFt === null ? null : nowFt * FT,
          canopyMatureM: matureFt * FT,
        }),
      ]),
    });

  test.each([
    [20, 30, 1],
    [null, 20, 1],
    [19, 19, 1],
    [5, 30, 0],
    [null, 15, 0],
    [8, 9, 0],
  ])('canopy now %s ft, mature %d ft', (now, mature, count) => {
    expect(reasonsOf(tree(now, mature), 'large-trees')).toHaveLength(count);
  });

  test('share wetted by the usual emitters: 10 x 1.5^2 / 20^2', () => {
    const reason = only(tree(20, 30), 'large-trees');
    expect(reason.value).toBeCloseTo((100 * 10 * 1.5 ** 2) / 400, 6);
    expect(reason).toMatchObject({ limit: 50, speaks: 'condition', blocks: false });
  });
});

describe('several zones', () => {
  const zones = (...waters: ('bed' | 'lawn')[]) =>
    calmPlan({
      heads: Table.of([
        head('1', [3, 5], { zone: '1', blocked: true }),
        ...waters.map((one, i) => head(`x${i}`, [7, 5], { zone: '2', waters: one })),
      ]),
      supplies: Table.of([valve({ zone: '1' }), valve({ id: 'V2', zone: '2' })]),
    });

  test('each has its own outcome and reasons; one to be split makes the whole one', () => {
    const verdict = verdictOf(zones('bed', 'lawn'), 'us');
    expect(verdict.zones.map(({ zone, supplyId, outcome }) => [zone, supplyId, outcome])).toEqual([
      ['1', 'V', 'convert'],
      ['2', 'V2', 'split'],
    ]);
    expect(verdict.outcome).toBe('split');
    expect(verdict.reasons.every(({ zone }) => zone === '1' || zone === '2')).toBe(true);
  });

  test('one to convert beside one to leave: convert', () => {
    const verdict = verdictOf(zones('bed'), 'us');
    expect(verdict.zones.map(({ outcome }) => outcome)).toEqual(['convert', 'leave']);
    expect(verdict.outcome).toBe('convert');
  });
});

test('any plan gets a verdict: every reason has its source, figures and one sentence', () => {
  const number = (min: number, max: number) => fc.option(fc.double({ min, max, noNaN: true }));
  const some = fc.record({
    flow: number(0, 1e8),
    pressure: number(0, 1e4),
    min: number(0, 1e8),
    intake: number(0, 1e4),
    canopy: fc.double({ min: 0, max: 1e5, noNaN: true }),
    radius: fc.double({ min: 0, max: 1e3, noNaN: true }),
    width: fc.double({ min: 0, max: 100, noNaN: true }),
    waters: fc.constantFrom<'bed' | 'lawn'>('bed', 'lawn'),
    zone: fc.constantFrom(null, '1', ''),
    use: fc.constantFrom<WaterUse | null>(null, 'high', 'low'),
    texture: fc.constantFrom(null, 'clay', 'loam', 'nonsense'),
    material: fc.constantFrom(null, 'galv', 'PVC Class 200', 'clay'),
  });
  fc.assert(
    fc.property(some, some, (a, b) => {
      const plan = calmPlan({
        areas: Table.of([
          area('B', 'bed', box(0, 0, a.width, b.width)),
          area('W', 'building', box(b.width, 0, 1, 9)),
        ]),
        heads: Table.of(
          [a, b].map(({ flow, radius, waters, zone }, i) =>
            head(`${i}`, [i, i], {
              flowLph: flow,
              waters,
              zone,
              blocked: null,
              pattern: { kind: 'sector', radiusM: radius, startDeg: 10, sweepDeg: 90 },
            }),
          ),
        ),
        supplies: Table.of([
          valve({ pressureKpa: a.pressure, minFlowLph: a.min, maxFlowLph: b.min, zone: a.zone }),
          valve({ id: 'V2', pressureKpa: b.pressure, zone: b.zone }),
        ]),
        plants: Table.of([
          plant('a', [0, 0], { canopyMatureM: a.canopy, waterUse: a.use }),
          plant('b', [1, 0], { canopyMatureM: b.canopy, waterUse: b.use, plantClass: 'tree' }),
        ]),
        laterals: Table.of([pipe('V', '0', { material: a.material, zone: b.zone, measured: false })]),
        soil: { ...emptyPlan().soil, texture: a.texture, intakeMmPerH: b.intake },
      });
      for (const units of ['us', 'metric'] as const) {
        const { reasons, clear, missing, outcome } = verdictOf(plan, units);
        expect(['convert', 'split', 'leave']).toContain(outcome);
        for (const { source, message, value, limit } of [...reasons, ...clear]) {
          expect(source).not.toBe('');
          expect(message).toMatch(/^[A-Z0-9].*\.$/s);
          expect(message).not.toMatch(/NaN|undefined|Infinity|–/);
          expect(value === null || Number.isFinite(value)).toBe(true);
          expect(limit === null || Number.isFinite(limit)).toBe(true);
        }
        expect(new Set(missing).size).toBe(missing.length);
      }
    }),
    { seed: 99, numRuns: 150 },
  );
});
