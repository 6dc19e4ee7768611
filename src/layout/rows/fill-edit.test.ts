import { expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { blank, dripline, emitter } from '../../derive/plan-for-tests.ts';
import type { Plan } from '../../plan/records.ts';
import { fillBed } from './fill-bed.ts';
import { fillEdit, runsInBed } from './fill-edit.ts';
import { area, bedPlan, CHOICES, rectangle } from './plan-for-fill-tests.ts';

const u = area(
  'B',
  [
    [0, 0],
    [8, 0],
    [8, 5],
    [5, 5],
    [5, 2],
    [3, 2],
    [3, 5],
    [0, 5],
  ],
  { name: 'Bank' },
);

const plan: Plan = {
  ...bedPlan([u]),
  runs: Table.of([
    dripline('R7', [
      [1, 1],
      [7, 1],
    ]),
    blank('R8', [1, 4], [1, 3], [2, 3]),
    // Both ends in the bed, and the notch between them.
    blank('R9', [1, 4], [7, 4]),
    blank('R10', [1, 1], [12, 1]),
  ]),
  emitters: Table.of([emitter('E1', 'R8', [1, 3.5]), emitter('E2', 'R9', [2, 4])]),
  flushEnds: Table.of([{ id: 'F1', runId: 'R7', end: 'end' as const }]),
};

function filled(on: Plan) {
  const result = fillBed(on, 'B', CHOICES);
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

test('runs that lie wholly in the bed are known, the notch counts', () => {
  expect(runsInBed(plan, 'B').map(({ id }) => id)).toEqual(['R7', 'R8']);
  expect(runsInBed(plan, 'nowhere')).toEqual([]);
});

test('rows are added under ids of their own, with their flush ends', () => {
  const fill = filled(plan);
  const edit = fillEdit(plan, 'B', fill, { replace: false });
  const after = edit.apply(plan);
  expect(edit.label).toBe('Rows in Bank');
  expect(after.runs.size).toBe(plan.runs.size + fill.runs.length);
  expect(after.flushEnds.size).toBe(1 + fill.flushEnds.length);
  for (const id of ['R7', 'R8', 'R9', 'R10']) expect(after.runs.get(id)).toBe(plan.runs.get(id));
  const flush = after.flushEnds.toArray().at(-1)!;
  expect(after.runs.get(flush.runId)!.name).toMatch(/^Flush header/);
  // The same edit on a plan that went on meanwhile takes no id twice.
  expect(edit.apply(after).runs.size).toBe(after.runs.size + fill.runs.length);
});

test('replacing takes what lies in the bed with its parts, and nothing else', () => {
  const fill = filled(plan);
  const after = fillEdit(plan, 'B', fill, { replace: true }).apply(plan);
  expect(after.runs.has('R7') || after.runs.has('R8')).toBe(false);
  expect(after.runs.has('R9') && after.runs.has('R10')).toBe(true);
  expect(after.runs.size).toBe(2 + fill.runs.length);
  expect(after.emitters.toArray().map(({ id }) => id)).toEqual(['E2']);
  expect(after.flushEnds.has('F1')).toBe(false);
});

test('filled again with replacing, the plan is as before', () => {
  const once = fillEdit(plan, 'B', filled(plan), { replace: true }).apply(plan);
  const twice = fillEdit(once, 'B', filled(once), { replace: true }).apply(once);
  const facts = (of: Plan) => of.runs.toArray().map(({ name, path, inline }) => ({ name, path, inline }));
  expect(facts(twice)).toEqual(facts(once));
});

test('a bed without area on the plan any more takes nothing away', () => {
  const gone = { ...plan, areas: Table.of([area('X', rectangle(0, 0, 1, 1))]) };
  expect(fillEdit(gone, 'B', filled(plan), { replace: true }).apply(gone).runs.has('R7')).toBe(true);
});
