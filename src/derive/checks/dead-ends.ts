import { memo } from '../../base/memo.ts';
import { called } from '../network/notices.ts';
import type { Notice, PlanNetwork } from '../results.ts';
import { agree, listed } from '../wording.ts';
import type { Plan } from '../../plan/records.ts';
import type { Check } from './check.ts';

/** Silt settles at the closed end of a run; without a flush end it stays there. */
export const deadEnds: Check = ({ plan, planNetwork }) => dead(plan.runs, planNetwork);

const dead = memo((runs: Plan['runs'], { network, pieces, runNodes, parts }: PlanNetwork): Notice[] => {
  const degree = new Int32Array(network.nodes.count);
  const lastRun: (string | undefined)[] = [];
  pieces.forEach(({ owner }, link) => {
    // A feeder on the last barb is no way out for silt.
    if (owner.table === 'emitters') return;
    for (const node of [network.links.from[link]!, network.links.to[link]!]) {
      degree[node]! += 1;
      if (owner.table === 'runs') lastRun[node] = owner.id;
    }
  });
  const flushed = new Set(parts.flushEnds.map(({ node }) => node));
  // Where a supply enters is no dead end, though no link may lead there.
  for (const { node } of parts.supplies) degree[node]! += 1;
  const apart = new Set(parts.apartRuns);
  const closed = new Set<string>();
  for (const [runId, nodes] of runNodes) {
    if (apart.has(runId)) continue;
    for (const node of nodes)
      if (degree[node] === 1 && !flushed.has(node) && lastRun[node]) closed.add(lastRun[node]);
  }
  const list = [...runs].filter(({ id }) => closed.has(id));
  if (list.length === 0) return [];
  return [
    {
      rule: 'dead-end',
      severity: 'info',
      message: `${agree(list.length, 'Run', 'Runs')} ${listed(list.map(called))} ${agree(list.length, 'ends', 'end')} closed without a flush end: silt gathers there. Set a flush end, or join the ends by a flush header.`,
      refs: list.map(({ id }) => ({ table: 'runs', id }) as const),
      source: 'common practice: each dead end of tubing can be opened and rinsed',
    },
  ];
});
