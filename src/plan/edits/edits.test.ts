import { describe, expect, test } from 'vitest';
import { nearestOnPath } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../empty.ts';
import type { FlushEnd, Plan, Plant, PointEmitter, Run } from '../records.ts';
import { add, deleteVertex, duplicated, insertVertex, move, moveVertex, remove } from './index.ts';

const run = (id: string, path: Run['path']): Run => ({
  id,
  name: id,
  path,
  tubing: 'blank-half-600',
  inline: null,
});
const emitter = (
  id: string,
  runId: string,
  at: PointEmitter['at'],
  plantId: string | null = null,
): PointEmitter => ({
  id,
  runId,
  at,
  plantId,
  law: 'point-pc',
  ratedFlowLph: 4,
});
const plant = (id: string, at: Plant['at']): Plant => ({
  id,
  at,
  name: '',
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1.2,
  rootBallM: null,
  waterUse: null,
});

function site(): Plan {
  return {
    ...emptyPlan(),
    plants: Table.of([plant('P1', [3, 1])]),
    runs: Table.of([
      run('R1', [
        [0, 0],
        [10, 0],
      ]),
      run('R2', [
        [5, 0],
        [5, 8],
      ]),
      run('R3', [
        [2, 2],
        [8, 2],
        [8, 6],
        [2, 2],
      ]),
    ]),
    emitters: Table.of([
      emitter('E1', 'R1', [3, 0], 'P1'),
      emitter('E2', 'R2', [5, 4]),
      emitter('E3', 'R2', [6, 4]),
    ]),
  };
}

/** The site with a check valve and a flush end on R2, and a flush end on R1. */
function fitted(): Plan {
  return {
    ...site(),
    checkValves: Table.of([{ id: 'K1', runId: 'R2', at: [5, 2], openKpa: 4 }]),
    flushEnds: Table.of<FlushEnd>([
      { id: 'F1', runId: 'R2', end: 'end' },
      { id: 'F2', runId: 'R1', end: 'end' },
    ]),
  };
}

describe('check valves and flush ends', () => {
  test('go with their run', () => {
    const plan = remove('', [{ table: 'runs', id: 'R2' }]).apply(fitted());
    expect(plan.checkValves.size).toBe(0);
    expect([...plan.flushEnds].map((flush) => flush.id)).toEqual(['F2']);
  });
  test('can be removed alone', () => {
    const plan = remove('', [
      { table: 'flushEnds', id: 'F1' },
      { table: 'checkValves', id: 'K1' },
    ]).apply(fitted());
    expect([plan.flushEnds.size, plan.checkValves.size, plan.runs.size]).toEqual([1, 0, 3]);
  });
  test('a check valve moves with its run', () => {
    const plan = move('', [{ table: 'runs', id: 'R2' }], 1, 3).apply(fitted());
    expect(plan.checkValves.get('K1')?.at).toEqual([6, 5]);
  });
  test('a check valve stays on the tubing when the run is reshaped', () => {
    const moved = moveVertex('', { table: 'runs', id: 'R2', ring: 0, index: 1 }, [9, 8]).apply(fitted());
    expect(moved.checkValves.get('K1')?.at).toEqual([6, 2]);
    const bent = insertVertex('', { table: 'runs', id: 'R2', ring: 0, index: 1 }, [7, 2]).apply(fitted());
    const { at } = bent.checkValves.get('K1')!;
    expect(nearestOnPath(bent.runs.get('R2')!.path, at).distance).toBeLessThan(1e-9);
  });
  test('a run that is carried at its end carries what sits on it', () => {
    const plan = move('', [{ table: 'runs', id: 'R1' }], 0, -8).apply(fitted());
    expect(plan.runs.get('R2')?.path[0]).toEqual([5, -8]);
    expect(plan.checkValves.get('K1')?.at).toEqual([5, -4]);
    expect(plan.emitters.get('E2')?.at).toEqual([5, 0]);
    expect(plan.emitters.get('E3')?.at).toEqual([6, 4]);
  });
  test('a check valve moved alone slides along its run', () => {
    const plan = move('', [{ table: 'checkValves', id: 'K1' }], 3, 1).apply(fitted());
    expect(plan.checkValves.get('K1')?.at).toEqual([5, 3]);
  });
  test('a copied run has copies of them that name the copy', () => {
    const { plan, copies } = duplicated(fitted(), [{ table: 'runs', id: 'R2' }], 1, 1);
    expect(copies).toEqual([{ table: 'runs', id: 'R4' }]);
    expect(plan.checkValves.get('K2')).toEqual({ id: 'K2', runId: 'R4', at: [6, 3], openKpa: 4 });
    expect(plan.checkValves.get('K1')).toEqual(fitted().checkValves.get('K1'));
    expect(plan.flushEnds.get('F3')).toEqual({ id: 'F3', runId: 'R4', end: 'end' });
    expect(plan.flushEnds.size).toBe(3);
  });
  test('a flush end alone is not copied: an end has one', () => {
    const { plan, copies } = duplicated(fitted(), [{ table: 'flushEnds', id: 'F1' }], 1, 1);
    expect(copies).toEqual([]);
    expect(plan.flushEnds.size).toBe(2);
  });
});

describe('removing', () => {
  test('a run takes its point emitters along', () => {
    const plan = remove('', [{ table: 'runs', id: 'R2' }]).apply(site());
    expect([...plan.emitters].map((e) => e.id)).toEqual(['E1']);
  });
  test('a plant leaves its emitter, which no longer names it', () => {
    const plan = remove('', [{ table: 'plants', id: 'P1' }]).apply(site());
    expect(plan.emitters.get('E1')?.plantId).toBeNull();
  });
  test('an unknown id changes nothing', () => {
    const before = site();
    expect(remove('', [{ table: 'plants', id: 'nobody' }]).apply(before).plants).toBe(before.plants);
  });
});

describe('moving', () => {
  test('a run carries the end of a branch that is joined to it, not the branch', () => {
    const plan = move('', [{ table: 'runs', id: 'R1' }], 0, -1).apply(site());
    expect(plan.runs.get('R2')?.path).toEqual([
      [5, -1],
      [5, 8],
    ]);
  });
  test('a run carries its emitters', () => {
    const plan = move('', [{ table: 'runs', id: 'R2' }], 1, 0).apply(site());
    expect(plan.emitters.get('E2')?.at).toEqual([6, 4]);
    expect(plan.emitters.get('E3')?.at).toEqual([7, 4]);
  });
  test('a plant carries the emitters that water it', () => {
    const plan = move('', [{ table: 'plants', id: 'P1' }], 0.5, 0.5).apply(site());
    expect(plan.emitters.get('E1')?.at).toEqual([3.5, 0.5]);
  });
});

describe('vertices', () => {
  test('moving a vertex keeps a joined branch on the tubing', () => {
    const plan = moveVertex('', { table: 'runs', id: 'R1', ring: 0, index: 1 }, [10, 2]).apply(site());
    expect(plan.runs.get('R2')?.path[0]).toEqual([5, 1]);
  });
  test('emitters on the tubing follow, those on a feeder stay by their plant', () => {
    const plan = moveVertex('', { table: 'runs', id: 'R2', ring: 0, index: 1 }, [7, 8]).apply(site());
    expect(plan.emitters.get('E2')?.at).toEqual([6, 4]);
    expect(plan.emitters.get('E3')?.at).toEqual([6, 4]);
  });
  test('a closed run stays closed', () => {
    const plan = moveVertex('', { table: 'runs', id: 'R3', ring: 0, index: 0 }, [1, 1]).apply(site());
    const path = plan.runs.get('R3')!.path;
    expect(path[0]).toEqual([1, 1]);
    expect(path[3]).toEqual([1, 1]);
  });
  test('the last two vertices of a run cannot be deleted', () => {
    const before = site();
    expect(deleteVertex('', { table: 'runs', id: 'R1', ring: 0, index: 0 }).apply(before)).toBe(before);
  });
  test('an inserted vertex stands before the index', () => {
    const plan = insertVertex('', { table: 'runs', id: 'R1', ring: 0, index: 1 }, [4, 0]).apply(site());
    expect(plan.runs.get('R1')?.path).toEqual([
      [0, 0],
      [4, 0],
      [10, 0],
    ]);
  });
});

describe('copies', () => {
  test('a copied run has copies of its emitters that name the copy', () => {
    const { plan, copies } = duplicated(site(), [{ table: 'runs', id: 'R2' }], 1, 1);
    expect(copies).toEqual([{ table: 'runs', id: 'R4' }]);
    const made = [...plan.emitters].filter((e) => e.runId === 'R4');
    expect(made.map((e) => e.at)).toEqual([
      [6, 5],
      [7, 5],
    ]);
    expect(plan.emitters.size).toBe(5);
  });
  test('fresh ids never meet one in use', () => {
    const plan = add('', 'plants', { ...plant('', [0, 0]) }).apply(site());
    expect([...plan.plants].map((p) => p.id)).toEqual(['P1', 'P2']);
  });
});
