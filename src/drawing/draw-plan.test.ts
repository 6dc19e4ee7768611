import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import type { OutletResult, OutletState, Results } from '../derive/results.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL } from '../plan/empty.ts';
import type { Plan, Run } from '../plan/records.ts';
import { drawPlan, planDrawer } from './draw-plan.ts';
import { LAYERS, type Layer, type LayerName, type Mark, type SymbolMark } from './marks.ts';
import { SUBJECTS, type DrawOptions } from './options.ts';
import { inlinePlaces } from './outlets.ts';
import { pressureRamp } from './pressure-ramp.ts';

const ALL: DrawOptions = {
  units: 'metric',
  // Wet soil stands for no record.
  show: new Set(SUBJECTS.filter((subject) => subject !== 'wetted')),
  colourRange: null,
  photoMetresPerPixel: 0.01,
};

const drip: Run = {
  id: 'r1',
  name: 'Row 1',
  path: [
    [0, 0],
    [2, 0],
  ],
  tubing: 'inline-17',
  inline: { law: 'inline-plain', ratedFlowLph: 2, spacingM: 0.5, firstM: 0.25 },
};
const header: Run = {
  ...drip,
  id: 'r2',
  name: 'Header',
  path: [
    [0, 0],
    [0, 3],
  ],
  inline: null,
};

const plan: Plan = {
  ...emptyPlan('Sample'),
  photo: {
    pictureId: 'p',
    name: 'p',
    widthPx: 100,
    heightPx: 50,
    corner: [0, 5],
    turnDeg: 0,
    assumedWidthM: 1,
    measures: [],
    strength: 0.7,
    rectification: null,
  },
  areas: Table.of([
    {
      id: 'a',
      use: 'bed',
      name: 'Bed',
      outline: [
        [0, 0],
        [4, 0],
        [4, 4],
        [0, 4],
      ],
      holes: [
        [
          [1, 1],
          [2, 1],
          [2, 2],
        ],
      ],
    },
    {
      id: 'b',
      use: 'lawn',
      name: 'Lawn',
      outline: [
        [4, 0],
        [8, 0],
        [8, 4],
      ],
      holes: [],
    },
  ]),
  levels: Table.of([{ id: 'l', at: [0, 0], zM: 1.5 }]),
  laterals: Table.of([
    {
      ...UNMEASURED_LATERAL,
      id: 'm',
      from: '',
      to: '',
      a: [0, 0],
      b: [1, 0],
    },
    {
      ...UNMEASURED_LATERAL,
      id: 'n',
      from: '',
      to: '',
      a: [1, 0],
      b: [2, 0],
      measured: false,
    },
  ]),
  heads: Table.of([
    {
      ...UNMEASURED_HEAD,
      id: 'h',
      at: [1, 1],
      pattern: { kind: 'sector', radiusM: 2, startDeg: 0, sweepDeg: 90 },
      fate: 'tie-in',
    },
  ]),
  plants: Table.of([
    {
      id: 'p1',
      at: [1, 2],
      name: 'sage',
      plantClass: 'shrub',
      canopyNowM: 0.5,
      canopyMatureM: 1.2,
      rootBallM: null,
      waterUse: null,
    },
  ]),
  runs: Table.of([drip, header]),
  emitters: Table.of([
    {
      id: 'e1',
      runId: 'r2',
      at: [0.6, 1],
      plantId: 'p1',
      law: 'point-plain',
      ratedFlowLph: 4,
    },
  ]),
};

function outlet(state: OutletState, pressureKpa: number, x: number): OutletResult {
  return {
    owner: { table: 'runs', id: 'r1' },
    runId: 'r1',
    number: 1,
    at: [x, 0],
    zM: 0,
    plantId: null,
    ratedFlowLph: 2,
    minKpa: 50,
    maxKpa: 200,
    compensating: false,
    cv: 0.05,
    closingKpa: null,
    tap: [x, 0],
    feederM: 0,
    pressureKpa,
    flowLph: 2,
    state,
  };
}

const results: Results = {
  outlets: [
    outlet('good', 100, 0),
    outlet('good', 150, 1),
    outlet('low', 20, 2),
    outlet('high', 300, 3),
    outlet('dry', 0, 4),
    outlet('apart', NaN, 5),
  ],
  runs: new Map(),
  zones: [],
  totalFlowLph: 0,
  outletCount: 6,
  lowestKpa: 20,
  highestKpa: 300,
  meanFlowLph: 2,
  uniformity: null,
  counts: { good: 2, low: 1, high: 1, dry: 1, apart: 1 },
  lowestOutlet: 4,
  highestOutlet: 3,
  eu: null,
  us: null,
  supplies: [],
  notices: [],
  solution: {
    headM: new Float64Array(),
    flowM3s: new Float64Array(),
    outletM3s: new Float64Array(),
    converged: true,
    iterations: 1,
    massErrorM3s: 0,
    energyErrorM: 0,
    findings: [],
  },
};

const layer = (layers: readonly Layer[], name: LayerName): readonly Mark[] =>
  layers.find((each) => each.name === name)!.marks;
const symbols = (marks: readonly Mark[]): SymbolMark[] => marks.filter((mark) => mark.kind === 'symbol');

describe('a drawing of a plan', () => {
  test('has all layers in order, also when the plan is empty', () => {
    expect(drawPlan(plan, null, ALL).map(({ name }) => name)).toEqual([...LAYERS]);
    const bare = drawPlan(emptyPlan(), null, ALL);
    expect(bare.map(({ name }) => name)).toEqual([...LAYERS]);
    expect(bare.flatMap(({ marks }) => marks)).toEqual([]);
  });

  test('every mark but the photo names the record it stands for', () => {
    for (const { name, marks } of drawPlan(plan, null, ALL)) {
      if (name === 'photo') continue;
      for (const mark of marks) expect(mark.owner).toMatch(/^[a-z]+\/\w+$/);
    }
  });

  test('lawns lie under beds, holes are rings of their area', () => {
    const areas = layer(drawPlan(plan, null, ALL), 'ground').filter((mark) => mark.kind === 'path');
    expect(areas.map(({ owner }) => owner)).toEqual(['areas/b', 'areas/a']);
    expect(areas[1]!.lines).toHaveLength(2);
  });

  test('assumed pipe is dashed, measured pipe is not', () => {
    const pipes = layer(drawPlan(plan, null, ALL), 'existing').filter((mark) =>
      mark.owner?.startsWith('laterals'),
    );
    const dashed = pipes.map((mark) => mark.kind === 'path' && mark.pen?.dashMm !== undefined);
    expect(dashed).toEqual([false, true]);
  });

  test('the photo takes its fitted scale, and is left out without one', () => {
    const [photo] = layer(drawPlan(plan, null, ALL), 'photo');
    expect(photo).toMatchObject({ kind: 'photo', metresPerPixel: 0.01, strength: 0.7 });
    for (const photoMetresPerPixel of [0, NaN, -1]) {
      expect(layer(drawPlan(plan, null, { ...ALL, photoMetresPerPixel }), 'photo')).toEqual([]);
    }
  });

  test('without results outlets are open dots and the feeder goes straight to its run', () => {
    const layers = drawPlan(plan, null, ALL);
    const dots = symbols(layer(layers, 'outlets'));
    expect(dots.map(({ at }) => at)).toEqual([
      [0.25, 0],
      [0.75, 0],
      [1.25, 0],
      [1.75, 0],
      [0.6, 1],
    ]);
    expect(new Set(dots.map(({ fill }) => fill))).toEqual(new Set(['paper']));
    const feeders = layer(layers, 'tubing').filter((mark) => mark.owner === 'emitters/e1');
    expect(feeders).toHaveLength(1);
    expect(feeders[0]).toMatchObject({
      lines: [
        [
          [0, 1],
          [0.6, 1],
        ],
      ],
    });
  });

  test('what is not shown is not drawn', () => {
    const layers = drawPlan(plan, results, { ...ALL, show: new Set(['areas']) });
    expect(layers.flatMap(({ marks }) => marks).map(({ owner }) => owner)).toEqual(['areas/b', 'areas/a']);
  });
});

describe('outlets by pressure', () => {
  const byState = (range: DrawOptions['colourRange']): SymbolMark[] =>
    symbols(layer(drawPlan(plan, results, { ...ALL, colourRange: range }), 'outlets'));

  test('in range: dots in the colour of their pressure, over the whole ramp', () => {
    const dots = byState({ minKpa: 100, maxKpa: 200 }).filter(({ name }) => name === 'dot');
    expect(dots.map(({ fill }) => fill)).toEqual([pressureRamp(0), pressureRamp(0.5)]);
    const own = byState(null).filter(({ name }) => name === 'dot');
    expect(own.map(({ fill }) => fill)).toEqual([pressureRamp((100 - 20) / 280), pressureRamp(130 / 280)]);
  });

  test('out of range: each state has a shape of its own, drawn above all dots', () => {
    const marks = byState(null);
    expect(marks.map(({ name }) => name)).toEqual([
      'dot',
      'dot',
      'triangleDown',
      'triangleUp',
      'cross',
      'ring',
    ]);
    const alert = marks.slice(2).every(({ sizeMm }) => sizeMm > marks[0]!.sizeMm);
    expect(alert).toBe(true);
  });
});

describe('memory', () => {
  test('an edit of one table redraws only the layers that read it', () => {
    const draw = planDrawer();
    const before = draw(plan, results, ALL);
    const same = draw({ ...plan }, results, { ...ALL });
    same.forEach((each, i) => expect(each).toBe(before[i]));
    const moved = { ...plan, levels: plan.levels.with({ id: 'l', at: [9, 9], zM: 0 }) };
    const after = draw(moved, results, ALL);
    const changed = LAYERS.filter((_, i) => after[i] !== before[i]);
    expect(changed).toEqual(['ground', 'labels']);
  });
});

describe('built-in emitters on a run', () => {
  test('stand from the first at even spacing up to the very end', () => {
    const run = { ...drip, inline: { ...drip.inline!, firstM: 0, spacingM: 0.1 } };
    const places = inlinePlaces(run);
    expect(places).toHaveLength(21);
    expect(places.at(-1)![0]).toBeCloseTo(2, 9);
  });

  test.each([0, -1, NaN])('spacing %s gives none', (spacingM) => {
    expect(inlinePlaces({ ...drip, inline: { ...drip.inline!, spacingM } })).toEqual([]);
  });

  test('a first emitter beyond the end gives none', () => {
    expect(inlinePlaces({ ...drip, inline: { ...drip.inline!, firstM: 3 } })).toEqual([]);
  });
});
