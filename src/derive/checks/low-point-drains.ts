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
  'North Carolina 21 NCAC 23: enough water out that nothing is hurt below freezing; a drain or openable end at each low point: common practice';

const FROST: Limit = {
  key: 'low-point-drain.winter',
  label: 'Lowest winter temperature below which it freezes',
  kind: 'temperature',
  usual: 0,
  least: -50,
  most: 10,
  source: 'freezing point of water',
};
const DEPTH: Limit = {
  key: 'low-point-drain.depth',
  label: 'Depth of a low point that counts',
  kind: 'length',
  usual: FOOT_M,
  least: 0.02,
  most: 30,
  source: 'common practice',
};

const lows = memo(
  (
    runs: Plan['runs'],
    flushEnds: Plan['flushEnds'],
    checkValves: Plan['checkValves'],
    lineParts: Plan['lineParts'],
    planNetwork: PlanNetwork,
  ) => extremesOf({ runs, flushEnds, checkValves, lineParts }, planNetwork, 'low'),
);

/** Whether winters are so cold that pipes have to be emptied; false while that is not known. */
export function freezes(plan: Pick<Plan, 'climate' | 'checks'>): boolean {
  const { lowestWinterC } = plan.climate;
  return lowestWinterC !== null && lowestWinterC < limitOf(plan)(FROST);
}

/** Low places from which no drain and no openable end lets the water out, where it freezes. */
export function openLows(plan: Plan, planNetwork: PlanNetwork): readonly Extreme[] {
  if (!freezes(plan) || plan.levels.size + plan.falls.size === 0) return [];
  const limitM = limitOf(plan)(DEPTH);
  return lows(plan.runs, plan.flushEnds, plan.checkValves, plan.lineParts, planNetwork).filter(
    ({ depthM, served, runId }) => !served && isAbove(depthM, limitM) && plan.runs.has(runId),
  );
}

/** Where it freezes, all water has to run out: each low point needs a drain or an end that opens. */
export const lowPointDrains: Rule = {
  number: 33,
  title: 'Drains at low points where it freezes',
  says: ['low-point-drain'],
  severity: 'warning',
  limits: [FROST, DEPTH],
  source: SOURCE,
  check: ({ plan, planNetwork, units }) => {
    const { lowestWinterC } = plan.climate;
    const open = openLows(plan, planNetwork);
    if (open.length === 0 || lowestWinterC === null) return [];
    const runs = [...new Set(open.map(({ runId }) => runId))];
    return [
      {
        rule: 'low-point-drain',
        severity: 'warning',
        message: `${counted(open.length, 'low point')} (${agree(runs.length, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id)!)))}) ${agree(open.length, 'has', 'have')} neither a drain nor an end that opens, and winters go down to ${formatQuantity('temperature', lowestWinterC, units)} here: water stands in fittings and freezes. Set a drain or a flush end there.`,
        refs: runs.map((id) => ({ table: 'runs', id }) as const),
        places: open.map(({ at }) => at),
        source: SOURCE,
        fix: {
          label: open.length === 1 ? 'Add a drain there' : 'Add drains there',
          changes: open.map(({ runId, at }) => ({
            kind: 'add',
            table: 'lineParts',
            record: { kind: 'drain', runId, at },
          })),
        },
      },
    ];
  },
};
