import { solve } from '../../hydraulics/index.ts';
import type { Plan } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import {
  FLUSH_SOURCE,
  FLUSH_VELOCITY_MS,
  flushGroups,
  readFlushing,
  type FlushedEnd,
} from '../scenarios/flushing.ts';
import { networkFor } from '../scenarios/network-for.ts';
import { agree, counted, isBelow, listed, twoFigures } from '../wording.ts';
import { byNetworkTables } from './by-network-tables.ts';
import type { Limit, Rule } from './check.ts';

const SPEED: Limit = {
  key: 'flush-speed.least',
  label: 'Speed of water at an open end, at least',
  kind: 'velocity',
  usual: FLUSH_VELOCITY_MS,
  least: 0.05,
  most: 3,
  source: FLUSH_SOURCE,
};

/**
 * The fastest that water gets at each flush end: open with all others, or in its group of those that can be open
 * together. What counts as fast enough parts the groups. Solved once for each kept plan, not while something is dragged.
 */
const fastestOf = byNetworkTables((plan: Plan, leastMs: number): readonly FlushedEnd[] => {
  const { flushEnds } = networkFor(plan, { kind: 'running' }).parts;
  const ids = flushEnds.map(({ id }) => id);
  if (ids.length === 0) return [];
  const flush = (open: readonly string[]): readonly FlushedEnd[] => {
    const network = networkFor(plan, { kind: 'flushing', open });
    const solution = solve(network.network);
    // Figures that did not settle prove nothing; ends that no water reaches are told by other rules.
    return solution.converged
      ? readFlushing(network, solution, leastMs).filter(({ flowLph }) => flowLph > 0)
      : [];
  };
  const together = flush(ids);
  if (together.every(({ reached }) => reached)) return together;
  return flushGroups(plan, leastMs).flatMap(flush);
});

/** Ends through which water is too slow to carry silt out, however they are opened. */
export const flushSpeed: Rule = {
  number: 39,
  title: 'Flush speed at open ends',
  says: ['flush-velocity-low'],
  severity: 'warning',
  limits: [SPEED],
  source: FLUSH_SOURCE,
  check: ({ plan, units, limit }) => {
    const least = limit(SPEED);
    const slow = fastestOf(plan, least).filter(({ velocityMs }) => isBelow(velocityMs, least));
    if (slow.length === 0) return [];
    const worst = slow.reduce((a, b) => (b.velocityMs < a.velocityMs ? b : a));
    const [reaches, wanted] = twoFigures('velocity', worst.velocityMs, least, units);
    const runs = [...new Set(slow.map(({ runId }) => runId))];
    const one = slow.length;
    return [
      {
        rule: 'flush-velocity-low',
        severity: 'warning',
        message: `Flushing: The water at ${counted(one, 'flush end')} (${agree(one, 'run', 'runs')} ${listed(runs.map((id) => called(plan.runs.get(id) ?? { id })))}) is too slow to carry silt out even when opened alone: ${reaches} against ${wanted}. Feed ${agree(one, 'the run', 'the runs')} from a larger regulator or shorter tubing, or flush in shorter parts.`,
        refs: slow.flatMap(({ id, runId }): Notice['refs'] => [
          { table: 'flushEnds', id },
          { table: 'runs', id: runId },
        ]),
        source: FLUSH_SOURCE,
      },
    ];
  },
};
