import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { solve } from '../../hydraulics/index.ts';
import { memo } from '../../base/memo.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { readResults } from '../read-results.ts';
import type { Notice, Results } from '../results.ts';
import { agree, counted, isBelow, listed, twoFigures } from '../wording.ts';
import { flushEndsTogether, flushGroups, FLUSH_SOURCE, FLUSH_VELOCITY_MS } from './flushing.ts';
import { networkFor } from './network-for.ts';
import type { Scenario } from './scenario.ts';

/** A plan solved in a state. */
export function resultsFor(plan: Plan, scenario: Scenario): Results {
  const network = networkFor(plan, scenario);
  return readResults(network, solve(network.network));
}

/**
 * What the plan's other states bring to light: flush ends that stay too slow, runs that go short at the lowest pressure
 * of the service. Solves the network several times, so it is asked for on demand, not while something is dragged.
 */
export const scenarioNotices = memo((plan: Plan, units: UnitSystem): Notice[] => [
  ...slowFlushing(plan, units),
  ...lowSupply(plan, units),
]);

function slowFlushing(plan: Plan, units: UnitSystem): Notice[] {
  const all = networkFor(plan, { kind: 'running' }).parts.flushEnds.map(({ id }) => id);
  if (all.length === 0) return [];
  // Ends that no water reaches are told by other notices.
  const together = flushEndsTogether(plan, all).filter(({ flowLph }) => flowLph > 0);
  if (together.every(({ reached }) => reached)) return [];
  const ids = together.map(({ id }) => id);
  const wet = new Set(ids);
  const groups = flushGroups(plan).filter((group) => group.some((id) => wet.has(id)));
  const slow = groups
    .filter((group) => group.length === 1)
    .flatMap((group) => flushEndsTogether(plan, group))
    .filter(({ reached }) => !reached);
  const refs = (list: readonly { readonly id: string; readonly runId: string }[]): Notice['refs'] =>
    list.flatMap(({ id, runId }) => [
      { table: 'flushEnds', id } as const,
      { table: 'runs', id: runId } as const,
    ]);
  const names = (list: readonly { readonly runId: string }[]): string =>
    listed([...new Set(list.map(({ runId }) => called(plan.runs.get(runId) ?? { id: runId })))]);
  const least = formatQuantity('velocity', FLUSH_VELOCITY_MS, units);
  const notices: Notice[] = [];
  if (slow.length > 0) {
    const worst = slow.reduce((a, b) => (b.velocityMs < a.velocityMs ? b : a));
    const [reaches, wanted] = twoFigures('velocity', worst.velocityMs, FLUSH_VELOCITY_MS, units);
    notices.push({
      rule: 'flush-velocity-low',
      severity: 'warning',
      message: `The water at ${counted(slow.length, 'flush end')} (${agree(slow.length, 'run', 'runs')} ${names(slow)}) is too slow to carry silt out even when it is open alone: ${reaches} against ${wanted}. Feed ${agree(slow.length, 'the run', 'the runs')} from a larger regulator or shorter tubing, or flush in shorter parts.`,
      refs: refs(slow),
      source: FLUSH_SOURCE,
    });
  }
  if (groups.length > 1 && slow.length < ids.length) {
    notices.push({
      rule: 'flush-in-groups',
      severity: 'info',
      message: `Open at once, the flush ends stay under ${least}. Open them in ${counted(groups.length, 'group')}, one after the other: ${groups.map((group) => counted(group.length, 'end')).join(', ')}.`,
      refs: ids.map((id) => ({ table: 'flushEnds', id }) as const),
      source: FLUSH_SOURCE,
    });
  }
  return notices;
}

function lowSupply(plan: Plan, units: UnitSystem): Notice[] {
  const { lowStaticKpa } = plan.water;
  if (lowStaticKpa === null) return [];
  const usual = resultsFor(plan, { kind: 'running' });
  const results = resultsFor(plan, { kind: 'low-supply' });
  if (!results.solution.converged) return results.notices.filter(({ rule }) => rule === 'not-converged');
  return [...shortOutlets(plan, usual, results, units), ...starvedControls(plan, usual, results, units)];
}

function shortOutlets(plan: Plan, usual: Results, results: Results, units: UnitSystem): Notice[] {
  const short = results.outlets.filter(
    ({ state }, i) => (state === 'low' || state === 'dry') && usual.outlets[i]!.state !== state,
  );
  if (short.length === 0) return [];
  const runs = [...new Set(short.map(({ runId }) => runId))];
  const worst = short.reduce((a, b) => (b.pressureKpa / b.minKpa < a.pressureKpa / a.minKpa ? b : a));
  const [has, needs] = twoFigures('pressure', worst.pressureKpa, worst.minKpa, units);
  return [
    {
      rule: 'low-supply-short',
      severity: 'warning',
      message: `At the lowest static pressure of ${formatQuantity('pressure', plan.water.lowStaticKpa!, units)} ${counted(short.length, 'outlet')} of ${agree(runs.length, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id) ?? { id })))} ${agree(short.length, 'falls', 'fall')} below ${agree(short.length, 'its', 'their')} range; the lowest has ${has} and needs ${needs}. Water at another hour, or lower the set pressure and the losses.`,
      refs: runs.map((id) => ({ table: 'runs', id }) as const),
    },
  ];
}

/** Control sets whose regulator holds its setting on a usual day, and not at the lowest pressure. */
function starvedControls(plan: Plan, usual: Results, results: Results, units: UnitSystem): Notice[] {
  const usualKpa = new Map(usual.zones.map(({ owner, outletKpa }) => [owner.id, outletKpa]));
  return results.zones.flatMap(({ owner, outletKpa }): Notice[] => {
    const control = owner.table === 'controls' ? plan.controls.get(owner.id) : undefined;
    if (!control || !isBelow(outletKpa, control.setKpa)) return [];
    if (isBelow(usualKpa.get(control.id) ?? NaN, control.setKpa)) return [];
    const [gives, holds] = twoFigures('pressure', outletKpa, control.setKpa, units);
    return [
      {
        rule: 'low-supply-regulator',
        severity: 'warning',
        message: `At the lowest static pressure of ${formatQuantity('pressure', plan.water.lowStaticKpa!, units)} the regulator of control set ${called(control)} no longer holds its setting of ${holds}; ${gives} stand behind it. Water at another hour, or lower the set pressure and the losses.`,
        refs: [{ table: 'controls', id: control.id }],
      },
    ];
  });
}
