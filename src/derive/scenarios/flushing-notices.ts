import { formatQuantity, type UnitSystem } from '../../base/quantity.ts';
import { filterById, FILTERS, regulatorById, REGULATORS } from '../../catalog/index.ts';
import { solve, type Solution } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { VELOCITY_LIMIT_MS } from '../checks/velocity-limit.ts';
import { called, calledAs } from '../network/notices.ts';
import { readResults } from '../read-results.ts';
import type { Notice } from '../results.ts';
import { agree, counted, isAbove, listed, twoFigures } from '../wording.ts';
import {
  FLUSH_SOURCE,
  FLUSH_VELOCITY_MS,
  flushGroups,
  overdrawnByFlushing,
  readFlushing,
  type FlushedEnd,
  type Overdrawn,
} from './flushing.ts';
import { networkFor, type ScenarioNetwork } from './network-for.ts';

/** A group of flush ends that are open together, and what comes of it. */
interface Flushed {
  readonly ends: readonly FlushedEnd[];
  readonly overdrawn: readonly Overdrawn[];
  readonly network: ScenarioNetwork;
  readonly solution: Solution;
}

/**
 * What matters while the flush ends are open, group by group, besides ends too slow to carry silt out (a rule of its
 * own): regulators and filters passed by more than they take, and fast water in the tubing. Nothing without flush ends that water reaches.
 */
export function flushingNotices(plan: Plan, units: UnitSystem): Notice[] {
  const ids = networkFor(plan, { kind: 'running' }).parts.flushEnds.map(({ id }) => id);
  if (ids.length === 0) return [];
  const overdrawn = overdrawnByFlushing(plan);
  const flush = (open: readonly string[]): Flushed => {
    const network = networkFor(plan, { kind: 'flushing', open });
    const solution = solve(network.network);
    // Ends that no water reaches are told by other notices.
    const ends = readFlushing(network, solution).filter(({ flowLph }) => flowLph > 0);
    return { ends, overdrawn: overdrawn(network, solution), network, solution };
  };
  const together = flush(ids);
  if (together.ends.length === 0) return notConverged([together]);
  if (together.overdrawn.length === 0 && together.ends.every(({ reached }) => reached)) {
    return fastTubing(plan, [together], units);
  }
  const groups = flushGroups(plan)
    .map(flush)
    .filter(({ ends }) => ends.length > 0);
  return [
    ...notConverged(groups),
    ...overdrawnParts(plan, groups, units),
    ...inGroups(together, groups, units),
    ...fastTubing(plan, groups, units),
  ];
}

/** The first is enough: figures that did not settle prove nothing. */
function notConverged(groups: readonly Flushed[]): Notice[] {
  const first = groups.find(({ solution }) => !solution.converged);
  if (!first) return [];
  return readResults(first.network, first.solution).notices.filter(({ rule }) => rule === 'not-converged');
}

const runNames = (plan: Plan, runIds: Iterable<string>): string =>
  listed([...new Set(runIds)].map((id) => called(plan.runs.get(id) ?? { id })));
const endRefs = (ends: readonly FlushedEnd[]): Notice['refs'] =>
  ends.flatMap(({ id, runId }) => [
    { table: 'flushEnds', id } as const,
    { table: 'runs', id: runId } as const,
  ]);

/** One notice for each regulator and filter, with the group that draws the most. */
function overdrawnParts(plan: Plan, groups: readonly Flushed[], units: UnitSystem): Notice[] {
  const byPart = new Map<string, { worst: Overdrawn; ends: FlushedEnd[] }>();
  for (const { overdrawn, ends } of groups) {
    for (const one of overdrawn) {
      const key = `${one.part}/${one.controlId}`;
      const before = byPart.get(key);
      if (!before) byPart.set(key, { worst: one, ends: [...ends] });
      else {
        before.ends.push(...ends);
        if (one.flowLph > before.worst.flowLph) before.worst = one;
      }
    }
  }
  return [...byPart.values()].map(({ worst, ends }): Notice => {
    const { part, controlId } = worst;
    const control = plan.controls.get(controlId);
    const [draws, most] = twoFigures('zoneFlow', worst.flowLph, worst.mostLph, units);
    const limit =
      part === 'regulator'
        ? `the flow range of its regulator ends at ${most}`
        : `its filter is rated for ${most}`;
    const { source } =
      part === 'regulator'
        ? (regulatorById(control?.regulator ?? '') ?? REGULATORS[0]!)
        : (filterById(control?.filter ?? '') ?? FILTERS[0]!);
    return {
      rule: `flush-${part}-flow-high`,
      severity: 'warning',
      message: `${counted(ends.length, 'flush end')} (${agree(ends.length, 'run', 'runs')} ${runNames(
        plan,
        ends.map(({ runId }) => runId),
      )}) ${agree(ends.length, 'draws', 'draw')} up to ${draws} even when opened alone, through ${calledAs('control set', control ?? { id: controlId })}, the emitters running, and ${limit}: open ${agree(ends.length, 'it', 'each')} only in part, or flush before the regulator is fitted.`,
      refs: [{ table: 'controls', id: controlId }, ...endRefs(ends)],
      source,
    };
  });
}

function inGroups(together: Flushed, groups: readonly Flushed[], units: UnitSystem): Notice[] {
  if (groups.length < 2) return [];
  const isSlow = together.ends.some(({ reached }) => !reached);
  const least = formatQuantity('velocity', FLUSH_VELOCITY_MS, units);
  const why = [
    ...(isSlow ? [`stay under ${least}`] : []),
    ...(together.overdrawn.length > 0 ? ['draw more than a control set takes'] : []),
  ].join(' and ');
  const ends = together.ends;
  const sizes = listed(
    groups.map((group) => counted(group.ends.length, 'end')),
    8,
  );
  return [
    {
      rule: 'flush-in-groups',
      severity: 'info',
      message: `Open at once, the flush ends ${why}. Open them in ${counted(groups.length, 'group')}, one after the other: ${sizes}.`,
      refs: ends.map(({ id }) => ({ table: 'flushEnds', id }) as const),
      source: FLUSH_SOURCE,
    },
  ];
}

/** Fast water while flushing lasts minutes only, so it is no more than a remark. */
function fastTubing(plan: Plan, groups: readonly Flushed[], units: UnitSystem): Notice[] {
  const fastest = new Map<string, number>();
  for (const { network, solution } of groups) {
    const { boreM } = network.network.links;
    network.pieces.forEach(({ owner }, link) => {
      if (owner.table !== 'runs') return;
      const velocityMs = Math.abs(solution.flowM3s[link]!) / ((Math.PI / 4) * boreM[link]! ** 2);
      if (isAbove(velocityMs, VELOCITY_LIMIT_MS)) {
        fastest.set(owner.id, Math.max(fastest.get(owner.id) ?? 0, velocityMs));
      }
    });
  }
  if (fastest.size === 0) return [];
  const [up, limit] = twoFigures('velocity', Math.max(...fastest.values()), VELOCITY_LIMIT_MS, units);
  return [
    {
      rule: 'flush-velocity-high',
      severity: 'info',
      message: `Water in ${agree(fastest.size, 'run', 'runs')} ${runNames(plan, fastest.keys())} moves at up to ${up}, faster than ${limit}: open and shut the ends slowly.`,
      refs: [...fastest.keys()].map((id) => ({ table: 'runs', id }) as const),
      source: 'NRCS conservation practice standards 430 and 441',
    },
  ];
}
