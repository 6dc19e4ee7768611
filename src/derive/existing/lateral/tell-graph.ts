import { distance } from '../../../base/point.ts';
import type { Ref } from '../../../plan/records.ts';
import type { Notices } from '../../network/notices.ts';
import { agree, counted, listed } from '../../wording.ts';
import type { PipeGraph } from './graph.ts';
import type { Joined } from './joining.ts';
import { inOrder } from './order.ts';
import { VALVE_REACH_M, type ZoneParts } from './zone-parts.ts';

/** Says what is odd about the old pipes of a zone, and what was taken where nothing is known. */
export function tellGraph(
  graph: PipeGraph,
  { heads, supplies, pieces: records }: ZoneParts,
  { pieces, vertices }: Joined,
  { doubles, loops }: { readonly doubles: readonly string[]; readonly loops: readonly string[] },
  notices: Notices,
): void {
  const where = graph.zone === null ? '' : ` of zone ${graph.zone}`;
  const tell = (rule: string, severity: 'warning' | 'info', ids: readonly string[], text: string): void => {
    if (ids.length > 0) notices.add(rule, severity, text, ...pipeRefs([...ids].sort(inOrder)));
  };
  const none = pieces.filter(({ lengthM }) => lengthM < 1e-6).map(({ record }) => record.id);
  tell(
    'old-pipe-without-length',
    'warning',
    none,
    `${counted(none.length, 'old pipe')}${where} ${agree(none.length, 'has', 'have')} no length and ${agree(none.length, 'counts', 'count')} as a joint only: draw ${agree(none.length, 'its', 'their')} other end.`,
  );
  tell(
    'old-pipe-twice',
    'warning',
    doubles,
    `${counted(doubles.length, 'old pipe')}${where} ${agree(doubles.length, 'lies', 'lie')} where another one is drawn and ${agree(doubles.length, 'is', 'are')} counted once: remove the double.`,
  );
  tell(
    'old-pipe-on-itself',
    'warning',
    loops,
    `${counted(loops.length, 'old pipe')}${where} ${agree(loops.length, 'ends', 'end')} at the joint where ${agree(loops.length, 'it begins', 'they begin')} and ${agree(loops.length, 'is', 'are')} left out: check the names of ${agree(loops.length, 'its', 'their')} ends.`,
  );
  const noBore = [...new Set(graph.edges.filter((e) => e.volumeL === null).map((e) => e.lateralIds[0]!))];
  tell(
    'old-pipe-bore-unknown',
    'info',
    noBore,
    `Size or material of ${counted(noBore.length, 'old pipe')}${where} is not known: its water is not in the litres, and tie-ins are compared with the narrowest bore of its size, or 3/4 in. Expose and measure it.`,
  );
  const assumed = [...new Set(graph.edges.filter((e) => !e.measured).flatMap((e) => e.lateralIds))];
  tell(
    'old-pipe-assumed',
    'info',
    assumed,
    `${counted(assumed.length, 'old pipe')}${where} ${agree(assumed.length, 'is', 'are')} assumed and not found on the ground: tie in on the valve's side of ${agree(assumed.length, 'it', 'them')}, or trace ${agree(assumed.length, 'it', 'them')} first.`,
  );
  for (const [name, awayM] of farApart(vertices)) {
    notices.add(
      'old-pipe-names-apart',
      'warning',
      `Pipe ends named "${name}"${where} lie ${awayM.toFixed(1)} m apart and are taken as joined: check their names or places.`,
      ...pipeRefs(records.filter((r) => r.from.trim() === name || r.to.trim() === name).map(({ id }) => id)),
    );
  }
  if (graph.looseHeads.length > 0) {
    const loose = graph.looseHeads.map(({ id }) => id).sort(inOrder);
    notices.add(
      'old-head-off-pipe',
      'warning',
      `${agree(loose.length, 'Head', 'Heads')} ${listed(loose)}${where} ${agree(loose.length, 'stands', 'stand')} more than 0.5 ft (15 cm) from any old pipe of the zone: trace the pipe to ${agree(loose.length, 'it', 'them')}.`,
      ...loose.map((id) => ({ table: 'heads', id }) as const),
    );
  }
  if (supplies.length > 1) {
    notices.add(
      'old-zone-several-valves',
      'warning',
      `Several valves are drawn${graph.zone === null ? ' without a zone' : ` for zone ${graph.zone}`}; ${graph.supplyId!} is taken: give each valve and its pipes a zone of their own.`,
      ...supplies.map(({ id }) => ({ table: 'supplies', id }) as const),
    );
  }
  if (records.length === 0) {
    notices.add(
      'old-zone-without-pipe',
      'info',
      `No old pipe is drawn${graph.zone === null ? '' : ` for zone ${graph.zone}`}: trace it from the valve to its heads to see where drip can tie in.`,
      ...heads.map(({ id }) => ({ table: 'heads', id }) as const),
    );
    return;
  }
  if (graph.source === null) {
    notices.add(
      'old-zone-without-valve',
      'warning',
      supplies.length === 0
        ? `No valve is drawn for the old pipes${where}, so it is not known where their water comes from: place the valve.`
        : `The valve "${graph.supplyId!}" stands on none of the old pipes${where}: draw the pipe to it, or name the pipe's end "${graph.supplyId!}".`,
      ...pipeRefs(records.map(({ id }) => id)),
    );
    return;
  }
  const apart = new Set(
    graph.edges.filter(({ from }) => !graph.reached[from]).flatMap((edge) => edge.lateralIds),
  );
  const lone = [...graph.nodes].filter((node, n) => !graph.reached[n] && node.edges.length === 0);
  if (apart.size > 0 || lone.some(({ heads: here }) => here.length > 0)) {
    notices.add(
      'old-pipe-apart',
      'warning',
      `${counted(apart.size, 'old pipe')}${where} ${agree(apart.size, 'is', 'are')} not joined to the valve "${graph.supplyId!}": trace the way between.`,
      ...pipeRefs([...apart].sort(inOrder)),
    );
  }
}

function pipeRefs(ids: readonly string[]): Ref[] {
  return ids.map((id) => ({ table: 'laterals', id }));
}

/** Names whose ends lie further apart than the reach of a valve box, with the widest gap. */
function farApart(vertices: Joined['vertices']): [string, number][] {
  const byName = new Map<string, Joined['vertices'][number][]>();
  for (const vertex of vertices) {
    if (vertex.name === '') continue;
    const list = byName.get(vertex.name);
    if (list) list.push(vertex);
    else byName.set(vertex.name, [vertex]);
  }
  const far: [string, number][] = [];
  for (const [name, list] of byName) {
    let widest = 0;
    for (const p of list) for (const q of list) widest = Math.max(widest, distance(p.at, q.at));
    if (widest > VALVE_REACH_M) far.push([name, widest]);
  }
  return far.sort((a, b) => inOrder(a[0], b[0]));
}
