import { describe, expect, test } from 'vitest';
import { readSurvey, type SurveyFile } from '../file.ts';

const US = { length: 'ft', flow: 'gpm', pressure: 'psi' };

function read(parts: Record<string, unknown>): SurveyFile {
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units: US, ...parts }));
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}

const places = ({ notices }: SurveyFile): string[] => notices.map((notice) => notice.where);

describe('supply', () => {
  test('several valves with zones, recycled water, flow sensor, master valve', () => {
    const { plan, notices } = read({
      supply: {
        staticPsi: 110,
        workingPoints: [{ psi: 88, gpm: 52.7 }, { psi: 95 }],
        backflow: 'RP',
        meter: { size: '2' },
        recycledWater: true,
        flowSensor: 'no',
        masterValve: 'normally closed',
        valves: [
          { id: 'V1', zone: 1, x: 10, y: -2, z: 0, size: '2', type: 'globe', minGpm: 5, maxGpm: 160 },
          { id: 'V2', zone: 2, x: 20, y: -2, z: 1 },
          { id: 'V3' },
          { id: 'V4' },
        ],
      },
      pipes: [{ from: 'V3', to: 'H', a: [3, 4], b: [5, 4] }],
    });
    expect(plan.water).toMatchObject({
      backflowType: 'RP',
      meterSize: '2',
      recycledWater: true,
      flowSensor: false,
      masterValve: 'normally closed',
    });
    expect(plan.water.staticKpa).toBeCloseTo(758.4, 1);
    expect(plan.water.workingPoints).toHaveLength(1);
    expect([...plan.supplies].map(({ id, zone }) => [id, zone])).toEqual([
      ['V1', '1'],
      ['V2', '2'],
      ['V3', null],
    ]);
    expect(plan.supplies.get('V1')!.maxFlowLph).toBeCloseTo(36_339.95, 1);
    expect(plan.supplies.get('V3')!.at[0]).toBeCloseTo(0.9144, 9);
    expect(notices.map((notice) => notice.where)).toEqual(['supply.workingPoints[1]', 'supply.valves[3]']);
  });
});

describe('heads', () => {
  const patternOf = (head: Record<string, unknown>) => {
    const survey = read({ units: { ...US, length: 'm' }, heads: [{ id: 'H', x: 0, y: 0, ...head }] });
    return {
      pattern: survey.plan.heads.get('H')!.pattern,
      note: survey.plan.heads.get('H')!.note,
      where: places(survey),
    };
  };

  test.each([
    [{ strip: { length: 15, width: 4 } }, null],
    [{ strip: { l: 15, w: 4, directionDeg: 90 } }, 90],
    [{ strip: { width: 4, length: 15 }, angleDeg: 30 }, 30],
    [{ strip: [15, 4] }, null],
    [{ strip: [4, 15] }, null],
    [{ strip: [15, 4, 45] }, 45],
    [{ strip: { width: 4, length: 15, axisDeg: 20 } }, 20],
    [{ strip: { a: [0, 0], b: [0, 15], width: 4 } }, 90],
    [{ strip: [0, -2, 15, 2] }, 0],
    [{ strip: '4x15' }, null],
    [{ strip: '4 \u00d7 15 m' }, null],
    [{ strip: '400 cm by 15 m' }, null],
    [{ strip: true, length: 15, width: 4 }, null],
    [
      {
        strip: [
          [0, 0],
          [0, 15],
          [4, 15],
          [4, 0],
        ],
      },
      90,
    ],
  ])('reads the strip %j', (head, directionDeg) => {
    const { pattern, where } = patternOf(head);
    expect(pattern).toEqual({ kind: 'strip', lengthM: 15, widthM: 4, directionDeg });
    expect(where).toEqual([]);
  });

  test.each([
    [{ strip: 15 }],
    [{ strip: 'left corner' }],
    [{ strip: { length: 15 } }],
    [{ strip: [] }],
    [{ strip: [90, 90, 4, 15] }],
  ])('keeps the words of the strip %j', (head) => {
    const { pattern, note, where } = patternOf(head);
    expect(pattern).toBeNull();
    expect(note).toContain('strip');
    expect(where).toEqual(['heads[0].strip']);
  });

  test('sectors: a whole circle needs no start, a part does', () => {
    expect(patternOf({ radius: 3, sweepDeg: 360 }).pattern).toMatchObject({ startDeg: 0, sweepDeg: 360 });
    expect(patternOf({ radius: 3, sweepDeg: 90, startDeg: -90 }).pattern).toMatchObject({ startDeg: 270 });
    const part = patternOf({ radius: 3, sweepDeg: 90 });
    expect(part.pattern).toBeNull();
    expect(part.note).toBe('radius 3 m, sweep 90 deg');
    expect(part.where).toEqual(['heads[0]']);
  });

  test('lawn heads, zones, notes and unknown fields', () => {
    const { plan, notices } = read({
      supply: { valves: [{ id: 'V2', zone: 'B', x: 0, y: 0 }] },
      heads: [
        { id: 'A', x: 0, y: 0, waters: 'lawn', zone: 3 },
        { id: 'B', x: 0, y: 0, waters: 'beds', valve: 'V2', note: 'leans', nozzle: 12 },
        { id: 'C', x: 0, y: 0, waters: 'roof' },
      ],
    });
    expect([...plan.heads].map(({ waters, zone, note }) => [waters, zone, note])).toEqual([
      ['lawn', '3', ''],
      ['bed', 'B', 'leans; nozzle: 12'],
      ['bed', null, 'waters: "roof"'],
    ]);
    expect(notices.map((notice) => notice.where)).toEqual(['heads[2].waters']);
  });

  test('a head without a place, with a negative flow, or that is no object', () => {
    const survey = read({
      heads: [{ id: 'A', gpm: 1 }, { id: 'B', x: 0, y: 0, gpm: -1 }, 'H9', { id: 'C', x: 1, y: 1 }],
    });
    expect([...survey.plan.heads].map(({ id, flowLph }) => [id, flowLph])).toEqual([
      ['B', null],
      ['C', null],
    ]);
    expect(places(survey)).toEqual(['heads[0]', 'heads[1].gpm', 'heads[2]']);
  });
});

describe('pipes', () => {
  test('ends by name, assumed pieces, sizes as written', () => {
    const survey = read({
      units: { ...US, length: 'm' },
      supply: { valves: [{ id: 'V', x: 0, y: 0 }] },
      heads: [{ id: 'H1', x: 3, y: 4 }],
      pipes: [
        { from: 'V', to: 'H1', size: 0.75, material: 'PVC Class 200' },
        { from: 'H1', to: 'T', b: [9, 4], size: '3/4 in', assumed: true },
        { from: 'T', to: 'U', b: [9, 9], measured: false },
        { from: 'U', to: 'W', b: [0, 9], status: 'assumed from the old plan' },
        { from: 'W', to: 'Nowhere' },
      ],
    });
    const pipes = survey.plan.laterals.toArray();
    expect(pipes.map(({ a, b }) => [a, b])).toEqual([
      [
        [0, 0],
        [3, 4],
      ],
      [
        [3, 4],
        [9, 4],
      ],
      [
        [9, 4],
        [9, 9],
      ],
      [
        [9, 9],
        [0, 9],
      ],
    ]);
    expect(pipes.map(({ measured }) => measured)).toEqual([true, false, false, false]);
    expect(pipes.map(({ size }) => size)).toEqual(['0.75', '3/4 in', null, null]);
    expect(places(survey)).toEqual(['pipes[4]']);
  });
});

describe('areas, levels, plants', () => {
  test('beds, lawns and paving; closing corners, doubles, holes, ids', () => {
    const square = [
      [0, 0],
      [2, 0],
      [2, 0],
      [2, 2],
      [0, 2],
      [0, 0],
    ];
    const survey = read({
      units: { ...US, length: 'm' },
      beds: [
        { id: 'B1', outline: square, holes: [square] },
        { id: 'B1', outline: square },
        { id: 'B3', outline: [[0, 0], 'x', [1, 1]] },
      ],
      lawns: [square, { outline: square }],
      paving: square,
    });
    expect([...survey.plan.areas].map(({ id, use, outline }) => [id, use, outline.length])).toEqual([
      ['B1', 'bed', 4],
      ['B1-2', 'bed', 4],
      ['Lawn 1', 'lawn', 4],
      ['Lawn 2', 'lawn', 4],
      ['Paving 1', 'paving', 4],
    ]);
    expect(survey.plan.areas.get('B1')!.holes[0]).toHaveLength(4);
    expect(places(survey)).toEqual(['beds[2].outline[1]', 'beds[2].outline', 'beds[1].id']);
  });

  test('an outline that crosses itself is kept and named', () => {
    const survey = read({
      beds: [
        {
          id: 'B',
          outline: [
            [0, 0],
            [4, 4],
            [4, 0],
            [0, 4],
          ],
        },
      ],
    });
    expect(survey.plan.areas.size).toBe(1);
    expect(places(survey)).toEqual(['beds[0].outline']);
  });

  test('levels need a height', () => {
    const survey = read({
      units: { ...US, length: 'm' },
      levels: [[0, 0, 0], [1, 1, null], [2, 2], { x: 3, y: 3, z: 1.5 }, [4, 4, 'high']],
    });
    expect([...survey.plan.levels].map(({ at, zM }) => [at, zM])).toEqual([
      [[0, 0], 0],
      [[3, 3], 1.5],
    ]);
    expect(places(survey)).toEqual(['levels[1]', 'levels[2]', 'levels[4]']);
  });

  test('plant classes, canopies and water use', () => {
    const survey = read({
      units: { ...US, length: 'm' },
      plants: [
        { class: 'Ground cover', key: 'K', canopy: 0.9, canopyNow: 0.4, water: 'Very Low', xy: [1, 2] },
        { class: 'grass', canopy: 0.6, water: 'medium', x: 3, y: 4 },
        { class: 'tree', xy: [5, 6] },
        { class: 'statue', canopy: 1, xy: [7, 8] },
        { class: 'shrub', canopy: 1 },
      ],
    });
    const { plants } = survey.plan;
    expect(plants.get('P1')).toMatchObject({
      plantClass: 'groundcover',
      name: 'K',
      canopyNowM: 0.4,
      waterUse: 'very low',
    });
    expect(plants.get('P2')).toMatchObject({ plantClass: 'perennial', at: [3, 4], waterUse: 'moderate' });
    expect(plants.get('P3')!.canopyMatureM).toBeGreaterThan(1);
    expect(plants.get('P4')!.plantClass).toBe('shrub');
    expect(places(survey)).toEqual(['plants[2]', 'plants[3].class', 'plants[4]']);
  });
});

describe('plants that are counted', () => {
  const survey = read({
    plants: [
      { class: 'groundcover', key: 'Thyme', canopy: 2, count: 40, water: 'mod', rootBall: '4 in' },
      { class: 'GC', name: 'thyme', canopy: 2, quantity: 5 },
      { class: 'shrub', key: 'Sage', canopy: 4, count: 3, xy: [1, 2] },
      { class: 'shrub', key: 'Fig', canopy: 4, count: 1, xy: [3, 2] },
      { class: 'tree', key: 'Elm', canopy: 30, count: -2 },
    ],
  });

  test('are kinds of the plant list; those with a place stand on the plan', () => {
    expect(survey.plan.planting.kinds).toEqual([
      {
        name: 'Thyme',
        plantClass: 'groundcover',
        canopyNowM: null,
        canopyMatureM: expect.closeTo(0.6096, 9),
        rootBallM: expect.closeTo(0.1016, 9),
        waterUse: 'moderate',
        count: 45,
      },
      expect.objectContaining({ name: 'Sage', count: 3 }),
      expect.objectContaining({ name: 'Elm', count: null }),
    ]);
    expect([...survey.plan.plants].map(({ name }) => name)).toEqual(['Sage', 'Fig']);
  });

  test('what is odd about them is told', () => {
    expect(places(survey)).toEqual(['plants[2]', 'plants[4].count', 'plants[4]']);
  });
});

describe('soil, cover and climate', () => {
  test('units in the names of fields', () => {
    const { plan } = read({
      soil: { sand: 40, silt: 40, clay: 20, intakeInPerH: 0.5, rootDepthIn: 12, compacted: true },
    });
    expect(plan.soil.intakeMmPerH).toBeCloseTo(12.7, 9);
    expect(plan.soil.rootDepthM).toBeCloseTo(0.3048, 9);
    expect(plan.soil.compacted).toBe(true);
  });

  test.each([
    ['2 in bark', '2 in bark'],
    [{ mulch: '3 in bark', fabric: true, gravel: null }, 'mulch: 3 in bark; fabric: yes'],
    [[{ type: 'gravel', depthIn: 2 }, 'fabric'], 'type: gravel; depthIn: 2; fabric'],
    [null, null],
  ])('cover %j', (cover, words) => {
    expect(read({ cover }).plan.soil.cover).toBe(words);
  });

  test.each([
    [{ lowestWinterF: 14 }, -10, ''],
    [{ lowestWinterC: -10 }, -10, ''],
    [{ winterLow: '14 F', wind: 'west' }, -10, 'wind: west'],
    ['mild', null, 'mild'],
    [{ lowestWinter: 'unknown' }, null, ''],
  ])('climate %j', (climate, lowest, note) => {
    const survey = read({ climate });
    expect(survey.plan.climate.note).toBe(note);
    if (lowest === null) expect(survey.plan.climate.lowestWinterC).toBeNull();
    else expect(survey.plan.climate.lowestWinterC).toBeCloseTo(lowest, 9);
    expect(survey.notices).toEqual([]);
  });

  test('a temperature without its unit is no temperature', () => {
    const survey = read({ climate: { lowestWinter: 14 } });
    expect(survey.plan.climate).toEqual({ lowestWinterC: null, note: 'lowestWinter: 14' });
    expect(places(survey)).toEqual(['climate.lowestWinter']);
  });

  test('a jar test that does not add up is named', () => {
    expect(places(read({ soil: { sand: 40, silt: 40, clay: 40 } }))).toEqual(['soil']);
  });
});
