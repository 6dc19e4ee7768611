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
