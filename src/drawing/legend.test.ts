import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { shownValue } from '../base/quantity.ts';
import type { OutletResult, OutletState, Results } from '../derive/results.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type { Plan } from '../plan/records.ts';
import { drawPlan } from './draw-plan.ts';
import { legendOf, type LegendEntry } from './legend.ts';
import { SUBJECTS } from './options.ts';
import { pressureRamp } from './pressure-ramp.ts';

function resultsWith(...outlets: [OutletState, number][]): Results {
  const base = {
    owner: { table: 'runs', id: 'r' },
    runId: 'r',
    at: [0, 0],
    zM: 0,
    plantId: null,
    ratedFlowLph: 2,
    minKpa: 50,
    maxKpa: 200,
    compensating: false,
    cv: 0.05,
    closingKpa: null,
    tap: [0, 0],
    feederM: 0,
    flowLph: 2,
  } as const;
  return {
    outlets: outlets.map(([state, pressureKpa], i): OutletResult => ({
      ...base,
      number: i + 1,
      state,
      pressureKpa,
    })),
  } as unknown as Results;
}

const words = (entries: readonly LegendEntry[]): string[] => entries.map((entry) => entry.words);
const rampOf = (entries: readonly LegendEntry[]): Extract<LegendEntry, { kind: 'ramp' }> => {
  const ramp = entries.find((entry) => entry.kind === 'ramp');
  if (!ramp) throw new Error('no ramp');
  return ramp;
};

describe('pressures', () => {
  const results = resultsWith(['good', 100], ['good', 180], ['low', 20], ['apart', NaN]);

  test('run from the lowest to the highest pressure in the colours of the drawing', () => {
    const { stops, words: title } = rampOf(legendOf(results, 'us'));
    expect(stops[0]).toMatchObject({ pressureKpa: 20, color: pressureRamp(0) });
    expect(stops.at(-1)).toMatchObject({ pressureKpa: 180, color: pressureRamp(1) });
    expect(title).toContain('psi');
    expect(Number(stops.at(-1)!.figure)).toBeCloseTo(shownValue('pressure', 180, 'us'), 1);
  });

  test('take the range that is given', () => {
    const { stops } = rampOf(legendOf(results, 'metric', null, { minKpa: 50, maxKpa: 250 }));
    expect(stops.map(({ pressureKpa }) => pressureKpa)).toEqual([50, 100, 150, 200, 250]);
  });

  test('name the states that occur, each with the sign of the drawing, and no others', () => {
    const entries = legendOf(results, 'us').filter((entry) => entry.kind === 'mark');
    expect(words(entries)).toEqual(['outlet below its lowest pressure', 'outlet not connected to a supply']);
    expect(entries.map(({ sample }) => sample.symbols[0]!.name)).toEqual(['triangleDown', 'ring']);
  });

  test('have no ramp when no outlet has water', () => {
    const entries = legendOf(resultsWith(['dry', 0], ['apart', NaN]), 'us');
    expect(entries.map(({ kind }) => kind)).toEqual(['mark', 'mark']);
    expect(legendOf(null, 'us')).toEqual([]);
  });
});

describe('signs of a plan', () => {
  const plan: Plan = {
    ...emptyPlan(),
    supplies: Table.of([
      {
        ...UNMEASURED_SUPPLY,
        id: 's',
        name: '',
        at: [0, 0],
      },
    ]),
    heads: Table.of(
      (['cap', 'tie-in'] as const).map((fate) => ({
        ...UNMEASURED_HEAD,
        id: fate,
        at: [0, 0] as const,
        fate,
      })),
    ),
  };

  test('only what is on the plan is explained', () => {
    expect(words(legendOf(null, 'us', emptyPlan()))).toEqual([]);
    expect(words(legendOf(null, 'us', plan))).toEqual([
      'valve (supply)',
      'head becomes the tie-in',
      'head capped',
    ]);
  });

  test('every symbol on the drawing has its like in the legend', () => {
    const options = { units: 'us', colourRange: null, photoMetresPerPixel: 1 } as const;
    const layers = drawPlan(plan, null, { ...options, show: new Set(SUBJECTS) });
    const drawn = layers.flatMap(({ marks }) => marks).filter((mark) => mark.kind === 'symbol');
    const explained = legendOf(null, 'us', plan).flatMap((entry) =>
      entry.kind === 'mark' ? entry.sample.symbols : [],
    );
    expect(drawn.length).toBe(5);
    for (const { name, sizeMm, pen, fill } of drawn) {
      expect(explained).toContainEqual(
        expect.objectContaining({ name, sizeMm, ...(pen && { pen }), ...(fill && { fill }) }),
      );
    }
  });
});

describe('figures of the ramp', () => {
  const results = resultsWith(['good', 100]);
  test.each([
    ['us', 0.5],
    ['us', 5],
    ['us', 0.01],
    ['us', 0],
    ['metric', 0.1],
    ['metric', 1],
    ['metric', 3],
  ] as const)('%s over %s kPa: no figure stands twice', (units, span) => {
    const { stops } = rampOf(legendOf(results, units, null, { minKpa: 100, maxKpa: 100 + span }));
    const figures = stops.map(({ figure }) => figure);
    expect(figures.length).toBeGreaterThan(0);
    expect(new Set(figures).size).toBe(figures.length);
    expect(new Set(stops.map((stop) => stop.words)).size).toBe(figures.length);
  });

  test('the usual range keeps five stops with the usual digits', () => {
    const figures = rampOf(legendOf(results, 'us')).stops.map(({ figure }) => figure);
    expect(figures).toEqual(['12.0', '13.3', '14.5', '15.8', '17.0']);
  });
});
