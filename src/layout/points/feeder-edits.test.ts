import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { blank, emitter } from '../../derive/plan-for-tests.ts';
import { move } from '../../plan/edits/index.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Plan, PointEmitter, Run } from '../../plan/records.ts';
import {
  hangApart,
  hangOnOneFeeder,
  layPoints,
  movedOut,
  moveOutEdit,
  pointsEdit,
  rehangEdit,
  seatEmitters,
  shareEmitter,
  unshareEmitter,
  USUAL_POINTS,
} from './index.ts';
import { plant, planWith, rectangle } from './plan-for-points-tests.ts';

const BED = rectangle('B1', 'bed', 0, 0, 12, 6);
const withDrip = (
  emitters: readonly PointEmitter[],
  runs: readonly Run[] = [blank('R1', [0, 0.5], [12, 0.5])],
): Plan => ({
  ...planWith({
    areas: [BED],
    plants: [plant('P1', [3, 2]), plant('P2', [4, 2]), plant('P3', [9, 2])],
    start: [0, 0.5],
  }),
  runs: Table.of(runs),
  emitters: Table.of(emitters),
});
const starts = (plan: Plan) =>
  Object.fromEntries([...plan.emitters].map(({ id, fromEmitterId }) => [id, fromEmitterId]));

describe('several emitters on one feeder', () => {
  const plan = withDrip([
    emitter('E1', 'R1', [3, 2]),
    emitter('E2', 'R1', [3, 1], { onRun: true }),
    emitter('E3', 'R1', [3, 3]),
    emitter('E4', 'R1', [8, 1]),
  ]);

  test('from the one nearest to the run, each from the nearest that is reached', () => {
    const next = hangOnOneFeeder('Hang', ['E1', 'E2', 'E3']).apply(plan);
    expect(starts(next)).toEqual({ E1: 'E2', E2: undefined, E3: 'E1', E4: undefined });
    expect(next.emitters.get('E2')!.onRun).toBeUndefined();
    expect(buildPlanNetwork(next).notices).toEqual([]);
    const { outlets } = buildPlanNetwork(next);
    expect(outlets.map(({ owner, feederM }) => [owner.id, feederM])).toEqual([
      ['E2', 0.5],
      ['E1', 1],
      ['E3', 1],
      ['E4', 0.5],
    ]);
  });

  test('apart again: each from the run, and what hung on a chosen one too', () => {
    const hung = hangOnOneFeeder('Hang', ['E1', 'E2', 'E3']).apply(plan);
    expect(starts(hangApart('Apart', ['E1', 'E2', 'E3']).apply(hung))).toEqual(starts(plan));
    expect(starts(hangApart('Apart', ['E1']).apply(hung))).toEqual(starts(plan));
    expect(hangApart('Apart', ['E4']).apply(hung)).toBe(hung);
  });

  test('those of another run come to the run of the first, with what hangs on them', () => {
    const two = withDrip(
      [
        emitter('E1', 'R1', [3, 1]),
        emitter('E2', 'R2', [3, 3.5]),
        emitter('E3', 'R2', [4, 3.5], { fromEmitterId: 'E2' }),
      ],
      [blank('R1', [0, 0.5], [12, 0.5]), blank('R2', [0, 0.5], [0, 5], [12, 5])],
    );
    const next = hangOnOneFeeder('Hang', ['E1', 'E2']).apply(two);
    expect([...next.emitters].map(({ runId }) => runId)).toEqual(['R1', 'R1', 'R1']);
    expect(starts(next)).toEqual({ E1: undefined, E2: 'E1', E3: 'E2' });
    expect(buildPlanNetwork(next).notices).toEqual([]);
  });

  test('ids that are not there, twice the same, one alone: nothing changes', () => {
    expect(hangOnOneFeeder('Hang', ['E1', 'E1', 'X']).apply(plan)).toBe(plan);
    expect(shareEmitter('Share', 'X', ['P1']).apply(plan)).toBe(plan);
    expect(rehangEdit('Hang', ['X']).apply(plan)).toBe(plan);
    expect(seatEmitters('Seat', ['X'], 'run').apply(plan)).toBe(plan);
  });

  test('any choice after any other leaves no ring and no bad start', () => {
    const ids = ['E1', 'E2', 'E3', 'E4'];
    const some = fc.uniqueArray(fc.constantFrom(...ids), { minLength: 1 });
    const act = fc.record({ kind: fc.constantFrom('hang', 'apart', 'run', 'plant'), ids: some });
    fc.assert(
      fc.property(fc.array(act, { maxLength: 8 }), (acts) => {
        let now = plan;
        for (const { kind, ids: own } of acts) {
          if (kind === 'hang') now = hangOnOneFeeder('a', own).apply(now);
          else if (kind === 'apart') now = hangApart('a', own).apply(now);
          else now = seatEmitters('a', own, kind === 'run' ? 'run' : 'plant').apply(now);
        }
        expect(buildPlanNetwork(now).notices).toEqual([]);
        expect(buildPlanNetwork(now).outlets).toHaveLength(4);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('plants of an emitter', () => {
  const plan = withDrip([emitter('E1', 'R1', [3.5, 2], { plantId: 'P1' })]);

  test('shared and taken back; the last one leaves it without a plant', () => {
    const both = shareEmitter('Share', 'E1', ['P2', 'P1', 'X']).apply(plan);
    expect(plantsOf(both.emitters.get('E1')!)).toEqual(['P1', 'P2']);
    const second = unshareEmitter('Take', 'E1', 'P1').apply(both);
    expect(plantsOf(second.emitters.get('E1')!)).toEqual(['P2']);
    expect(second.emitters.get('E1')).not.toHaveProperty('alsoPlantIds');
    expect(unshareEmitter('Take', 'E1', 'P2').apply(second).emitters.get('E1')!.plantId).toBeNull();
  });

  test('it goes with its own plant and leaves the other where that is out of reach', () => {
    const both = shareEmitter('Share', 'E1', ['P2']).apply(plan);
    const own = move('Move', [{ table: 'plants', id: 'P1' }], 0.1, 0)
      .apply(both)
      .emitters.get('E1')!;
    expect([own.at, plantsOf(own)]).toEqual([
      [3.6, 2],
      ['P1', 'P2'],
    ]);
    const far = move('Move', [{ table: 'plants', id: 'P1' }], 4, 0)
      .apply(both)
      .emitters.get('E1')!;
    expect([far.at, plantsOf(far)]).toEqual([[7.5, 2], ['P1']]);
    const other = move('Move', [{ table: 'plants', id: 'P2' }], 4, 0)
      .apply(both)
      .emitters.get('E1')!;
    expect([other.at, plantsOf(other)]).toEqual([[3.5, 2], ['P1']]);
    const together = move(
      'Move',
      [
        { table: 'plants', id: 'P1' },
        { table: 'plants', id: 'P2' },
      ],
      4,
      0,
    ).apply(both);
    expect(plantsOf(together.emitters.get('E1')!)).toEqual(['P1', 'P2']);
  });
});

describe('moved out to the mature canopy', () => {
  const plants = [plant('P1', [3, 2], { canopyMatureM: 3 }), plant('P2', [8, 3], { canopyMatureM: 3 })];
  const before = planWith({ areas: [BED], plants, start: [0, 0.5] });
  const placed = pointsEdit(before, plants, USUAL_POINTS, 'Place').apply(before);

  test('to where the aid would put them for the grown plant; number and ids are kept', () => {
    const next = moveOutEdit(placed, plants, 'Move out').apply(placed);
    expect([...next.emitters].map(({ id }) => id)).toEqual([...placed.emitters].map(({ id }) => id));
    const mature = layPoints(before, plants, { ...USUAL_POINTS, place: 'mature' }).placed;
    const key = ({ at: [x, y] }: { readonly at: readonly [number, number] }) =>
      `${x.toFixed(6)} ${y.toFixed(6)}`;
    expect([...next.emitters].map(key).sort()).toEqual(mature.map(key).sort());
    for (const one of next.emitters) {
      const own = plants.find(({ id }) => id === one.plantId)!;
      expect(distance(one.at, own.at)).toBeCloseTo(1, 6);
    }
  });

  test('a second time nothing moves, and the plan is the same', () => {
    const next = moveOutEdit(placed, plants, 'Move out').apply(placed);
    expect(movedOut(next, plants).emitters).toEqual([]);
    expect(moveOutEdit(next, plants, 'Move out').apply(next)).toBe(next);
  });

  test('hung on the nearest run of its own water, not on one of another control set', () => {
    const runs = [
      blank('R1', [0, 0.5], [12, 0.5]),
      blank('R2', [0, 0.5], [0, 3.2], [12, 3.2]),
      blank('R9', [1, 2.4], [12, 2.4]),
    ];
    const plan = withDrip([emitter('E1', 'R1', [3, 2.2], { plantId: 'P1' })], runs);
    const next = rehangEdit('Hang', ['E1']).apply(plan);
    expect(next.emitters.get('E1')!.runId).toBe('R2');
  });

  test('what plants share and what has no place stays', () => {
    const own = withDrip([
      emitter('E1', 'R1', [3.2, 2], { plantId: 'P1', alsoPlantIds: ['P2'] }),
      emitter('E2', 'R1', [NaN, 2], { plantId: 'P1' }),
    ]);
    expect(movedOut(own, [...own.plants]).emitters).toEqual([]);
  });
});
