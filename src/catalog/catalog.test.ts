import { describe, expect, test } from 'vitest';
import { GPM_LPH, PSI_KPA } from '../base/units.ts';
import {
  acceptanceBands,
  acceptanceClass,
  ACCEPTANCE_BANDS,
  backflowCurve,
  backflowType,
  BACKFLOW_SIZES,
  BACKFLOW_TYPES,
  FILTERS,
  fittingById,
  FITTINGS,
  meterBySize,
  meterCurve,
  meterLossKpa,
  METERS,
  OUTLET_LAWS,
  REGULATORS,
  valvePattern,
  VALVE_PATTERNS,
  zoneValveBySize,
  zoneValveCurve,
  ZONE_VALVES,
  type Entry,
  type LossPoint,
} from './index.ts';

const LISTS: Readonly<Record<string, readonly Entry[]>> = {
  ACCEPTANCE_BANDS,
  BACKFLOW_TYPES,
  FILTERS,
  FITTINGS,
  METERS,
  OUTLET_LAWS,
  REGULATORS,
  VALVE_PATTERNS,
  ZONE_VALVES,
};

function expectRising(points: readonly LossPoint[]): void {
  let last: LossPoint = { flowLph: 0, lossKpa: 0 };
  for (const point of points) {
    expect(point.flowLph).toBeGreaterThan(last.flowLph);
    expect(point.lossKpa).toBeGreaterThan(last.lossKpa);
    last = point;
  }
}

/** Loss read off a curve along straight lines, psi. */
function psiAt(points: readonly LossPoint[], gpm: number): number {
  const flow = gpm * GPM_LPH;
  const after = points.findIndex((point) => point.flowLph >= flow);
  const [a, b] = [points[after - 1] ?? { flowLph: 0, lossKpa: 0 }, points[after]!];
  return (a.lossKpa + ((flow - a.flowLph) / (b.flowLph - a.flowLph)) * (b.lossKpa - a.lossKpa)) / PSI_KPA;
}

test.each(Object.entries(LISTS))('%s: ids differ and every entry names its source', (_, entries) => {
  expect(new Set(entries.map((entry) => entry.id)).size).toBe(entries.length);
  for (const entry of entries) {
    expect(entry.source).toMatch(/common practice|\d{4}|follows from|texts|ASTM|ASAE|AWWA/);
    expect(entry.source).not.toMatch(/from memory|to be checked/);
  }
});

describe('meters', () => {
  // 60 psi budget of a worked example: 3/4 in meter, 13 psi at 30 gpm, gives 0.361 psi at 5 gpm by the square law.
  test('loss grows with the square of flow', () => {
    const meter = meterBySize('3/4')!;
    expect(meterLossKpa(meter, 5 * GPM_LPH) / PSI_KPA).toBeCloseTo(0.3611, 4);
    expect(meterLossKpa(meter, meter.safeMaxLph)).toBe(meter.lossAtMaxKpa);
    expect(meterLossKpa(meter, 0)).toBe(0);
  });
  // Safe maximum flows: AWWA C700, from memory.
  test.each([
    ['5/8', 20],
    ['3/4', 30],
    ['1', 50],
    ['1-1/2', 100],
    ['2', 160],
  ])('%s in passes %s gpm', (size, gpm) => {
    const meter = meterBySize(size)!;
    expect(meter.safeMaxLph).toBeCloseTo(gpm * GPM_LPH, 9);
    expect(meter.lossAtMaxKpa / PSI_KPA).toBeLessThan(15);
    expectRising(meterCurve(meter));
    expect(meterCurve(meter).at(-1)).toEqual({ flowLph: meter.safeMaxLph, lossKpa: meter.lossAtMaxKpa });
  });
  test('an unknown size has none', () => expect(meterBySize('7/8')).toBeUndefined());
});

describe('backflow preventers', () => {
  // Losses at drip flows, psi: common practice.
  test.each([
    ['AVB', 1, 3],
    ['PVB', 2, 5],
    ['DC', 3, 6],
    ['RP', 10, 14],
  ] as const)('%s takes %s to %s psi, at half a gallon as at ten', (id, low, high) => {
    const type = BACKFLOW_TYPES.find((entry) => entry.id === id)!;
    for (const gpm of [0.5, 3, 10]) {
      const [lowest, typical, highest] = (['lowest', 'typical', 'highest'] as const).map((which) =>
        psiAt(backflowCurve(type, '3/4', which)!, gpm),
      );
      expect(lowest).toBeGreaterThanOrEqual(low);
      expect(typical).toBeGreaterThan(lowest!);
      expect(highest).toBeGreaterThan(typical!);
      expect(highest).toBeLessThanOrEqual(high);
    }
  });
  test('curves rise in every size', () => {
    for (const type of BACKFLOW_TYPES) {
      for (const size of BACKFLOW_SIZES) {
        for (const which of ['lowest', 'typical', 'highest'] as const) {
          expectRising(backflowCurve(type, size, which)!);
        }
      }
    }
  });
  test('an unknown size has no curve, not even one named like a part of every object', () => {
    expect(backflowCurve(BACKFLOW_TYPES[0]!, '6')).toBeUndefined();
    expect(backflowCurve(BACKFLOW_TYPES[0]!, 'constructor')).toBeUndefined();
  });
  test.each([
    ['PVB', 'PVB'],
    ['pressure vacuum breaker', 'PVB'],
    ['rpz', 'RP'],
    ['RP', 'RP'],
    ['Reduced pressure', 'RP'],
    ['double check', 'DC'],
    ['DCVA', 'DC'],
    ['anti-siphon valve', 'AVB'],
    ['none', undefined],
  ])('%s is %s', (written, id) => expect(backflowType(written)?.id).toBe(id));
});

describe('zone valves', () => {
  // 1 to 5 psi: common practice.
  test.each([
    ['3/4', 1, 15],
    ['1', 2, 30],
  ])('%s in, globe, takes 1 to 5 psi from %s to %s gpm', (size, from, to) => {
    const curve = zoneValveCurve(zoneValveBySize(size)!, valvePattern('globe'));
    expectRising(curve);
    expect(psiAt(curve, from)).toBeGreaterThanOrEqual(1);
    expect(psiAt(curve, to)).toBeCloseTo(5, 9);
  });
  test('an angle valve takes less and an anti-siphon valve more; unknown words count as globe', () => {
    const loss = (written: string | null) =>
      zoneValveCurve(zoneValveBySize('1')!, valvePattern(written)).at(-1)!.lossKpa;
    expect(loss('angle')).toBeLessThan(loss('globe'));
    expect(loss('anti-siphon')).toBeGreaterThan(loss('globe'));
    expect(loss(null)).toBe(loss('globe'));
  });
});

// EPANET 2.2 User Manual, EPA/600/R-20/133 (2020), table of minor loss coefficients.
test.each([
  ['globe-valve', 10],
  ['swing-check', 2.5],
  ['gate-valve', 0.2],
  ['short-elbow', 0.9],
  ['tee-run', 0.6],
  ['tee-branch', 1.8],
  ['entrance', 0.5],
  ['exit', 1],
] as const)('K of %s is %s', (id, k) => expect(fittingById(id).lossK).toBe(k));

describe('outlets and controls', () => {
  test('an outlet with a check holds back 4.6 ft of water, and opens above that', () => {
    const checked = OUTLET_LAWS.filter((law) => law.closingKpa !== null);
    expect(checked.map((law) => law.id)).toEqual(['inline-pc-check', 'point-pc-check']);
    // 1 ft of water is 2.98907 kPa (NIST SP 811, conventional foot of water).
    for (const law of checked) {
      expect(law.closingKpa! / 2.98907).toBeCloseTo(4.6, 1);
      expect(law.minKpa).toBeGreaterThan(law.closingKpa!);
    }
  });
  test('variation lies in the best class of point sources (ASAE EP405.1, from memory: up to 0.05)', () => {
    for (const law of OUTLET_LAWS) expect(law.cv).toBeLessThanOrEqual(0.05);
  });
  test('a filter due for cleaning takes 5 to 7 psi more than a clean one', () => {
    for (const { cleanLossKpa, dirtyLossKpa } of FILTERS) {
      expect((dirtyLossKpa - cleanLossKpa) / PSI_KPA).toBeGreaterThanOrEqual(5 - 1e-9);
      expect((dirtyLossKpa - cleanLossKpa) / PSI_KPA).toBeLessThanOrEqual(7 + 1e-9);
    }
  });
});

describe('acceptance', () => {
  const band = (id: string) => ACCEPTANCE_BANDS.find((one) => one.id === id)!;
  test.each([
    ['ep458-us', 97, 'excellent'],
    ['ep458-us', 92, 'between good and excellent'],
    ['ep458-us', 62, 'between unacceptable and poor'],
    ['extension-us', 92, 'excellent'],
    ['extension-us', 90, 'excellent'],
    ['ep405-line-level', 85, 'recommended'],
    ['ep405-line-level', 79.9, 'below'],
    ['ep405-line-level', 96, 'above the recommended range'],
    ['subunit-flow', 10, 'preferred'],
    ['subunit-flow', 15, 'allowed'],
    ['subunit-flow', 20.1, 'too much'],
    ['subunit-flow', 130, 'too much'],
  ])('%s at %s %% is %s', (id, percent, name) => expect(acceptanceClass(band(id), percent)).toBe(name));
  test('sources that disagree are all kept', () => {
    const classes = acceptanceBands('Us').map((one) => acceptanceClass(one, 92));
    expect(new Set(classes).size).toBe(2);
  });
  test('pressure limits follow from the flow limits for an exponent of one half', () => {
    const [preferred, allowed] = band('subunit-pressure').classes;
    expect(preferred!.toPercent).toBeCloseTo(100 * (1 - 0.9 ** 2), 9);
    expect(allowed!.toPercent).toBeCloseTo(100 * (1 - 0.8 ** 2), 9);
  });
});
