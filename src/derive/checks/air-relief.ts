import { memo } from '../../base/memo.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { FOOT_M } from '../../base/units.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { PlanNetwork } from '../results.ts';
import { agree, counted, isAbove, listed } from '../wording.ts';
import { limitOf, type Limit, type Rule } from './check.ts';
import { extremesOf, type Extreme } from './line-ends.ts';

const SOURCE =
  'common practice: an air and vacuum relief at the high point of each covered grid; a landscape firm’s explainer describes the same part and place';

const HEIGHT: Limit = {
  key: 'air-relief.height',
  label: 'Height of a high point over supply or end',
  kind: 'length',
  usual: 2 * FOOT_M,
  least: 0.05,
  most: 30,
  source: 'common practice',
};

const highs = memo(
  (
    runs: Plan['runs'],
    flushEnds: Plan['flushEnds'],
    checkValves: Plan['checkValves'],
    lineParts: Plan['lineParts'],
    planNetwork: PlanNetwork,
  ) => extremesOf({ runs, flushEnds, checkValves, lineParts }, planNetwork, 'high'),
);

/** High places of covered grids that have no air relief and stand out by more than the plan's limit. */
export function openHighs(plan: Plan, planNetwork: PlanNetwork): readonly Extreme[] {
  if (plan.soil.coverKind === 'bare' || plan.levels.size + plan.falls.size === 0) return [];
  const limitM = limitOf(plan)(HEIGHT);
  return highs(plan.runs, plan.flushEnds, plan.checkValves, plan.lineParts, planNetwork).filter(
    ({ depthM, served, runId }) => !served && isAbove(depthM, limitM) && plan.runs.has(runId),
  );
}

/** At shut-off a high place draws soil in through its emitters. Bare ground is left out: nothing lies on the lines. */
export const airRelief: Rule = {
  number: 26,
  title: 'Air relief at high points',
  says: ['air-relief-missing'],
  severity: 'warning',
  limits: [HEIGHT],
  source: SOURCE,
  check: ({ plan, planNetwork, units }) => {
    const open = openHighs(plan, planNetwork);
    if (open.length === 0) return [];
    const runs = [...new Set(open.map(({ runId }) => runId))];
    const highest = open.reduce((most, { depthM }) => Math.max(most, depthM), 0);
    return [
      {
        rule: 'air-relief-missing',
        severity: 'warning',
        message: `${counted(open.length, 'high point')} of covered dripline (${agree(runs.length, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id)!)))}) ${agree(open.length, 'stands', 'stand')} up to ${formatQuantity('length', highest, units)} above the lowest end without an air relief: at shut-off soil is drawn in through the emitters. Set an air and vacuum relief there, in gravel.`,
        refs: runs.map((id) => ({ table: 'runs', id }) as const),
        places: open.map(({ at }) => at),
        source: SOURCE,
        fix: {
          label: open.length === 1 ? 'Add an air relief there' : 'Add air reliefs there',
          changes: open.map(({ runId, at }) => ({
            kind: 'add',
            table: 'lineParts',
            record: { kind: 'air relief', runId, at },
          })),
        },
      },
    ];
  },
};
