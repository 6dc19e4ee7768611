import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import { add, change, move, moveVertex, remove, type Edit } from '../../plan/edits/index.ts';
import type { Fill, Plan } from '../../plan/records.ts';
import { clearedOf, fillEdit } from '../rows/index.ts';
import { area, bedPlan, CHOICES, rectangle } from '../rows/plan-for-fill-tests.ts';
import { follow, followed } from './follow.ts';
import { layFill } from './lay.ts';
import { crossingsOf } from './round-rows.ts';
import { fedIds } from './fed.ts';

/** Leads of several beds beside and on each other. */

const after = (plan: Plan, edit: Edit): Plan => followed(plan, edit.apply(plan));

function filled(plan: Plan, areaId: string, leadFrom?: string): Plan {
  const choices = CHOICES;
  const place = { kind: 'bed', areaId, choices, leadFrom } as const;
  const laid = layFill(plan, place, { lead: true });
  if (!laid.ok) throw new Error(laid.problem.what);
  return after(plan, fillEdit(plan, areaId, laid.value, { replace: true, choices, lead: true, leadFrom }));
}

const fillOf = (plan: Plan, areaId: string): Fill =>
  [...plan.fills].find((fill) => fill.kind === 'bed' && fill.areaId === areaId)!;
const leadsOf = (plan: Plan, areaId: string) =>
  (fillOf(plan, areaId).leadIds ?? []).map((id) => plan.runs.get(id)!);
const apart = (plan: Plan): number =>
  buildPlanNetwork(plan).notices.filter(({ rule }) => /^run-(loose|apart)/.test(rule)).length;

const BEDS = [
  area('A1', rectangle(2, 0, 5, 3), { name: 'One' }),
  area('A2', rectangle(9, 0, 5, 3), { name: 'Two' }),
  area('A3', rectangle(16, 0, 5, 3), { name: 'Three' }),
];
const withSource = (plan: Plan): Plan => ({
  ...plan,
  supplies: Table.of([supply('V1', [0, -2])]),
  controls: Table.of([control('C1', [0, -2])]),
});
const three = (): Plan =>
  ['A1', 'A2', 'A3'].reduce((plan, id) => filled(plan, id), withSource(bedPlan(BEDS)));

describe('beds in a row, led from one control set', () => {
  const plan = three();

  test('all have water, and a later lead begins on an earlier one', () => {
    expect(apart(plan)).toBe(0);
    const starts = leadsOf(plan, 'A3').map(({ path }) => path[0]!);
    expect(starts.some(([x, y]) => x !== 0 || y !== -2)).toBe(true);
  });

  test.each(['A1', 'A2', 'A3'])('without %s the others still have theirs', (gone) => {
    const { runIds, id } = fillOf(plan, gone);
    const edit = remove('', [
      { table: 'areas', id: gone },
      { table: 'fills', id },
      ...runIds.map((run) => ({ table: 'runs', id: run }) as const),
    ]);
    const next = after(plan, edit);
    expect(next.fills.size).toBe(2);
    expect(apart(next)).toBe(0);
    expect([...next.fills].map(({ byHand }) => byHand)).toEqual([false, false]);
  });

  test('a lead that nothing takes from stays when another bed goes', () => {
    const { runIds, id } = fillOf(plan, 'A3');
    const next = after(
      plan,
      remove('', [
        { table: 'areas', id: 'A3' },
        { table: 'fills', id },
        ...runIds.map((run) => ({ table: 'runs', id: run }) as const),
      ]),
    );
    expect(leadsOf(next, 'A1')).toEqual(leadsOf(plan, 'A1'));
    expect(leadsOf(next, 'A2')).toEqual(leadsOf(plan, 'A2'));
  });

  test('a far corner of a bed moves no lead at all', () => {
    const next = after(plan, moveVertex('', { table: 'areas', id: 'A2', ring: 0, index: 2 }, [14, 3.4]));
    expect(leadsOf(next, 'A1')).toEqual(leadsOf(plan, 'A1'));
    expect(apart(next)).toBe(0);
  });

  test('after any corner, bed or control set moves, and beds go, every outlet that is left has water', () => {
    const where = fc.double({ min: -1.2, max: 1.2, noNaN: true });
    const step = fc.record({
      bed: fc.constantFrom('A1', 'A2', 'A3'),
      kind: fc.constantFrom('corner', 'move', 'remove', 'control'),
      index: fc.nat(3),
      by: fc.tuple(where, where),
    });
    let done = 0;
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 4 }), (steps) => {
        let now = plan;
        for (const { bed, kind, index, by } of steps) {
          const one = now.areas.get(bed);
          if (!one) continue;
          const fill = fillOf(now, bed);
          const corner = one.outline[index]!;
          now = after(
            now,
            kind === 'corner'
              ? moveVertex('', { table: 'areas', id: bed, ring: 0, index }, [
                  corner[0] + by[0],
                  corner[1] + by[1],
                ])
              : kind === 'move'
                ? move('', [{ table: 'areas', id: bed }], by[0], by[1])
                : kind === 'control'
                  ? move(
                      '',
                      [
                        { table: 'controls', id: 'C1' },
                        { table: 'supplies', id: 'V1' },
                      ],
                      by[0],
                      by[1],
                    )
                  : remove('', [
                      { table: 'areas', id: bed },
                      { table: 'fills', id: fill.id },
                      ...fill.runIds.map((id) => ({ table: 'runs', id }) as const),
                    ]),
          );
          if ([...now.fills].some(({ byHand }) => byHand)) return;
          expect(apart(now)).toBe(0);
          done += 1;
        }
      }),
      { seed: 5, numRuns: 40 },
    );
    expect(done).toBeGreaterThan(50);
  });
});

describe('what is shown before it is drawn', () => {
  const bare = withSource(bedPlan(BEDS));

  test('a second bed has its water while it is only shown, and is drawn just so', () => {
    const first = filled(bare, 'A1');
    const place = { kind: 'bed', areaId: 'A2', choices: CHOICES } as const;
    const laid = layFill(first, place, { lead: true });
    if (!laid.ok) throw new Error(laid.problem.what);
    const edit = fillEdit(first, 'A2', laid.value, { replace: false, choices: CHOICES, lead: true });
    const shown = follow(first, edit.apply(first), { drafted: true }).plan;
    expect(apart(shown)).toBe(0);
    expect([...after(first, edit).runs]).toEqual([...shown.runs]);
  });

  test('rows that take the place of tubing in the bed do not hang on it', () => {
    const run = { id: 'R1', name: 'Main', tubing: 'blank-17', inline: null };
    const before: Plan = {
      ...bare,
      runs: Table.of([
        {
          ...run,
          path: [
            [0, -2],
            [1, -2],
            [1, -0.5],
          ],
        },
        {
          ...run,
          id: 'R2',
          name: 'In the bed',
          path: [
            [2.2, 0.5],
            [6.5, 0.5],
            [6.5, 2],
          ],
        },
      ]),
    };
    const cleared = clearedOf(before, 'A1');
    expect(cleared.runs.has('R2')).toBe(false);
    const laid = layFill(cleared, { kind: 'bed', areaId: 'A1', choices: CHOICES }, { lead: true });
    if (!laid.ok) throw new Error(laid.problem.what);
    const edit = fillEdit(before, 'A1', laid.value, { replace: true, choices: CHOICES, lead: true });
    const shown = follow(before, edit.apply(before), { drafted: true }).plan;
    expect(apart(shown)).toBe(0);
    expect([...after(before, edit).runs]).toEqual([...shown.runs]);
  });
});

describe('which control set', () => {
  const far = {
    ...bedPlan([BEDS[0]!]),
    controls: Table.of([control('C1', [-90, 0])]),
    supplies: Table.of([supply('V1', [-90, 0])]),
  };

  test('a bed out of reach gets its lead when a control set comes within reach', () => {
    const plan = filled(far, 'A1');
    expect(leadsOf(plan, 'A1')).toEqual([]);
    const next = after(plan, add('', 'controls', { ...control('', [0, -1]), name: 'Near' }));
    expect(leadsOf(next, 'A1').length).toBeGreaterThan(0);
    const fed = fedIds(next);
    expect(fillOf(next, 'A1').runIds.every((id) => fed.has(id))).toBe(true);
  });

  test('the one that is chosen feeds it, and the nearest does when that is gone', () => {
    const plan = {
      ...withSource(bedPlan([BEDS[0]!])),
      controls: Table.of([control('C1', [0, -2]), control('C2', [10, 6])]),
    };
    const near = filled(plan, 'A1');
    expect(leadsOf(near, 'A1')[0]!.path[0]).toEqual([0, -2]);
    const id = fillOf(near, 'A1').id;
    const chosen = after(near, change('', 'fills', [id], { leadFrom: 'C2' }));
    expect(leadsOf(chosen, 'A1')[0]!.path[0]).toEqual([10, 6]);
    expect(fillOf(chosen, 'A1').byHand).toBe(false);
    // As if it had been drawn so from the first.
    expect(leadsOf(filled(plan, 'A1', 'C2'), 'A1')[0]!.path[0]).toEqual([10, 6]);
    const gone = after(chosen, remove('', [{ table: 'controls', id: 'C2' }]));
    expect(leadsOf(gone, 'A1')[0]!.path[0]).toEqual([0, -2]);
    const back = after(chosen, change('', 'fills', [id], { leadFrom: undefined }));
    expect(leadsOf(back, 'A1')[0]!.path[0]).toEqual([0, -2]);
  });
});

describe('three beds, each led from its own control set', () => {
  const sets = [control('C1', [0, -2]), control('C2', [8, -2]), control('C3', [15, -2])];
  const plan = {
    ...bedPlan(BEDS),
    controls: Table.of(sets),
    supplies: Table.of(sets.map(({ at }, i) => supply(`V${i + 1}`, at))),
  };

  test('as chosen, crosswise too, and each set is moved with its own lead only', () => {
    const led = filled(filled(filled(plan, 'A1', 'C1'), 'A2', 'C2'), 'A3', 'C3');
    BEDS.forEach(({ id }, i) => expect(leadsOf(led, id)[0]!.path[0]).toEqual(sets[i]!.at));
    expect(apart(led)).toBe(0);
    const edit = move(
      '',
      [
        { table: 'controls', id: 'C2' },
        { table: 'supplies', id: 'V2' },
      ],
      0.5,
      -0.5,
    );
    const next = after(led, edit);
    expect(leadsOf(next, 'A1')).toEqual(leadsOf(led, 'A1'));
    expect(leadsOf(next, 'A3')).toEqual(leadsOf(led, 'A3'));
    expect(leadsOf(next, 'A2')[0]!.path[0]).toEqual([8.5, -2.5]);
    expect(apart(next)).toBe(0);
    expect([...next.fills].map(({ byHand }) => byHand)).toEqual([false, false, false]);
  });
});

describe('rows in the way', () => {
  test.each([[[4, 8]], [[11, 1.5]], [[-4, 1.5]], [[4, -5]], [[12, 8]]] as const)(
    'a lead from %j passes over no row',
    (at) => {
      const plan = filled(
        { ...bedPlan([area('A1', rectangle(0, 0, 8, 4))]), controls: Table.of([control('C1', [...at])]) },
        'A1',
      );
      const leads = leadsOf(plan, 'A1');
      expect(leads.length).toBeGreaterThan(0);
      const rows = [...plan.runs].filter(({ id }) => !fillOf(plan, 'A1').leadIds!.includes(id));
      expect(
        crossingsOf(
          leads.map(({ path }) => path),
          rows,
        ),
      ).toBe(0);
    },
  );

  test('a path over a row counts, one that ends on it or begins there does not', () => {
    const row = {
      path: [
        [0, 0],
        [4, 0],
      ],
    } as const;
    expect(
      crossingsOf(
        [
          [
            [2, -1],
            [2, 1],
          ],
        ],
        [row],
      ),
    ).toBe(1);
    expect(
      crossingsOf(
        [
          [
            [2, -1],
            [2, 0],
          ],
        ],
        [row],
      ),
    ).toBe(0);
    expect(
      crossingsOf(
        [
          [
            [4, -1],
            [4, 1],
          ],
        ],
        [row],
      ),
    ).toBe(0);
  });
});
