import { describe, expect, test } from 'vitest';
import { buildPlanNetwork } from '../derive/network/index.ts';
import { blank, control, emitter, planOf, supply } from '../derive/plan-for-tests.ts';
import { readResults } from '../derive/read-results.ts';
import { solve } from '../hydraulics/index.ts';
import { legendOf } from './legend.ts';
import { outletMarks, plainOutletMarks } from './outlets.ts';
import { feederMarks, feedersOf, OPEN_END } from './tubing.ts';

const plan = planOf({
  supplies: [supply('V', [0, 0])],
  controls: [control('C', [0, 0])],
  runs: [blank('H', [0, 0], [10, 0])],
  emitters: [
    emitter('A', 'H', [5, 1]),
    emitter('B', 'H', [5, 2], { fromEmitterId: 'A' }),
    emitter('D', 'H', [7, 1], { onRun: true }),
    emitter('F', 'H', [8, 0], { onRun: true }),
  ],
});
const planNetwork = buildPlanNetwork(plan);
const results = readResults(planNetwork, solve(planNetwork.network));

describe.each([
  ['as computed', results.outlets],
  ['while nothing is computed', null],
] as const)('feeders %s', (_, outlets) => {
  test('start at the run or at the emitter that they name', () => {
    const ways = feedersOf(plan.emitters, plan.runs, outlets).map(({ emitterId, from, to }) => [
      emitterId,
      from,
      to,
    ]);
    expect(ways).toEqual([
      ['A', [5, 0], [5, 1]],
      ['B', [5, 1], [5, 2]],
      ['D', [7, 0], [7, 1]],
    ]);
  });

  test('of emitters on the run end open at the plant, and the sign stands on the run', () => {
    const ends = feederMarks(plan.emitters, plan.runs, outlets).filter(({ kind }) => kind === 'symbol');
    expect(ends).toEqual([{ ...OPEN_END, owner: 'emitters/D', at: [7, 1] }]);
    const signs = outlets ? outletMarks(results, null) : plainOutletMarks(plan.runs, plan.emitters);
    const at = signs.flatMap((mark) => (mark.kind === 'symbol' ? [[mark.owner, mark.at]] : []));
    expect(at).toEqual([
      ['emitters/A', [5, 1]],
      ['emitters/B', [5, 2]],
      ['emitters/D', [7, 0]],
      ['emitters/F', [8, 0]],
    ]);
  });
});

test('a ring of starts is drawn from the run', () => {
  const ring = planOf({
    runs: [blank('H', [0, 0], [10, 0])],
    emitters: [
      emitter('A', 'H', [5, 1], { fromEmitterId: 'B' }),
      emitter('B', 'H', [6, 1], { fromEmitterId: 'A' }),
    ],
  });
  expect(feedersOf(ring.emitters, ring.runs, null).map(({ from }) => from)).toEqual([
    [5, 0],
    [6, 0],
  ]);
});

test('the legend has the open end only where there is one', () => {
  const wordsOf = (own: typeof plan) => legendOf(results, 'us', own).map(({ words }) => words);
  const open = 'feeder open at the plant, its emitter on the tubing';
  expect(wordsOf(plan)).toContain(open);
  const none = { ...plan, emitters: plan.emitters.without(['D', 'F']) };
  expect(wordsOf(none)).not.toContain(open);
});
