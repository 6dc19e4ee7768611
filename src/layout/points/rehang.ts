import { buildPlanNetwork } from '../../derive/network/index.ts';
import { UnionFind } from '../../derive/network/union-find.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, PointEmitter, Run } from '../../plan/records.ts';
import { hangOnRuns } from './hang.ts';
import { openGround } from './open-ground.ts';

/** By run: which runs water passes between without a control set or valve. Runs that are no line are left out. */
export function runGroups(plan: Plan): ReadonlyMap<string, number> {
  const { network, pieces, runNodes } = buildPlanNetwork(plan);
  const groups = new UnionFind(network.nodes.count);
  for (let link = 0; link < network.links.count; link++) {
    const table = pieces[link]?.owner.table;
    if (table !== 'controls' && table !== 'supplies')
      groups.join(network.links.from[link]!, network.links.to[link]!);
  }
  const found = new Map<string, number>();
  for (const [id, nodes] of runNodes) if (nodes.length > 0) found.set(id, groups.root(nodes[0]!));
  return found;
}

/**
 * The emitters, each on the nearest blank run of those that its own run shares its water with; one whose feeder starts
 * at another's place, or at whose place another's starts, keeps its run.
 */
export function rehung(plan: Plan, emitters: readonly PointEmitter[]): PointEmitter[] {
  const groups = runGroups(plan);
  const starts = new Set([...plan.emitters].map(({ fromEmitterId }) => fromEmitterId));
  const ground = groundOf(plan);
  const open = openGround(plan.areas);
  const byGroup = new Map<number, Run[]>();
  for (const run of plan.runs) {
    const group = groups.get(run.id);
    if (group === undefined || run.inline || run.path.length < 2) continue;
    const list = byGroup.get(group);
    if (list) list.push(run);
    else byGroup.set(group, [run]);
  }
  const next = new Map(emitters.map((one) => [one.id, one]));
  const free = emitters.filter(({ id, fromEmitterId }) => fromEmitterId === undefined && !starts.has(id));
  for (const [group, runs] of byGroup) {
    const own = free.filter(({ runId }) => groups.get(runId) === group);
    const hung = hangOnRuns(
      own.map(({ at }) => at),
      runs,
      [],
      ground,
      open,
    );
    own.forEach((emitter, i) => {
      const on = hung[i];
      if (on && 'id' in on.run) next.set(emitter.id, { ...emitter, runId: on.run.id });
    });
  }
  return emitters.map(({ id }) => next.get(id)!);
}

/** One step of history that hangs emitters on the nearest run of their zone. */
export function rehangEdit(label: string, ids: readonly string[]): Edit {
  return {
    label,
    apply: (plan) => {
      const own = [...new Set(ids)].flatMap((id) => plan.emitters.get(id) ?? []);
      const changed = rehung(plan, own).filter((one, i) => one.runId !== own[i]!.runId);
      return changed.length === 0 ? plan : { ...plan, emitters: plan.emitters.with(...changed) };
    },
  };
}
