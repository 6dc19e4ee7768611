import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { Fill, FillChoices, Plan, Plant } from '../../plan/records.ts';
import { blank, control, dripline, emitter, planOf, supply } from '../plan-for-tests.ts';
import { findings, limited } from './findings-for-tests.ts';
import { LIMITS } from './index.ts';

const CHOICES_FOR_TESTS: FillChoices = {
  pattern: 'straight',
  rowSpacingM: 0.45,
  emitterSpacingM: 0.45,
  ratedFlowLph: 2.3,
  law: 'inline-pc',
  tubing: 'inline-17',
  headerTubing: 'blank-half-600',
  edgeM: 0.1,
  direction: 'long edge',
  stagger: false,
  lowerThirdFactor: 1,
  leaveOut: [],
  headers: 'both ends',
  equalise: false,
};

const plant = (id: string, x: number, canopyMatureM: number): Plant => ({
  id,
  at: [x, 1],
  name: '',
  plantClass: 'tree',
  canopyNowM: 0,
  canopyMatureM,
  rootBallM: null,
  waterUse: null,
});
const plan: Plan = {
  ...planOf({
    supplies: [supply('V', [0, 0])],
    controls: [
      control('C', [0, 0], { filter: 'gone', regulator: 'gone', setKpa: 0 }),
      control('D', [NaN, 4]),
    ],
    runs: [
      blank('H', [0, 0], [9, 0]),
      dripline(
        'R',
        [
          [0, 0],
          [0, 400],
        ],
        { law: 'gone', ratedFlowLph: 2, spacingM: 0.3 },
      ),
      { ...dripline('N', []), tubing: 'gone' },
      dripline(
        'Z',
        [
          [0, 0],
          [5, 5],
        ],
        { spacingM: 0 },
      ),
    ],
    emitters: [
      emitter('A', 'H', [2, 0], { fromEmitterId: 'B', plantId: 'P' }),
      emitter('B', 'H', [3, 0], { fromEmitterId: 'A', plantId: 'gone', alsoPlantIds: ['P', 'P', 'gone'] }),
      emitter('E', 'gone', [NaN, 0], { ratedFlowLph: NaN }),
      emitter('F', 'H', [4, 0], { ratedFlowLph: 0, plantId: 'Q' }),
    ],
  }),
  plants: Table.of([plant('P', 2, 0), plant('Q', 4, NaN), plant('S', NaN, 3)]),
  areas: Table.of([
    { id: 'X', use: 'bed', name: '', outline: [], holes: [] },
    {
      id: 'Y',
      use: 'bed',
      name: '',
      outline: [
        [0, 0],
        [1, 1],
      ],
      holes: [],
    },
  ]),
  fills: Table.of<Fill>([
    { id: 'F1', kind: 'bed', areaId: 'gone', runIds: ['R'], byHand: false, choices: CHOICES_FOR_TESTS },
    {
      id: 'F2',
      kind: 'bed',
      areaId: 'Y',
      runIds: ['R', 'gone'],
      byHand: false,
      choices: { ...CHOICES_FOR_TESTS, rowSpacingM: 0 },
    },
  ]),
};

describe('plans that make no sense', () => {
  test('are checked to the end, and what is said of them has figures', () => {
    // `findings` looks at every notice: named by a rule, with a source, without NaN.
    expect(findings(plan, 'plant-without-emitter')).toBeDefined();
    expect(findings(planOf({}), 'no-flush-end')).toEqual([]);
  });
  test('with any limit at its least and at its most', () => {
    for (const bound of ['least', 'most'] as const) {
      const limits = Object.fromEntries(LIMITS.map((limit) => [limit.key, limit[bound]]));
      expect(findings(limited(plan, limits), 'supply-pressure')).toEqual([]);
    }
  });
});
