import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { blank, control, emitter, planOf, supply } from '../plan-for-tests.ts';
import { buildPlanNetwork } from './index.ts';

const zone = (...runs: Run[]): Plan =>
  planOf({ supplies: [supply('V', [0, 0])], controls: [control('C', [0, 0])], runs });

/** K by run and by the place at which its piece begins, as drawn. */
function losses(plan: Plan): Record<string, number> {
  const { network, pieces } = buildPlanNetwork(plan);
  const found: Record<string, number> = {};
  pieces.forEach(({ owner, a, b }, link) => {
    const lossK = network.links.lossK[link]!;
    if (lossK > 0) found[`${owner.id} ${a.join()} ${b.join()}`] = lossK;
  });
  return found;
}

describe('tees', () => {
  test('the run goes straight on with 0.6, the branch turns off with 1.8; what arrives has none', () => {
    expect(losses(zone(blank('H', [0, 0], [0, 9]), blank('B', [0, 4], [5, 4])))).toEqual({
      'H 0,4 0,9': 0.6,
      'B 0,4 5,4': 1.8,
    });
  });
  test('neither the direction of drawing nor a cut in the run matters', () => {
    expect(losses(zone(blank('H', [0, 9], [0, 0]), blank('B', [5, 4], [0, 4])))).toEqual({
      'H 0,9 0,4': 0.6,
      'B 5,4 0,4': 1.8,
    });
    const cut = losses(
      zone(blank('H', [0, 0], [0, 4]), blank('I', [0, 4], [0, 9]), blank('B', [0, 4], [5, 4])),
    );
    expect(cut).toEqual({ 'I 0,4 0,9': 0.6, 'B 0,4 5,4': 1.8 });
  });
  test('an elbow, an emitter and a feeder are no tee', () => {
    const plan = zone(blank('H', [0, 0], [0, 9], [5, 9]));
    const fed = { ...plan, emitters: planOf({ emitters: [emitter('E', 'H', [1, 4])] }).emitters };
    expect(losses(fed)).toEqual({});
  });
  test('a piece that closes a loop counts at both ends, as water may leave either', () => {
    const square: Point[] = [
      [0, 4],
      [4, 4],
      [4, 0],
    ];
    // Header along the ground, arm up, and the loop from the arm's end back to the header's.
    const plan = zone(blank('H', [0, 0], [4, 0], [8, 0]), blank('A', [0, 0], [0, 4]), blank('L', ...square));
    const found = losses(plan);
    // Two ways lead to (4, 0): 4 m along the header; from there the loop leaves, and the header goes on.
    expect(found['H 4,0 8,0']).toBe(0.6);
    expect(found['L 4,4 4,0']).toBe(1.8);
    expect(found['H 0,0 4,0']).toBeUndefined();
  });
  test('what no supply reaches has none', () => {
    expect(losses(planOf({ runs: [blank('H', [0, 0], [0, 9]), blank('B', [0, 4], [5, 4])] }))).toEqual({});
  });
});
