import { memo } from '../../base/memo.ts';
import { distance, type Point } from '../../base/point.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import type { Fix, Notice, PlanNetwork } from '../results.ts';
import { agree, listed } from '../wording.ts';
import type { Check } from './check.ts';
import { fedBy } from './fed-by.ts';

const EACH = 'common practice: each dead end of tubing can be opened and rinsed';
const ONE =
  'US EPA WaterSense, microirrigation sheet; Municipal Water District of Orange County and City of Sacramento, irrigation upgrades: filter, regulator and flush end in each drip zone';

/** A closed end of a run. */
interface ClosedEnd {
  readonly run: Run;
  readonly end: 'start' | 'end';
  readonly at: Point;
}

/** Silt settles at the closed end of a run; without a flush end it stays there. Every zone needs one at least. */
export const deadEnds: Check = ({ plan, planNetwork }) => dead(plan.runs, plan.controls, planNetwork);

const dead = memo((runs: Plan['runs'], controls: Plan['controls'], planNetwork: PlanNetwork): Notice[] => {
  const closed = closedEnds(runs, planNetwork);
  const { controlOfRun } = fedBy(planNetwork);
  const zoneOf = ({ run }: ClosedEnd): number => controlOfRun.get(run.id) ?? -1;
  const flushed = new Set(planNetwork.parts.flushEnds.map(({ runId }) => controlOfRun.get(runId)));
  const zones = new Set(controlOfRun.values());
  const notices: Notice[] = [];
  for (const zone of zones) {
    if (flushed.has(zone)) continue;
    const own = closed.filter((end) => zoneOf(end) === zone);
    const { id } = planNetwork.parts.controls[zone]!;
    const name = called(controls.get(id) ?? { id });
    notices.push({
      rule: 'no-flush-end',
      severity: 'error',
      message: `The zone behind control set ${name} has no flush end, so nothing that settles in it can be rinsed out: ${own.length > 0 ? 'set one at each closed end' : 'end a run apart from the others at its lowest place, and set one there'}.`,
      refs: [{ table: 'controls', id }, ...refsOf(own)],
      places: own.map(({ at }) => at),
      source: ONE,
      ...(own.length > 0 ? { fix: flushEndsAt(own) } : {}),
    });
  }
  if (closed.length > 0) {
    const list = [...new Set(closed.map(({ run }) => run))];
    notices.push({
      rule: 'dead-end',
      severity: 'info',
      message: `${agree(list.length, 'Run', 'Runs')} ${listed(list.map(called))} ${agree(list.length, 'ends', 'end')} closed without a flush end: silt gathers there. Set a flush end, or join the ends by a flush header.`,
      refs: refsOf(closed),
      places: closed.map(({ at }) => at),
      source: EACH,
      fix: flushEndsAt(closed),
    });
  }
  return notices;
});

const refsOf = (ends: readonly ClosedEnd[]): Notice['refs'] =>
  [...new Set(ends.map(({ run }) => run.id))].map((id) => ({ table: 'runs', id }) as const);

function flushEndsAt(ends: readonly ClosedEnd[]): Fix {
  return {
    label: `Set ${agree(ends.length, 'a flush end', 'flush ends')}`,
    changes: ends.map(({ run, end }) => ({
      kind: 'add',
      table: 'flushEnds',
      record: { runId: run.id, end },
    })),
  };
}

/** Ends of runs that water reaches, where nothing joins and nothing can be opened; in the order of the runs. */
function closedEnds(
  runs: Plan['runs'],
  { network, pieces, runNodes, parts }: PlanNetwork,
): readonly ClosedEnd[] {
  const degree = new Int32Array(network.nodes.count);
  const lastRun: (string | undefined)[] = [];
  const lastAt: Point[] = [];
  pieces.forEach(({ owner, a, b }, link) => {
    // A feeder on the last barb is no way out for silt.
    if (owner.table === 'emitters') return;
    const from = network.links.from[link]!;
    const to = network.links.to[link]!;
    degree[from]! += 1;
    degree[to]! += 1;
    if (owner.table !== 'runs') return;
    lastRun[from] = owner.id;
    lastRun[to] = owner.id;
    lastAt[from] = a;
    lastAt[to] = b;
  });
  const flushed = new Set(parts.flushEnds.map(({ node }) => node));
  // Where a supply enters is no dead end, though no link may lead there.
  for (const { node } of parts.supplies) degree[node]! += 1;
  const apart = new Set(parts.apartRuns);
  const found = new Map<string, Map<'start' | 'end', ClosedEnd>>();
  for (const [runId, nodes] of runNodes) {
    if (apart.has(runId)) continue;
    for (const node of nodes) {
      const run = lastRun[node] === undefined ? undefined : runs.get(lastRun[node]);
      if (degree[node] !== 1 || flushed.has(node) || !run) continue;
      const at = lastAt[node]!;
      const end = distance(run.path[0]!, at) < distance(run.path.at(-1)!, at) ? 'start' : 'end';
      let own = found.get(run.id);
      if (!own) found.set(run.id, (own = new Map<'start' | 'end', ClosedEnd>()));
      own.set(end, { run, end, at });
    }
  }
  return [...runs].flatMap(({ id }) => [...(found.get(id)?.values() ?? [])]);
}
