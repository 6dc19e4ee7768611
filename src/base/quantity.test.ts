import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  formatBound,
  formatExact,
  formatQuantity,
  parseQuantity,
  shownValue,
  unitLabel,
} from './quantity.ts';
import { KINDS, type QuantityKind, type UnitSystem } from './units.ts';

const ALL_KINDS = Object.keys(KINDS) as QuantityKind[];
const SYSTEMS: UnitSystem[] = ['us', 'metric'];
const EVERY = ALL_KINDS.flatMap((kind) => SYSTEMS.map((units) => [kind, units] as const));

function read(kind: QuantityKind, text: string, units: UnitSystem): number {
  const result = parseQuantity(kind, text, units);
  if (!result.ok) throw new Error(`${text}: ${result.problem.what}`);
  return result.value;
}

function refusal(kind: QuantityKind, text: string, units: UnitSystem): string {
  const result = parseQuantity(kind, text, units);
  if (result.ok) throw new Error(`${text} was read as ${result.value}`);
  expect(result.problem.todo).not.toBe('');
  expect(result.problem.where).not.toBe('');
  return result.problem.what;
}

describe('lengths as typed', () => {
  // One inch is 25.4 mm exactly (NIST SP 811, appendix B.8); the expected values follow from that alone.
  test.each([
    [`12'6"`, 3.81],
    [`12' 6"`, 3.81],
    [`12' 6`, 3.81],
    [`12 ft 6 in`, 3.81],
    [`12ft. 6in.`, 3.81],
    [`12' 6 1/2"`, 3.8227],
    [`12' 6-1/2"`, 3.8227],
    [`12′ 6½″`, 3.8227],
    [`12’ 6”`, 3.81],
    [`12'6''`, 3.81],
    [`6'-4"`, 1.9304],
    [`6' – 4"`, 1.9304],
    [`-2' 6"`, -0.762],
    [`−2' 6"`, -0.762],
    [`3/4"`, 0.01905],
    [`1/2 in`, 0.0127],
    [`2 1/2 in`, 0.0635],
    [`2½"`, 0.0635],
    [`0' 6"`, 0.1524],
    [`.5 ft`, 0.1524],
    [`3.8 m`, 3.8],
    [`380cm`, 3.8],
    [`3800 mm`, 3.8],
    [`1,5 m`, 1.5],
    [`1.5 m`, 1.5],
    [`1.234 m`, 1.234],
    [`0,805 m`, 0.805],
    [`2 yd`, 1.8288],
    [`5 pies`, 1.524],
    [`3 Metres`, 3],
    [` 3.8\u00a0m `, 3.8],
  ])('%s in either system', (text, metres) => {
    expect(read('length', text, 'us')).toBeCloseTo(metres, 10);
    expect(read('length', text, 'metric')).toBeCloseTo(metres, 10);
  });

  test('a bare number is in the unit of the system', () => {
    expect(read('length', '10', 'us')).toBeCloseTo(3.048, 12);
    expect(read('length', '10', 'metric')).toBe(10);
    expect(read('length', '12 1/2', 'us')).toBeCloseTo(3.81, 12);
    expect(Object.is(read('length', '-0', 'us'), 0)).toBe(true);
  });

  test('a bore is in millimetres, a spacing in metres', () => {
    expect(read('bore', '3/4"', 'metric')).toBeCloseTo(19.05, 12);
    expect(read('bore', '0.600', 'us')).toBeCloseTo(15.24, 12);
    expect(read('bore', '16', 'metric')).toBe(16);
    expect(read('spacing', '18', 'us')).toBeCloseTo(0.4572, 12);
    expect(read('spacing', `1' 6"`, 'metric')).toBeCloseTo(0.4572, 12);
    expect(read('spacing', '30', 'metric')).toBeCloseTo(0.3, 12);
  });
});

describe('other kinds as typed', () => {
  // Factors: NIST SP 811 (2008), appendix B.8.
  test.each<[QuantityKind, string, number]>([
    ['pressure', '40 psi', 275.79029],
    ['pressure', '2.8 bar', 280],
    ['pressure', '280 kPa', 280],
    ['pressure', '10 m head', 98.0665],
    ['outletFlow', '0.6 gph', 2.2712471],
    ['outletFlow', '0.6 gal per hour', 2.2712471],
    ['outletFlow', '2.3 l/h', 2.3],
    ['outletFlow', '2,3 L/hr', 2.3],
    ['zoneFlow', '8 gpm', 1816.99766],
    ['zoneFlow', '30 L/min', 1800],
    ['zoneFlow', '0.5 L/s', 1800],
    ['area', '100 sq. ft.', 9.290304],
    ['area', '23 m²', 23],
    ['rate', '0.5 in/hr', 12.7],
    ['rate', '13 mm/h', 13],
    ['volume', '5 gal', 18.9270589],
    ['volume', '19 litres', 19],
    ['angle', '-90°', -90],
    ['angle', '90 deg', 90],
    ['slope', '2 %', 2],
    ['slope', '1:50', 2],
    ['slope', '-1:20', -5],
    ['slope', '45°', 100],
    ['slope', '1/4 in/ft', 2.0833333],
    ['velocity', '5 ft/s', 1.524],
    ['velocity', '1.5 m/s', 1.5],
    ['count', '12', 12],
    ['factor', '1.25', 1.25],
    ['percent', '75%', 75],
  ])('%s %s', (kind, text, value) => {
    expect(read(kind, text, 'us')).toBeCloseTo(value, 5);
    expect(read(kind, text, 'metric')).toBeCloseTo(value, 5);
  });

  test('bare numbers follow the system', () => {
    expect(read('pressure', '40', 'us')).toBeCloseTo(275.79029, 5);
    expect(read('pressure', '2,8', 'metric')).toBeCloseTo(280, 12);
    expect(read('outletFlow', '0.6', 'us')).toBeCloseTo(2.2712471, 6);
    expect(read('zoneFlow', '8', 'us')).toBeCloseTo(1816.99766, 5);
    expect(read('zoneFlow', '1800', 'metric')).toBe(1800);
    expect(read('slope', '2', 'metric')).toBe(2);
  });
});

describe('what is refused, and why', () => {
  test.each<[QuantityKind, string, RegExp]>([
    ['length', '', /no length was typed/],
    ['length', '   ', /no length was typed/],
    ['length', 'abc', /does not begin with a number/],
    ['length', '1,234.5', /more than one decimal mark/],
    ['length', '1.234,5', /more than one decimal mark/],
    ['length', '1,234', /may mean 1234 or 1\.234/],
    ['length', '1 000', /two numbers/],
    ['length', '1.2.3', /more than one decimal mark/],
    ['length', '12.', /without digits after it/],
    ['length', '40 psi', /unit of pressure/],
    ['length', '3 furlongs', /not a unit of length/],
    ['length', '1e3', /"e3" is not a unit/],
    ['length', `5' 14"`, /a foot or more/],
    ['length', `5.5' 4"`, /part of a foot/],
    ['length', '1/0', /divides by zero/],
    ['length', '2 5/4 in', /one or more/],
    ['length', '12 - 1/2', /not a unit/],
    ['length', '3 m 80 cm', /not a unit/],
    ['length', '2*3', /not a unit/],
    ['length', '999999999999999999 m', /too large/],
    ['length', '9'.repeat(400), /too large/],
    ['length', 'NaN', /does not begin/],
    ['length', 'Infinity', /does not begin/],
    ['length', '--3', /does not begin/],
    ['pressure', '-5 psi', /below zero/],
    ['pressure', '5 gph', /unit of flow/],
    ['outletFlow', '2 gal', /unit of volume/],
    ['area', `12'`, /unit of length/],
    ['count', '2.5', /whole number/],
    ['count', '-1', /below zero/],
    ['count', '3 m', /unit of length/],
    ['slope', '1:0', /run of zero/],
    ['slope', '1:2:3', /rise and a run/],
    ['angle', `6'`, /unit of length/],
  ])('%s "%s"', (kind, text, why) => {
    for (const units of SYSTEMS) expect(refusal(kind, text, units)).toMatch(why);
  });

  test('never throws, and never reads what is not finite', () => {
    const pieces = fc.constantFrom(
      ...[
        '1',
        '23',
        '0',
        '.',
        ',',
        '/',
        "'",
        '"',
        '-',
        '−',
        ' ',
        'ft',
        'm',
        'psi',
        '½',
        ':',
        '%',
        'e',
        '+',
        '#',
      ],
    );
    const text = fc.array(pieces, { maxLength: 8 }).map((list) => list.join(''));
    fc.assert(
      fc.property(fc.constantFrom(...EVERY), fc.oneof(text, fc.string()), ([kind, units], typed) => {
        const result = parseQuantity(kind, typed, units);
        if (result.ok) expect(Number.isFinite(result.value)).toBe(true);
        else expect(result.problem.what.length).toBeGreaterThan(0);
      }),
      { seed: 20263, numRuns: 3000 },
    );
  });

  test('the examples in the messages can be typed themselves', () => {
    for (const [kind, units] of EVERY) {
      for (const example of KINDS[kind].examples[units].split(/, | or /)) {
        expect(parseQuantity(kind, example, units).ok, `${kind} ${example}`).toBe(true);
      }
    }
  });
});

describe('temperatures', () => {
  // t/C = (t/F - 32) / 1.8 exactly (NIST SP 811, appendix B.8).
  test.each([
    ['32 °F', 0],
    ['50', 10],
    ['-40 F', -40],
    ['20 °C', 20],
    ['20c', 20],
  ])('%s', (text, celsius) => {
    expect(read('temperature', text, 'us')).toBeCloseTo(celsius, 12);
  });
  test('are shown in their own unit', () => {
    expect(formatQuantity('temperature', 20, 'us')).toBe('68 °F');
    expect(formatQuantity('temperature', 20, 'metric')).toBe('20 °C');
    expect(formatExact('temperature', 12.5, 'us')).toBe('54.5 °F');
  });
});

describe('shown', () => {
  test('feet and inches to the quarter inch', () => {
    expect(formatQuantity('length', 3.81, 'us')).toBe(`12' 6"`);
    expect(formatQuantity('length', 3.81635, 'us')).toBe(`12' 6 1/4"`);
    expect(formatQuantity('length', 0.3048 - 0.0001, 'us')).toBe(`1' 0"`);
    expect(formatQuantity('length', 0.0127, 'us')).toBe(`1/2"`);
    expect(formatQuantity('length', -0.762, 'us')).toBe(`-2' 6"`);
    expect(formatQuantity('length', -0.0001, 'us')).toBe(`0"`);
    expect(formatQuantity('length', 3.81, 'us', { unit: false })).toBe('12.50');
    expect(formatQuantity('length', 3.81, 'us', { digits: 1 })).toBe('12.5 ft');
  });

  test.each<[QuantityKind, number, string, string]>([
    ['length', 3.806, `12' 5 3/4"`, '3.81 m'],
    ['bore', 13.8, '0.543 in', '13.8 mm'],
    ['spacing', 0.3048, '12 in', '30.5 cm'],
    ['area', 23, '248 ft²', '23.0 m²'],
    ['pressure', 275.79, '40.0 psi', '2.76 bar'],
    ['outletFlow', 2.2712, '0.60 gph', '2.3 L/h'],
    ['zoneFlow', 1817, '8.00 gpm', '1817 L/h'],
    ['rate', 12.7, '0.50 in/h', '12.7 mm/h'],
    ['volume', 18.927, '5.0 gal', '19 L'],
    ['angle', 90, '90°', '90°'],
    ['slope', 2, '2.0%', '2.0%'],
    ['velocity', 1.524, '5.0 ft/s', '1.52 m/s'],
    ['count', 12, '12', '12'],
    ['factor', 1.25, '1.25', '1.25'],
    ['factor', 2, '2', '2'],
    ['percent', 92.4, '92%', '92%'],
  ])('%s %d', (kind, value, us, metric) => {
    expect(formatQuantity(kind, value, 'us')).toBe(us);
    expect(formatQuantity(kind, value, 'metric')).toBe(metric);
  });

  test('what is not a number is a dash to read and nothing to edit', () => {
    for (const [kind, units] of EVERY) {
      expect(formatQuantity(kind, NaN, units)).toBe('–');
      expect(formatQuantity(kind, Infinity, units)).toBe('–');
      expect(formatExact(kind, NaN, units)).toBe('');
    }
  });

  test('digits and unit may be chosen; no minus before zero', () => {
    expect(formatQuantity('pressure', 275.79, 'us', { digits: 0 })).toBe('40 psi');
    expect(formatQuantity('pressure', 275.79, 'metric', { unit: false })).toBe('2.76');
    expect(formatQuantity('slope', -0.01, 'us')).toBe('0.0%');
  });

  test('unit names', () => {
    expect(unitLabel('outletFlow', 'us')).toBe('gph');
    expect(unitLabel('zoneFlow', 'metric')).toBe('L/h');
    expect(unitLabel('count', 'us')).toBe('');
  });

  test('for editing: short for round values, whatever the last digits of the factor', () => {
    expect(formatExact('length', 3.81, 'us')).toBe(`12' 6"`);
    expect(formatExact('length', 1 / 3, 'us')).toBe('1.0936133 ft');
    expect(formatExact('outletFlow', 0.26 * 3.785412, 'us')).toBe('0.26 gph');
    expect(formatExact('pressure', 280, 'metric')).toBe('2.8 bar');
    expect(formatExact('count', 12, 'us')).toBe('12');
  });
});

describe.each(EVERY)('%s in %s, shown and read again', (kind, units) => {
  const { whole = false, signed = false, digits } = KINDS[kind];
  const size = fc.integer({ min: -3, max: 5 }).map((n) => 10 ** n);
  const value = whole
    ? fc.nat(100000)
    : fc.tuple(fc.double({ min: signed ? -1 : 0, max: 1, noNaN: true }), size).map(([share, s]) => share * s);

  test('every shown unit is in proportion from its zero', () => {
    expect(shownValue(kind, read(kind, '7', units), units)).toBeCloseTo(7, 10);
  });

  test('for editing it comes back the same', () => {
    fc.assert(
      fc.property(value, (v) => {
        const back = read(kind, formatExact(kind, v, units), units);
        expect(Math.abs(back - v)).toBeLessThanOrEqual(Math.abs(v) * 1.01e-7 + 1e-9);
      }),
      { seed: 20264, numRuns: 300 },
    );
  });

  test('for reading it comes back within half of the last digit', () => {
    const step = read(kind, '1', units) - read(kind, '0', units);
    const own = digits[units];
    fc.assert(
      fc.property(value, (v) => {
        const text = formatQuantity(kind, v, units);
        const places = typeof own === 'number' ? own : own[Math.abs(v / step) < 10 ? 0 : 1];
        const grain = kind === 'length' && units === 'us' ? 0.00635 : step * 10 ** -places;
        expect(Math.abs(read(kind, text, units) - v)).toBeLessThanOrEqual(grain * 0.5000001 + 1e-9);
      }),
      { seed: 20265, numRuns: 300 },
    );
  });
});

describe('limits as text', () => {
  test.each([
    ['spacing', 3, 'us', 'most', '118 in'],
    ['length', 100, 'us', 'most', `328'`],
    ['length', 0.3048, 'us', 'least', `1'`],
    ['spacing', 0.05, 'us', 'least', '2 in'],
    ['spacing', 3, 'metric', 'most', '300 cm'],
    ['count', 24, 'us', 'most', '24'],
    ['percent', 100, 'us', 'most', '100%'],
  ] as const)('%s of %f in %s units, at %s', (kind, value, units, side, text) => {
    const shown = formatBound(kind, value, units, side);
    expect(shown.replace(/ 0"$/, '').replace(/\.0+(?=\D|$)/, '')).toBe(text.replace(/\.0+(?=\D|$)/, ''));
  });
  test('what is typed as shown lies inside', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...EVERY),
        fc.double({ min: 0.01, max: 5000, noNaN: true }),
        fc.constantFrom('least', 'most'),
        ([kind, units], value, side) => {
          if (kind === 'temperature') return;
          const unit = shownValue(kind, value, units);
          // Below the last digit that is shown nothing can be inside.
          if (unit < 1) return;
          const back = read(kind, formatBound(kind, value, units, side), units);
          const slack = kind === 'length' && units === 'us' ? 0.0064 : value * 0.006;
          if (side === 'least') expect(back).toBeGreaterThanOrEqual(value - slack);
          else expect(back).toBeLessThanOrEqual(value + slack);
        },
      ),
      { seed: 20266, numRuns: 400 },
    );
  });
});
