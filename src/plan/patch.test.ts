import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { emptyPlan } from './empty.ts';
import { patched, planPatch, type PlanPatch } from './patch.ts';
import { TABLES, type Level, type Plan, type Plant, type TableName } from './records.ts';

const posted = (patch: PlanPatch): PlanPatch => structuredClone(patch);
const level = (id: string, zM: number): Level => ({ id, at: [zM, 0], zM });
const plant = (id: string): Plant => ({
  id,
  at: [0, 0],
  name: '',
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
});
/** A plan as plain lists, order of records included. */
const plain = (plan: Plan) =>
  Object.fromEntries(
    Object.entries(plan).map(([key, value]) => [key, value instanceof Table ? value.toArray() : value]),
  );

describe('a patch', () => {
  test('holds only what changed', () => {
    const plan = { ...emptyPlan('a'), levels: Table.of([level('Z1', 1), level('Z2', 2)]) };
    const moved = level('Z2', 3);
    const next = {
      ...plan,
      levels: plan.levels.with(moved),
      climate: { lowestWinterC: -3, note: '' },
    };
    expect(planPatch(plan, plan)).toEqual({ parts: {}, tables: {} });
    expect(planPatch(plan, next)).toEqual({
      parts: { climate: next.climate },
      tables: { levels: { gone: [], put: [moved], order: null } },
    });
  });

  test('leaves the tables that it does not name the same objects', () => {
    const plan = { ...emptyPlan('a'), plants: Table.of([plant('P1')]) };
    const next = { ...plan, levels: plan.levels.with(level('Z1', 0)) };
    const mirror = patched(plan, posted(planPatch(plan, next)));
    for (const table of TABLES) if (table !== 'levels') expect(mirror[table]).toBe(plan[table]);
    expect(mirror.water).toBe(plan.water);
  });

  test('a mirror equals the plan after random edits, undone and redone, order included', () => {
    const edit = fc.oneof(
      fc.record({
        table: fc.constantFrom<TableName>('levels', 'plants', 'runs', 'fills'),
        put: fc.array(fc.integer({ min: 0, max: 15 }), { maxLength: 5 }),
      }),
      fc.record({
        table: fc.constantFrom<TableName>('levels', 'plants', 'runs', 'fills'),
        drop: fc.array(fc.integer({ min: 0, max: 15 }), { maxLength: 5 }),
      }),
      fc.record({ name: fc.string({ maxLength: 4 }) }),
      fc.record({ photo: fc.boolean() }),
      fc.record({ back: fc.integer({ min: 1, max: 6 }) }),
    );
    let made = 0;
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 25 }), fc.integer({ min: 1, max: 4 }), (edits, every) => {
        const states: Plan[] = [emptyPlan()];
        let sent = emptyPlan();
        let mirror = emptyPlan();
        const send = (plan: Plan): void => {
          mirror = patched(mirror, posted(planPatch(sent, plan)));
          sent = plan;
          expect(plain(mirror)).toEqual(plain(plan));
        };
        edits.forEach((one, i) => {
          const plan = states.at(-1)!;
          if ('back' in one) states.push(states.at(-1 - one.back) ?? states[0]!);
          else if ('name' in one) states.push({ ...plan, site: { ...plan.site, name: one.name } });
          else if ('photo' in one) {
            const photo = { pictureId: `${made++}` } as unknown as Plan['photo'];
            states.push({ ...plan, photo: one.photo ? photo : null });
          } else {
            const table = plan[one.table] as unknown as Table<{ id: string; n: number }>;
            const next =
              'put' in one
                ? table.with(...one.put.map((n) => ({ id: `i${n}`, n: made++ })))
                : table.without(one.drop.map((n) => `i${n}`));
            states.push({ ...plan, [one.table]: next });
          }
          // Not each state is sent: what waits is replaced by what is newer.
          if (i % every === 0) send(states.at(-1)!);
        });
        send(states.at(-1)!);
      }),
      { seed: 20261125, numRuns: 250 },
    );
  });
});
