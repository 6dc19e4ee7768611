import fc from 'fast-check';
import { expect, test } from 'vitest';
import { polar, type Point, type Ring } from '../../base/point.ts';
import { selfCrossings } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import {
  add,
  change,
  deleteVertex,
  insertVertex,
  move,
  moveVertex,
  remove,
  type Edit,
} from '../../plan/edits/index.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { area, bedPlan, CHOICES, rectangle } from '../rows/plan-for-fill-tests.ts';
import { follow, followed } from './follow.ts';
import { filledPlan, freshly, runsOfFill, theFill, tubingOf } from './plan-for-live-tests.ts';

/** Any edit after any other: live rows are always those that a fresh fill would give, and nothing hangs in the air. */

const place = fc.tuple(
  fc.double({ min: -2, max: 12, noNaN: true }),
  fc.double({ min: -2, max: 9, noNaN: true }),
);
const pick = fc.nat();

type Draw = (plan: Plan) => Edit;

const bedRing = { table: 'areas', id: 'A1', ring: 0 } as const;
const corners = (plan: Plan): number => plan.areas.get('A1')!.outline.length;
const edit: fc.Arbitrary<Draw> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.tuple(pick, place).map(
      ([i, to]): Draw =>
        (plan) =>
          moveVertex('', { ...bedRing, index: i % corners(plan) }, to as Point),
    ),
  },
  fc.tuple(pick, place).map(
    ([i, to]): Draw =>
      (plan) =>
        insertVertex('', { ...bedRing, index: 1 + (i % corners(plan)) }, to as Point),
  ),
  pick.map(
    (i): Draw =>
      (plan) =>
        deleteVertex('', { ...bedRing, index: i % corners(plan) }),
  ),
  fc.tuple(place, fc.constantFrom('paving', 'lawn', 'bed')).map(
    ([at, use]): Draw =>
      () =>
        add('', 'areas', {
          use: use as 'paving',
          name: '',
          outline: rectangle(at[0], at[1], 1.5, 1),
          holes: [],
        }),
  ),
  pick.map((i): Draw => (plan) => {
    const others = [...plan.areas].filter(({ id }) => id !== 'A1');
    const one = others[i % Math.max(1, others.length)];
    return remove('', one ? [{ table: 'areas', id: one.id }] : []);
  }),
  fc.tuple(place, fc.boolean()).map(([by, withRows]): Draw => (plan) => {
    const rows = withRows ? theFill(plan).runIds.map((id): Ref => ({ table: 'runs', id })) : [];
    return move('', [{ table: 'areas', id: 'A1' }, ...rows], by[0] / 10, by[1] / 10);
  }),
  place.map(
    (by): Draw =>
      () =>
        move(
          '',
          [
            { table: 'controls', id: 'C1' },
            { table: 'supplies', id: 'V1' },
          ],
          by[0] / 4,
          by[1] / 4,
        ),
  ),
  fc.tuple(pick, fc.double({ min: 0, max: 6, noNaN: true })).map(
    ([i, zM]): Draw =>
      (plan) =>
        change('', 'levels', [`Z${1 + (i % Math.max(1, plan.levels.size))}`], { zM }),
  ),
  fc
    .record({
      rowSpacingM: fc.constantFrom(0.3, 0.45, 0.7),
      headers: fc.constantFrom('both ends' as const, 'serpentine' as const),
      stagger: fc.boolean(),
    })
    .map(
      (fields): Draw =>
        (plan) =>
          change('', 'fills', [theFill(plan).id], {
            choices: { ...theFill(plan).choices, ...fields } as never,
          }),
    ),
);

const star = fc
  .array(fc.double({ min: 2, max: 5, noNaN: true }), { minLength: 4, maxLength: 8 })
  .map((radii): Ring => radii.map((radius, i) => polar([5, 4], radius, (360 * i) / radii.length)));

function startOf(outline: Ring, rise: number): Plan {
  return {
    ...bedPlan([area('A1', outline, { name: 'Bank' })], 0, rise),
    supplies: Table.of([supply('V1', [-2, -1])]),
    controls: Table.of([control('C1', [-2, -1])]),
  };
}

test('after any edits the rows are those of a fresh fill, once each, and water reaches them', () => {
  let relaid = 0;
  let failed = 0;
  fc.assert(
    fc.property(
      star,
      fc.constantFrom(0, 0.2),
      fc.array(edit, { minLength: 1, maxLength: 5 }),
      (outline, rise, draws) => {
        fc.pre(selfCrossings(outline).length === 0);
        let plan = filledPlan(startOf(outline, rise), CHOICES, { lead: true });
        for (const draw of draws) {
          const edited = draw(plan).apply(plan);
          const { plan: next, notes } = follow(plan, edited);
          const fill = theFill(next);
          const ids = new Set(fill.runIds);
          expect(ids.size).toBe(fill.runIds.length);
          for (const { runId } of [...next.flushEnds, ...next.checkValves])
            expect(next.runs.has(runId)).toBe(true);
          expect(new Set([...next.runs].map(({ name }) => name)).size).toBe(next.runs.size);
          if (fill.byHand) {
            failed += 1;
            expect(notes).toMatchObject([{ kind: 'failed' }]);
            expect(tubingOf(runsOfFill(next))).toEqual(
              tubingOf(fill.runIds.map((id) => edited.runs.get(id)!)),
            );
            return;
          }
          // Every run of the plan belongs to the fill: none is left behind.
          expect([...next.runs].every(({ id }) => ids.has(id))).toBe(true);
          const fresh = freshly(next);
          if (!fresh.ok) throw new Error(fresh.problem.what);
          expect(tubingOf(runsOfFill(next))).toEqual(tubingOf(fresh.value.runs));
          expect(next.flushEnds.size).toBe(fresh.value.flushEnds.length);
          if (fresh.value.leads.tooFar === 0) {
            const { notices } = buildPlanNetwork(next);
            expect(notices.filter(({ rule }) => /^run-(loose|apart)/.test(rule))).toEqual([]);
          }
          expect(followed(next, { ...next })).toEqual(next);
          if (next.runs !== plan.runs) relaid += 1;
          plan = next;
        }
      },
    ),
    { seed: 11, numRuns: 60 },
  );
  expect(relaid).toBeGreaterThan(60);
  expect(failed).toBeLessThan(25);
});
