import { describe, expect, test } from 'vitest';
import type { Problem } from '../base/result.ts';
import { readSurvey, type SurveyFile } from './file.ts';

const US = { length: 'ft', flow: 'gpm', pressure: 'psi' };

function read(parts: Record<string, unknown>): SurveyFile {
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units: US, ...parts }));
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}

function refusal(parts: Record<string, unknown>): Problem {
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units: US, ...parts }));
  if (result.ok) throw new Error('was read');
  return result.problem;
}

const places = ({ notices }: SurveyFile): string[] => notices.map((notice) => notice.where);

describe('units', () => {
  // Factors: NIST Special Publication 811 (2008), appendix B.8; water column at 9.80665 kPa a metre.
  test.each([
    ['ft', 10, 3.048],
    ['FEET', 10, 3.048],
    ['in', 10, 0.254],
    ['m', 10, 10],
    ['cm', 10, 0.1],
    ['mm', 10, 0.01],
    ['yd', 10, 9.144],
  ])('length in %s', (length, x, metres) => {
    const { plan } = read({ units: { ...US, length }, heads: [{ id: 'H', x, y: 0 }] });
    expect(plan.heads.get('H')!.at[0]).toBeCloseTo(metres, 9);
  });

  test.each([
    ['gpm', 227.12470704],
    ['gph', 3.785411784],
    ['L/h', 1],
    ['lph', 1],
    ['L/min', 60],
    ['m3/h', 1000],
    ['m\u00b3/h', 1000],
  ])('flow in %s', (flow, litres) => {
    const { plan } = read({ units: { ...US, flow }, heads: [{ id: 'H', x: 0, y: 0, flow: 2 }] });
    expect(plan.heads.get('H')!.flowLph).toBeCloseTo(2 * litres, 6);
  });

  test.each([
    ['psi', 6.894757],
    ['kPa', 1],
    ['bar', 100],
  ])('pressure in %s', (pressure, kpa) => {
    const { plan } = read({ units: { ...US, pressure }, supply: { static: 50 } });
    expect(plan.water.staticKpa).toBeCloseTo(50 * kpa, 4);
  });

  test('an unknown or missing unit refuses the file, with the units that are read', () => {
    expect(refusal({ units: { ...US, flow: 'buckets' } })).toMatchObject({
      where: 'units.flow',
      what: expect.stringContaining('buckets'),
      todo: expect.stringContaining('gpm'),
    });
    expect(refusal({ units: { flow: 'gpm' } }).where).toBe('units.length');
    expect(refusal({ units: null }).where).toBe('units');
    expect(refusal({ units: { ...US, length: 'psi' } }).where).toBe('units.length');
  });

  test('`units` rules over the usual field names, and says so', () => {
    const survey = read({
      units: { length: 'm', flow: 'L/h', pressure: 'kPa' },
      heads: [{ id: 'H', x: 0, y: 0, gpm: 90 }],
      supply: { staticPsi: 300 },
    });
    expect(survey.plan.heads.get('H')!.flowLph).toBe(90);
    expect(survey.plan.water.staticKpa).toBe(300);
    expect(survey.notices.map((notice) => notice.what)).toEqual([
      expect.stringMatching(/psi are read in kPa/),
      expect.stringMatching(/gpm are read in L\/h/),
    ]);
  });

  test('another unit in a field name, or beside the number, counts', () => {
    const { plan, notices } = read({
      heads: [
        { id: 'A', x: 0, y: 0, lph: 90 },
        { id: 'B', x: '200 cm', y: '1 m', gpm: '100 L/h' },
      ],
      supply: { staticKpa: 300 },
    });
    expect(plan.heads.get('A')!.flowLph).toBe(90);
    expect(plan.heads.get('B')).toMatchObject({ at: [2, 1], flowLph: 100 });
    expect(plan.water.staticKpa).toBe(300);
    expect(notices).toEqual([]);
  });

  test('flows without a unit count as not measured, said once', () => {
    const survey = read({
      units: { length: 'ft' },
      heads: [
        { id: 'A', x: 0, y: 0, flow: 1 },
        { id: 'B', x: 0, y: 0, flow: 2 },
      ],
    });
    expect([...survey.plan.heads].map((head) => head.flowLph)).toEqual([null, null]);
    expect(places(survey)).toEqual(['heads[0].flow']);
  });
});

describe('not measured', () => {
  test('missing, null and words for unknown are null, never zero', () => {
    const { plan, notices } = read({
      supply: {
        staticPsi: null,
        backflow: { type: 'unknown', size: '?' },
        service: { size: '1', material: 'Unknown', length: null },
        meter: 'not measured',
        recycledWater: null,
        valves: [{ id: 'V', x: 0, y: 0, z: null, size: 'unknown', minGpm: 'unknown', maxGpm: null }],
      },
      soil: { sand: null, texture: 'unknown', intakeInPerH: null },
      cover: 'unknown',
      climate: null,
      heads: [{ id: 'H', x: 1, y: 1, gpm: 'unknown', radius: null, sweepDeg: null }],
      pipes: [{ from: 'V', to: 'H', a: [0, 0], b: [1, 1], size: 'unknown', material: null }],
      plants: [{ class: 'shrub', canopy: 3, water: 'unknown', xy: [1, 2] }],
    });
    expect(notices).toEqual([]);
    expect(Object.entries(plan.water).filter(([, value]) => value !== null)).toEqual([
      ['workingPoints', []],
      ['serviceSize', '1'],
    ]);
    expect(Object.values(plan.soil).every((value) => value === null)).toBe(true);
    expect(plan.supplies.get('V')).toMatchObject({
      zM: null,
      valveSize: null,
      minFlowLph: null,
      maxFlowLph: null,
    });
    expect(plan.heads.get('H')).toMatchObject({ flowLph: null, pattern: null });
    expect(plan.laterals.get('L1')).toMatchObject({ size: null, material: null, measured: true });
    expect(plan.plants.get('P1')?.waterUse).toBeNull();
  });

  test('an empty survey is an empty plan', () => {
    const { plan, notices } = read({ name: 'Yard' });
    expect(notices).toEqual([]);
    expect(plan.site.name).toBe('Yard');
    expect(plan.heads.size + plan.areas.size + plan.laterals.size + plan.supplies.size).toBe(0);
  });

  test('a measured zero stays zero', () => {
    const { plan } = read({
      heads: [{ id: 'H', x: 0, y: 0, gpm: 0 }],
      supply: { valves: [{ id: 'V', x: 0, y: 0, z: -0, minGpm: 0 }] },
    });
    expect(plan.heads.get('H')?.flowLph).toBe(0);
    expect(plan.supplies.get('V')).toMatchObject({ zM: 0, minFlowLph: 0 });
  });
});

describe('what is not understood', () => {
  test('is named with its place and value, alike fields once', () => {
    const survey = read({
      weather: { wind: 3 },
      plants: [
        { class: 'tree', canopy: 9, xy: [0, 0], bark: 'red' },
        { class: 'tree', canopy: 9, xy: [0, 0], bark: 'grey' },
      ],
    });
    expect(survey.notices).toEqual([
      expect.objectContaining({ where: 'plants[0].bark', what: expect.stringMatching(/red.*1 more/) }),
      expect.objectContaining({ where: 'weather' }),
    ]);
  });

  test('figures out of all bounds leave out their record', () => {
    const survey = read({
      heads: [
        { id: 'A', x: 1e12, y: 0 },
        { id: 'B', x: 0, y: 0 },
      ],
    });
    expect([...survey.plan.heads].map((head) => head.id)).toEqual(['B']);
    expect(places(survey)).toEqual(['heads[0].at[0]']);
  });

  test('wrong kinds everywhere do not stop the rest', () => {
    const survey = read({
      beds: 7,
      levels: 'flat',
      soil: 'sandy',
      supply: [],
      heads: { id: 'H', x: 1, y: 1 },
      pipes: [null, 3, []],
      plants: [true],
      climate: 3,
      name: { a: 1 },
    });
    expect(survey.plan.heads.size).toBe(1);
    expect(places(survey)).toEqual(
      expect.arrayContaining([
        'beds',
        'levels',
        'soil',
        'supply',
        'pipes[1]',
        'pipes[2]',
        'plants[0]',
        'climate',
        'name',
      ]),
    );
  });

  test('another format or version is refused', () => {
    expect(refusal({ format: 'plan' }).where).toBe('format');
    expect(refusal({ version: 2 }).where).toBe('version');
    expect(places(read({ version: null }))).toEqual(['version']);
  });
});
