import { expect, test } from 'vitest';
import { solve } from '../../hydraulics/index.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { blank, control, dripline, emitter, planOf, supply } from '../plan-for-tests.ts';
import { readResults } from '../read-results.ts';
import { outletValues } from '../outlet-values.ts';
import { outletFacts, outletsFrom } from './outlet-columns.ts';

test('outlets come back from columns as they were, shared ones and feeders on feeders too', () => {
  const planNetwork = buildPlanNetwork(
    planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [
        blank('H', [0, 0], [10, 0]),
        dripline('D', [
          [10, 0],
          [10, 3],
        ]),
      ],
      emitters: [
        emitter('A', 'H', [5, 1], { plantId: 'P1', alsoPlantIds: ['P2', 'P3'] }),
        emitter('B', 'H', [5, 2], { fromEmitterId: 'A', plantId: null }),
        emitter('E', 'H', [7, 1], { onRun: true }),
      ],
    }),
  );
  const solution = solve(planNetwork.network);
  const { outlets } = readResults(planNetwork, solution);
  const back = outletsFrom(outletFacts(planNetwork.outlets), outletValues(planNetwork, solution));
  expect(back).toEqual(outlets);
  expect(back.find(({ owner }) => owner.id === 'A')!.alsoPlantIds).toEqual(['P2', 'P3']);
  expect(back.find(({ owner }) => owner.id === 'B')!.fromEmitterId).toBe('A');
  expect(back.find(({ owner }) => owner.id === 'E')!.onRun).toBe(true);
});

test('only runs whose outlets have changed are told again, and outlets with the same figures are the same', () => {
  const row = (id: string, y: number, length: number) =>
    dripline(id, [
      [0, y],
      [length, y],
    ]);
  const plan = planOf({
    supplies: [supply('V', [0, 0])],
    controls: [control('C', [0, 0])],
    runs: [blank('H', [0, 0], [0, 9]), row('A', 2, 4), row('B', 4, 4), row('D', 6, 4)],
  });
  const first = buildPlanNetwork(plan);
  const held = readResults(first, solve(first.network)).outlets;
  const second = buildPlanNetwork({ ...plan, runs: plan.runs.with(row('B', 4, 6)) });
  const solution = solve(second.network);
  const facts = structuredClone(outletFacts(second.outlets, first.outlets));
  const own = second.outlets.filter(({ runId }) => runId === 'B').length;
  expect(facts.flags.length).toBe(own);
  expect(own).toBeGreaterThan(held.filter(({ runId }) => runId === 'B').length);
  const values = outletValues(second, solution);
  const back = outletsFrom(facts, values, held);
  expect(back).toEqual(readResults(second, solution).outlets);
  expect(outletsFrom(null, values, back).every((outlet, i) => outlet === back[i])).toBe(true);
  values.flowLph[3]! += 1;
  const changed = outletsFrom(null, values, back);
  expect(changed.map((outlet, i) => outlet === back[i]).indexOf(false)).toBe(3);
  expect(changed[3]!.flowLph).toBe(back[3]!.flowLph + 1);
});
