import { expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import type { Plan } from '../../plan/records.ts';
import { bedPlan, CHOICES } from '../rows/plan-for-fill-tests.ts';
import { layFill } from './lay.ts';
import { BED, filledPlan, runsOfFill, theFill } from './plan-for-live-tests.ts';

const plan: Plan = {
  ...bedPlan([BED]),
  supplies: Table.of([supply('V1', [10, 2])]),
  controls: Table.of([control('C1', [10, 2])]),
};

test('rows without headers that are to be led to get water, each of them', () => {
  for (const headers of ['none', 'both ends'] as const) {
    const laid = layFill(
      plan,
      { kind: 'bed', areaId: 'A1', choices: { ...CHOICES, headers } },
      { lead: true },
    );
    if (!laid.ok) throw new Error(laid.problem.what);
    expect(laid.value.leads.runs.length).toBeGreaterThan(0);
    expect(laid.value.leads.tooFar).toBe(0);
    const filled = filledPlan(plan, { headers }, { lead: true });
    const network = buildPlanNetwork(filled);
    const loose = network.notices.filter(({ rule }) => /^run-(loose|apart|without-length)/.test(rule));
    expect(loose).toEqual([]);
    expect(network.outlets).toHaveLength(laid.value.figures.emitters);
    expect(theFill(filled).leadIds!.length).toBe(laid.value.leads.runs.length);
  }
  // No lead crosses the bed: rows begin on the side of the water.
  const rows = runsOfFill(filledPlan(plan, { headers: 'none' }, { lead: true })).filter(
    ({ inline }) => inline,
  );
  for (const { path } of rows) expect(path[0]![0]).toBeGreaterThan(path.at(-1)![0]);
});
