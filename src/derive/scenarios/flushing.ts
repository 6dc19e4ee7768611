import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { m3sToLph, solve, type Solution } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import type { PlacedFlushEnd } from '../results.ts';
import { isAbove, isBelow } from '../wording.ts';
import { networkFor, type ScenarioNetwork } from './network-for.ts';

/** Least velocity at an open end that carries silt out, m/s (1 ft/s: UC ANR, Schwankl, Flushing of microirrigation systems). */
export const FLUSH_VELOCITY_MS = 0.3;
export const FLUSH_SOURCE = 'UC ANR, Schwankl, Flushing of Row Crop Microirrigation Systems: 1 ft/s';

/** What an open flush end gives. */
export interface FlushedEnd extends Omit<PlacedFlushEnd, 'node' | 'link'> {
  readonly flowLph: number;
  /** In the last piece of tubing before the open end. */
  readonly velocityMs: number;
  /** Whether silt is carried out. */
  readonly reached: boolean;
}

/**
 * Flow and velocity at each open end of a flushing network.
 * @param leastMs speed from which silt counts as carried out, m/s
 */
export function readFlushing(
  { network, openEnds }: ScenarioNetwork,
  solution: Solution,
  leastMs = FLUSH_VELOCITY_MS,
): FlushedEnd[] {
  return openEnds.map(({ flushEnd, outlet }): FlushedEnd => {
    const { node: _node, link, ...end } = flushEnd;
    const flowM3s = solution.outletM3s[outlet]!;
    const velocityMs = flowM3s / ((Math.PI / 4) * network.links.boreM[link]! ** 2);
    return {
      ...end,
      flowLph: m3sToLph(flowM3s),
      velocityMs,
      // Figures that did not settle prove nothing.
      reached: solution.converged && !isBelow(velocityMs, leastMs),
    };
  });
}

/** The slowest water in a run while ends are open. */
export interface FlushedRun {
  readonly runId: string;
  readonly slowestMs: number;
  readonly reached: boolean;
}

/**
 * The slowest water in each run while ends are open: where rows end in a common flush header silt must be carried
 * through each of them, not only out of the open end. Runs without any water are left out.
 */
export function readFlushedRuns({ network, pieces }: ScenarioNetwork, solution: Solution): FlushedRun[] {
  const slowest = new Map<string, number>();
  pieces.forEach(({ owner }, link) => {
    if (owner.table !== 'runs') return;
    const velocityMs = Math.abs(solution.flowM3s[link]!) / ((Math.PI / 4) * network.links.boreM[link]! ** 2);
    slowest.set(owner.id, Math.min(slowest.get(owner.id) ?? Infinity, velocityMs));
  });
  return [...slowest]
    .filter(([, velocityMs]) => velocityMs > 0)
    .map(([runId, slowestMs]) => ({
      runId,
      slowestMs,
      reached: solution.converged && !isBelow(slowestMs, FLUSH_VELOCITY_MS),
    }));
}

/** Flow and velocity with the given flush ends open at once. */
export function flushEndsTogether(plan: Plan, open: readonly string[]): FlushedEnd[] {
  const network = networkFor(plan, { kind: 'flushing', open });
  return readFlushing(network, solve(network.network));
}

/** A part of a control set through which more flows than its flow range allows. */
export interface Overdrawn {
  readonly controlId: string;
  readonly part: 'regulator' | 'filter';
  readonly flowLph: number;
  readonly mostLph: number;
}

/** Regulators above the end of their flow range and filters above their rating. */
export function overdrawnIn(plan: Plan, { parts }: ScenarioNetwork, { flowM3s }: Solution): Overdrawn[] {
  return parts.controls.flatMap(({ id: controlId, regulatorLink }) => {
    const control = plan.controls.get(controlId);
    if (!control) return [];
    const flowLph = m3sToLph(flowM3s[regulatorLink]!);
    const limits = [
      ['regulator', (regulatorById(control.regulator) ?? REGULATORS[0]!).maxFlowLph],
      ['filter', (filterById(control.filter) ?? FILTERS[0]!).ratedFlowLph],
    ] as const;
    return limits.flatMap(([part, mostLph]) =>
      isAbove(flowLph, mostLph) ? [{ controlId, part, flowLph, mostLph }] : [],
    );
  });
}

/** What open ends overdraw beyond what the emitters alone do: no group of ends can mend that. */
export function overdrawnByFlushing(
  plan: Plan,
): (network: ScenarioNetwork, solution: Solution) => Overdrawn[] {
  const running = networkFor(plan, { kind: 'running' });
  const key = ({ controlId, part }: Overdrawn): string => `${part}/${controlId}`;
  const already = new Set(overdrawnIn(plan, running, solve(running.network)).map(key));
  return (network, solution) => overdrawnIn(plan, network, solution).filter((one) => !already.has(key(one)));
}

/**
 * Flush ends in groups to be opened one after the other: from the first end on as many at once as still carry silt out
 * of each, while no regulator passes more than its greatest flow and no filter more than its rated one, the emitters
 * running. An end that misses either even when it is open alone makes a group of its own. Each end is in one group.
 * Solves the network a few times for each group.
 * @param leastMs speed from which silt counts as carried out, m/s
 */
export function flushGroups(plan: Plan, leastMs = FLUSH_VELOCITY_MS): string[][] {
  let left = networkFor(plan, { kind: 'running' }).parts.flushEnds.map(({ id }) => id);
  if (left.length === 0) return [];
  const overdrawn = overdrawnByFlushing(plan);
  const fitsTogether = (open: readonly string[]): boolean => {
    const network = networkFor(plan, { kind: 'flushing', open });
    const solution = solve(network.network);
    return (
      readFlushing(network, solution, leastMs).every(({ reached }) => reached) &&
      overdrawn(network, solution).length === 0
    );
  };
  const groups: string[][] = [];
  let guess = left.length - 1;
  while (left.length > 0) {
    // With more ends open each gives less and all take more, so the most that do can be found by halving. Groups are
    // often of one size, so it is looked for around that of the group before.
    let fits = 1;
    let fails = left.length + 1;
    let probe = guess + 1;
    for (let step = 1; fails - fits > 1;) {
      probe = Math.min(Math.max(probe, fits + 1), fails - 1);
      if (fitsTogether(left.slice(0, probe))) {
        fits = probe;
        probe += step;
        step *= 2;
      } else {
        fails = probe;
        probe = probe === guess + 1 ? guess : Math.floor((fits + fails) / 2);
      }
    }
    groups.push(left.slice(0, fits));
    left = left.slice(fits);
    guess = fits;
  }
  return groups;
}
