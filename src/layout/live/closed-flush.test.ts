import { expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { change } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import { area, bedPlan, rectangle } from '../rows/plan-for-fill-tests.ts';
import { followed } from './follow.ts';
import { filledPlan, freshly, runsOfFill, theFill } from './plan-for-live-tests.ts';

const widened = (plan: Plan, toM: number): Plan =>
  followed(plan, change('', 'areas', ['A1'], { outline: rectangle(0, 0, 8, toM) }).apply(plan));
const flushed = (plan: Plan): string[] =>
  [...plan.flushEnds].map(({ runId, end }) => `${plan.runs.get(runId)?.name} ${end}`).sort();

test('a middle line that becomes a loop is opened at one place', () => {
  const bed = area('A1', rectangle(0, 0, 8, 0.35), { name: 'Strip' });
  const laid = filledPlan(bedPlan([bed]), { pattern: 'loops' });
  const [line] = runsOfFill(laid).filter(({ inline }) => inline);
  expect(line!.name).toContain('Middle line');
  // Both ends are to be opened, one of them by hand.
  const ends = ['start', 'end'] as const;
  const plan: Plan = {
    ...laid,
    flushEnds: Table.of(ends.map((end) => ({ id: `F-${end}`, runId: line!.id, end }))),
  };
  const wide = widened(plan, 0.5);
  const [loop] = runsOfFill(wide).filter(({ inline }) => inline);
  expect(loop!.path[0]).toEqual(loop!.path.at(-1));
  const fresh = freshly(wide);
  expect(fresh.ok && fresh.value.flushEnds).toHaveLength(1);
  expect(flushed(wide)).toEqual([`${loop!.name} end`]);
  expect(theFill(wide).byHand).toBe(false);
  const again = widened(wide, 0.35);
  expect(again.flushEnds.size).toBe(laid.flushEnds.size);
});
