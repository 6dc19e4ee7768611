import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { blank, control, supply } from '../../derive/plan-for-tests.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Plan } from '../../plan/records.ts';
import { beginsAt } from './begins-at.ts';

describe('where new tubing begins, in words', () => {
  const plan: Plan = {
    ...emptyPlan('test'),
    supplies: Table.of([supply('V1', [0, 0]), supply('V2', [20, 0])]),
    controls: Table.of([
      { ...control('C1', [0, 0]), name: 'Near set' },
      { ...control('C2', [20, 0]), name: 'Far set' },
    ]),
    runs: Table.of([{ ...blank('R1', [20, 0], [20, 5]), name: 'Main' }]),
  };

  test('a control set by its name', () => {
    expect(
      beginsAt(plan, [
        [
          [0, 0],
          [3, 3],
        ],
      ]),
    ).toBe('Near set');
  });

  test('tubing that is there, with the set that feeds it', () => {
    expect(
      beginsAt(plan, [
        [
          [20, 3],
          [8, 3],
        ],
      ]),
    ).toBe('Main (Far set)');
  });

  test('a branch of what is new is no beginning of its own', () => {
    expect(
      beginsAt(plan, [
        [
          [0, 0],
          [3, 0],
          [3, 3],
        ],
        [
          [3, 0],
          [5, 0],
        ],
      ]),
    ).toBe('Near set');
  });

  test('nothing where there is nothing', () => {
    expect(
      beginsAt(plan, [
        [
          [9, 9],
          [9, 12],
        ],
      ]),
    ).toBeNull();
    expect(beginsAt(plan, [])).toBeNull();
  });
});
