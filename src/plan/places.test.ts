import { expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { emptyPlan } from './empty.ts';
import { placesOf } from './places.ts';
import { TABLES, type Plan } from './records.ts';

const plan: Plan = {
  ...emptyPlan(),
  levels: Table.of([{ id: 'Z1', at: [1, 2], zM: 0 }]),
  runs: Table.of([
    {
      id: 'R1',
      name: '',
      path: [
        [0, 0],
        [4, 0],
      ],
      tubing: 'blank-half-600',
      inline: null,
    },
  ]),
  flushEnds: Table.of([{ id: 'F1', runId: 'R1', end: 'end' }]),
  checkValves: Table.of([{ id: 'K1', runId: 'R1', at: [2, 0.3], openKpa: 3 }]),
};

test('a part of a run lies on its run', () => {
  expect(placesOf(plan, { table: 'flushEnds', id: 'F1' })).toEqual([[4, 0]]);
  expect(placesOf(plan, { table: 'checkValves', id: 'K1' })).toEqual([[2, 0]]);
});

test('others hold their places themselves', () => {
  expect(placesOf(plan, { table: 'levels', id: 'Z1' })).toEqual([[1, 2]]);
  expect(placesOf(plan, { table: 'runs', id: 'R1' })).toHaveLength(2);
});

test('nothing is nowhere', () => {
  for (const table of TABLES) expect(placesOf(plan, { table, id: 'nobody' })).toEqual([]);
});
