import { ONE_JOINT_M } from '../../../plan/joining.ts';
import { between, distance, type Point } from '../../../base/point.ts';
import type { Ground } from '../../ground/index.ts';
import { Notices } from '../../network/notices.ts';
import { pipeSection } from '../../network/pipe-bore.ts';
import { boreOf, litresIn, pipeMaterial } from '../pipe-bore.ts';
import { findBridges, reachedFrom } from './connectivity.ts';
import type { PipeEdge, PipeGraph, PipeNode, RecordPart, Rise } from './graph.ts';
import { joinPieces, type Joined, type TurnedPiece } from './joining.ts';
import { inOrder, placeOrder } from './order.ts';
import { tellGraph } from './tell-graph.ts';
import { TEE_REACH_M, type ZoneParts } from './zone-parts.ts';

type BareNode = Omit<PipeNode, 'edges' | 'id'>;

/**
 * The graph of one zone's old pipes. It does not depend on the order of the records nor on the direction in which
 * they were drawn. Lengths are on the ground; a pipe runs as deep below it as is known at its two joints, where
 * several depths meet as the deepest, elsewhere as the middle one of the zone. Nothing is thrown; what is odd is in
 * the notices.
 */
export function buildGraph(parts: ZoneParts, ground: Ground): PipeGraph {
  const notices = new Notices();
  const joined = joinPieces(parts);
  const { nodeOfVertex, nodes: bare } = nodesOf(joined, parts, ground);
  const { edges, partsOf, doubles, loops } = edgesOf(joined, nodeOfVertex, bare, ground);
  const edgesAt = bare.map((): number[] => []);
  edges.forEach(({ from, to }, e) => {
    edgesAt[from]!.push(e);
    edgesAt[to]!.push(e);
  });
  const ids = idsOf(bare);
  const nodes = bare.map((node, i): PipeNode => ({ ...node, id: ids[i]!, edges: edgesAt[i]! }));

  const valves = parts.supplies
    .map((supply, s) => ({ supply, vertex: joined.supplyVertex[s]! }))
    .sort((a, b) => inOrder(a.supply.id, b.supply.id));
  const valve = valves.find(({ vertex }) => vertex >= 0) ?? valves[0] ?? null;
  const source = valve && valve.vertex >= 0 ? nodeOfVertex[valve.vertex]! : null;
  const graph: PipeGraph = {
    zone: parts.zone,
    slopeKnown: ground.knows === 'slope',
    nodes,
    edges,
    supplyId: valve?.supply.id ?? null,
    source,
    reached: reachedFrom(nodes, edges, source),
    bridges: findBridges(nodes, edges),
    parts: partsOf,
    heads: [...parts.heads].sort((a, b) => inOrder(a.id, b.id)),
    looseHeads: parts.heads.filter((_, h) => joined.headVertex[h]! < 0).sort((a, b) => inOrder(a.id, b.id)),
    notices: [],
  };
  tellGraph(graph, parts, joined, { doubles, loops }, notices);
  return { ...graph, notices: notices.all() };
}

function nodesOf(
  { pieces, vertices, joint, headVertex, supplyVertex }: Joined,
  { heads, supplies }: ZoneParts,
  ground: Ground,
): { nodeOfVertex: number[]; nodes: BareNode[] } {
  const known = pieces.flatMap(({ record }) => record.depthM ?? []);
  const usualDepthM = known.length > 0 ? middle(known) : depthOfValve(supplies, ground);
  const members = new Map<number, number[]>();
  joint.forEach((root, v) => {
    const list = members.get(root);
    if (list) list.push(v);
    else members.set(root, [v]);
  });
  const drafts = [...members].map(([root, list]) => {
    // An end says where the joint is better than a place on the middle of a pipe that merely passes it.
    const isEnd = (v: number): boolean => v < 2 * pieces.length;
    const places = list.filter((v) => isEnd(v) || !list.some(isEnd)).map((v) => vertices[v]!.at);
    const at = places.reduce((least, p) => (placeOrder(p, least) < 0 ? p : least));
    const names = [...new Set(list.map((v) => vertices[v]!.name).filter((name) => name !== ''))];
    const here = heads.filter((_, h) => headVertex[h]! >= 0 && joint[headVertex[h]!] === root);
    const valves = supplies.filter((_, s) => supplyVertex[s]! >= 0 && joint[supplyVertex[s]!] === root);
    const depths = list.flatMap((v) => pieces[vertices[v]!.piece]!.record.depthM ?? []);
    const depthM = depths.length > 0 ? Math.max(...depths) : usualDepthM;
    // Without any level it is not known how the valve lies to the beds.
    const typed = ground.knows === 'nothing' ? null : valves.find(({ zM }) => zM !== null)?.zM;
    return {
      root,
      node: {
        name: names.sort(inOrder)[0] ?? '',
        at,
        zM: typed ?? ground.heightAt(at).zM - depthM,
        heads: [...here].sort((a, b) => inOrder(a.id, b.id)),
        supplyIds: valves.map(({ id }) => id).sort(inOrder),
      },
    };
  });
  drafts.sort((a, b) => placeOrder(a.node.at, b.node.at) || inOrder(a.node.name, b.node.name));
  const used = new Set(drafts.map(({ node }) => node.name));
  for (const thing of [...heads, ...supplies]) used.add(thing.id);
  let number = 0;
  const freeName = (): string => {
    do number++;
    while (used.has(`N${number}`));
    return `N${number}`;
  };
  const nodes = drafts.map(({ node }) => ({
    ...node,
    name: node.name || node.heads[0]?.id || node.supplyIds[0] || freeName(),
  }));
  const index = new Map(drafts.map(({ root }, i) => [root, i]));
  return { nodeOfVertex: joint.map((root) => index.get(root)!), nodes };
}

/** The middle one of some figures. */
function middle(figures: readonly number[]): number {
  const sorted = [...figures].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}

/** A valve no deeper than this below the ground lies in the trench of its pipe, metres (common practice). */
const DEEPEST_VALVE_M = 1;

/**
 * Where no depth of pipe is known, that of the valve, whose height is typed: else the pipe would seem to climb out of
 * the valve box. 0 where the ground beside the valve is not known.
 */
function depthOfValve(supplies: ZoneParts['supplies'], ground: Ground): number {
  const depths = supplies.flatMap(({ at, zM }) => {
    const { zM: groundZM, how } = ground.heightAt(at);
    const isKnown = how !== 'none' && how !== 'outside';
    return zM !== null && isKnown ? Math.max(0, groundZM - zM) : [];
  });
  const [depthM = 0] = depths.filter((one) => one <= DEEPEST_VALVE_M);
  return depthM;
}

/** The ids of tie-ins: a head's before a name, and no id twice. */
function idsOf(nodes: readonly BareNode[]): string[] {
  const taken = new Set<string>();
  const ids = nodes.map(({ heads }) => {
    const id = heads[0]?.id ?? '';
    if (id !== '') taken.add(id);
    return id;
  });
  return ids.map((id, i) => {
    if (id !== '') return id;
    let name = nodes[i]!.name;
    while (taken.has(name)) name = `${name} pipe`;
    taken.add(name);
    return name;
  });
}

interface Edges {
  edges: PipeEdge[];
  partsOf: Map<string, RecordPart[]>;
  /** Records that lie where another one does, and records that end where they begin. */
  doubles: string[];
  loops: string[];
}

function edgesOf(
  { pieces, vertices }: Joined,
  nodeOfVertex: readonly number[],
  nodes: readonly BareNode[],
  ground: Ground,
): Edges {
  const drafts: { edge: PipeEdge; key: string }[] = [];
  const partDrafts: { id: string; parts: (RecordPart & { draft: number })[] }[] = [];
  const doubles = new Set<string>();
  const loops = new Set<string>();
  const onPiece = pieces.map((): number[] => []);
  vertices.forEach(({ piece }, v) => onPiece[piece]!.push(v));
  pieces.forEach((piece, p) => {
    const list = onPiece[p]!.sort((v, w) => vertices[v]!.alongM - vertices[w]!.alongM);
    const parts: (RecordPart & { draft: number })[] = [];
    for (let k = 0; k + 1 < list.length; k++) {
      const [v, w] = [vertices[list[k]!]!, vertices[list[k + 1]!]!];
      const [from, to] = [nodeOfVertex[list[k]!]!, nodeOfVertex[list[k + 1]!]!];
      let draft = -1;
      if (from === to) {
        if (w.alongM - v.alongM > 2 * ONE_JOINT_M) loops.add(piece.record.id);
      } else {
        const edge = edgeOf(piece, v.at, w.at, from, to, nodes, ground);
        const twin = drafts.findIndex(({ edge: other }) => isTwin(edge, other));
        if (twin < 0) draft = drafts.push({ edge, key: '' }) - 1;
        else {
          draft = twin;
          const known = drafts[twin]!.edge;
          drafts[twin]!.edge = { ...known, lateralIds: [...known.lateralIds, piece.record.id] };
          doubles.add(piece.record.id);
        }
      }
      parts.push({ edge: -1, draft, from, to, a: v.at, b: w.at });
    }
    if (piece.turned) parts.reverse();
    partDrafts.push({
      id: piece.record.id,
      parts: piece.turned
        ? parts.map(({ from, to, a, b, ...part }) => ({ ...part, from: to, to: from, a: b, b: a }))
        : parts,
    });
  });
  const order = drafts
    .map((_, d) => d)
    .sort((c, d) => {
      const [e, f] = [drafts[c]!.edge, drafts[d]!.edge];
      return e.from - f.from || e.to - f.to || e.lengthM - f.lengthM;
    });
  const indexOf = new Map(order.map((d, i) => [d, i]));
  return {
    edges: order.map((d) => drafts[d]!.edge),
    partsOf: new Map(
      partDrafts.map(({ id, parts }) => [
        id,
        parts.map(({ draft, ...part }) => ({ ...part, edge: indexOf.get(draft) ?? -1 })),
      ]),
    ),
    doubles: [...doubles],
    loops: [...loops],
  };
}

/** Straight pipes between the same joints that nowhere lie apart are one pipe drawn twice. */
function isTwin(p: PipeEdge, q: PipeEdge): boolean {
  return (
    p.from === q.from &&
    p.to === q.to &&
    distance(between(p.a, p.b, 0.5), between(q.a, q.b, 0.5)) <= TEE_REACH_M
  );
}

function edgeOf(
  { record }: TurnedPiece,
  start: Point,
  end: Point,
  startNode: number,
  endNode: number,
  nodes: readonly BareNode[],
  ground: Ground,
): PipeEdge {
  const onward = startNode < endNode;
  const [from, to, a, b] = onward ? [startNode, endNode, start, end] : [endNode, startNode, end, start];
  const profile = ground.profile([a, b]);
  const fromZM = nodes[from]!.zM;
  const toZM = nodes[to]!.zM;
  const firstZM = profile.zM[0]!;
  const lastZM = profile.zM.at(-1)!;
  const zM = profile.zM.map((groundZM, i) => {
    if (i === 0) return fromZM;
    if (i === profile.zM.length - 1) return toZM;
    const share = profile.planAlong[i]! / profile.planLengthM;
    return groundZM + (fromZM - firstZM) * (1 - share) + (toZM - lastZM) * share;
  });
  const lengthM = profile.groundLengthM;
  const bore = boreOf(record.size, record.material);
  const section = pipeSection(record.size, record.material);
  return {
    from,
    to,
    lateralIds: [record.id],
    a,
    b,
    lengthM,
    volumeL: bore ? litresIn(bore.innerDiameterMm, lengthM) : null,
    takenVolumeL: litresIn(section.innerDiameterMm, lengthM),
    boreM: section.innerDiameterMm / 1000,
    roughnessM: section.roughnessM,
    material: record.material,
    measured: record.measured,
    galvanised: record.material !== null && pipeMaterial(record.material) === 'galvanised steel',
    alongM: profile.groundAlong,
    zM,
    onward: riseOf(zM),
    backward: riseOf([...zM].reverse()),
  };
}

function riseOf(zM: readonly number[]): Rise {
  let lowM = Infinity;
  let highM = -Infinity;
  let riseM = 0;
  for (const z of zM) {
    lowM = Math.min(lowM, z);
    highM = Math.max(highM, z);
    riseM = Math.max(riseM, z - lowM);
  }
  return { lowM, highM, riseM };
}
