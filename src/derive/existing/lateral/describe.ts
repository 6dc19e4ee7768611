import type { HeadFate, LateralFate } from '../../../plan/records.ts';
import { LEVEL_TOLERANCE_M } from './draining.ts';
import { lowPoints } from './low-points.ts';
import type { Candidate, Scene, Weigher } from './candidates.ts';
import type { PipeGraph, RecordPart } from './graph.ts';
import {
  LEG_SOURCE,
  liesOf,
  WARN_LENGTH_M,
  WARN_VOLUME_L,
  CUT_VOLUME_L,
  type Branch,
  type LegAction,
} from './legs.ts';
import { inOrder } from './order.ts';
import { staysSpray } from './stays-spray.ts';
import type { DeadLeg, RecordSplit, TieIn, TieInPlace } from './tie-in.ts';

/** All that is told of a tie-in but its rank among the others and why. */
export type Described = Omit<TieIn, 'rank' | 'why'>;

const LEG_FATE: Record<LegAction, LateralFate> = {
  'cut at the tee': 'cut off',
  'cap at the riser': 'dead',
  'leave until split': 'undecided',
};

/** Works out candidates: legs, what becomes of heads and pipe, draining, pressure and beds. */
export class Describer {
  private readonly legs = new Map<Branch, DeadLeg>();
  private readonly records: readonly (readonly [string, readonly RecordPart[]])[];
  private readonly pieceOrder: ReadonlyMap<string, number>;
  private readonly untilSplit: readonly string[];

  constructor(
    private readonly scene: Scene,
    private readonly weigher: Weigher,
  ) {
    this.records = [...scene.graph.parts].sort((a, b) => inOrder(a[0], b[0]));
    this.untilSplit = scene.graph.heads.filter(staysSpray).map(({ id }) => id);
    this.pieceOrder = new Map(this.records.map(([id], i) => [id, i]));
  }

  describe(candidate: Candidate): Described {
    const { graph, beds, pressure } = this.scene;
    const { weigher } = this;
    const { legs: branches, liveEdges, liveNodes } = weigher.legs(candidate.ways)!;
    const legs = branches.map((leg) => this.told(leg));
    const places = placesOf(graph, candidate.nodes);
    const draining = weigher.drainer.of(liveEdges, candidate.nodes);
    let lowM = graph.nodes[candidate.nodes[0]!]!.zM;
    for (const e of liveEdges) lowM = Math.min(lowM, graph.edges[e]!.onward.lowM);
    const near = places.map(({ at }) => beds.nearest(at));
    const nearest = near.reduce((a, b) => (a && b && b.distanceM > a.distanceM ? b : a), near[0]!);
    const served = weigher.servedBy(candidate.nodes);
    const dropKpa = places.length === 1 ? candidate.weighed.dropKpa : weigher.dropKpa(candidate.ways);
    const liftKpa = Math.max(...candidate.nodes.map((n) => pressure.liftKpa(n)));
    const { barred, spur } = candidate.weighed;
    const { parts, splits } = this.fatesOfRecords(fatesOfPipe(graph, branches, liveEdges, liveNodes));
    return {
      id: weigher.nameOf(candidate),
      node: places.map(({ node }) => node).join('+'),
      at: places[0]!.at,
      zone: graph.zone,
      places,
      feasible: barred === 'no' && this.untilSplit.length === 0,
      barred,
      untilSplit: this.untilSplit,
      isValve: candidate.weighed.isValve,
      costL: candidate.rank.costL,
      cost: candidate.rank.terms,
      liveLengthM: sum(liveEdges.map((e) => graph.edges[e]!.lengthM)),
      deadLegLengthM: sum(legs.map(({ lengthM }) => lengthM)),
      deadLegVolumeL: knownVolume(legs),
      deadLegUnknownM: sum(legs.map(({ unknownM }) => unknownM)),
      legs: legs.sort(legsInOrder),
      cuts: candidate.weighed.cuts,
      stagnantVolumeL: candidate.weighed.stagnantL,
      drains: graph.slopeKnown ? draining.drains : null,
      trappedVolumeL: draining.trappedL,
      drainAt: draining.drains
        ? []
        : lowPoints(graph, weigher.drainer, liveEdges, candidate.nodes).map(({ nodes }) =>
            nodes.map((n) => graph.nodes[n]!.id).join(' to '),
          ),
      blowsOut:
        isOneWay(graph, candidate, liveEdges) && legs.every(({ action }) => action === 'cut at the tee'),
      endOfLine: candidate.weighed.endOfLine,
      mainEnd: candidate.nodes.length === 1 ? (weigher.mains.ends.get(candidate.nodes[0]!) ?? null) : null,
      spur: spur?.kind ?? null,
      lowest: candidate.nodes.some((n) => graph.nodes[n]!.zM <= lowM + LEVEL_TOLERANCE_M),
      pressureKpa: pressure.atValveKpa === null ? null : pressure.atValveKpa - dropKpa,
      pipeLossKpa: dropKpa - liftKpa,
      liftKpa,
      flowLph: pressure.flowLph,
      velocityMs: weigher.fastestMs(candidate.ways),
      distanceToBedM: nearest?.distanceM ?? null,
      bedId: nearest?.bedId ?? null,
      beds: beds.beds.flatMap(({ id }, i) => (served.has(i) ? [id] : [])),
      bedsMissed: beds.beds.flatMap(({ id }, i) => (served.has(i) ? [] : [id])),
      further: this.further(liveNodes, served),
      passesAssumed: liveEdges.some((e) => !graph.edges[e]!.measured),
      galvanised: liveEdges.some((e) => graph.edges[e]!.galvanised),
      fates: fatesOfHeads(graph, places, branches, liveNodes),
      pieceFates: parts,
      splits,
    };
  }

  /** For each bed that is missed the first joint on the way that serves it, one with a head before others. */
  private further(liveNodes: readonly number[], served: ReadonlySet<number>): string[] {
    const { graph, beds } = this.scene;
    if (served.size === beds.beds.length) return [];
    const order = [...liveNodes].sort(
      (p, q) =>
        graph.nodes[q]!.heads.length - graph.nodes[p]!.heads.length ||
        inOrder(graph.nodes[p]!.id, graph.nodes[q]!.id),
    );
    const reached = new Set(served);
    const found: string[] = [];
    beds.beds.forEach((_, i) => {
      if (reached.has(i)) return;
      const node = order.find((n) => n !== graph.source && this.weigher.servedBy([n]).has(i));
      if (node === undefined) return;
      for (const bed of this.weigher.servedBy([node])) reached.add(bed);
      found.push(graph.nodes[node]!.id);
    });
    return found;
  }

  /** Legs off all rings are the same for many tie-ins and are told once. */
  private told(leg: Branch): DeadLeg {
    const known = this.legs.get(leg);
    if (known) return known;
    const { graph } = this.scene;
    const edges = leg.edges.map((e) => graph.edges[e]!);
    const joints = leg.joints.map((n) => graph.nodes[n]!);
    const large = leg.takenVolumeL > WARN_VOLUME_L || leg.lengthM > WARN_LENGTH_M;
    const place = (id: string): number => this.pieceOrder.get(id)!;
    const made: DeadLeg = {
      joint: joints[0]!.name,
      joints: joints.map(({ name }) => name),
      jointAt: joints[0]!.at,
      pieces: [...new Set(edges.flatMap(({ lateralIds }) => lateralIds))].sort((a, b) => place(a) - place(b)),
      heads: leg.nodes.flatMap((n) => graph.nodes[n]!.heads.map(({ id }) => id)).sort(inOrder),
      lengthM: leg.lengthM,
      volumeL: knownVolume(edges),
      unknownM: sum(edges.map(({ lengthM, volumeL }) => (volumeL === null ? lengthM : 0))),
      lies: liesOf(graph, leg),
      drains: leg.drains,
      action: leg.action,
      limit: large ? 'warning' : leg.takenVolumeL > CUT_VOLUME_L ? 'info' : 'none',
      source: LEG_SOURCE,
    };
    this.legs.set(leg, made);
    return made;
  }

  /** The fates of records, and which of them have to be cut in parts first. */
  private fatesOfRecords(fates: PipeFates): {
    readonly parts: Record<string, LateralFate>;
    readonly splits: RecordSplit[];
  } {
    const { graph } = this.scene;
    const parts: Record<string, LateralFate> = {};
    const splits: RecordSplit[] = [];
    const fateOf = (part: RecordPart): LateralFate =>
      part.edge >= 0 ? fates.edge[part.edge]! : fates.node[part.from]!;
    for (const [lateralId, list] of this.records) {
      const first = list[0];
      if (!first || !graph.reached[first.from]) continue;
      // A scrap without a pipe of its own goes with its neighbour.
      const real = list.some(({ edge }) => edge >= 0) ? list.filter(({ edge }) => edge >= 0) : [first];
      parts[lateralId] = fateOf(real[0]!);
      const split = splitOf(graph, lateralId, list, real, fateOf);
      if (split) splits.push(split);
    }
    return { parts, splits };
  }
}

interface PipeFates {
  readonly edge: readonly LateralFate[];
  readonly node: readonly LateralFate[];
}

/** Where a record has to be cut, its parts having different fates; `null` where they have not. */
function splitOf(
  graph: PipeGraph,
  lateralId: string,
  all: readonly RecordPart[],
  real: readonly RecordPart[],
  fateOf: (part: RecordPart) => LateralFate,
): RecordSplit | null {
  const bounds = [0];
  for (let i = 1; i < real.length; i++) if (fateOf(real[i]!) !== fateOf(real[i - 1]!)) bounds.push(i);
  if (bounds.length === 1) return null;
  bounds.push(real.length);
  return {
    lateralId,
    parts: bounds.slice(1).map((end, k) => {
      const [first, last] = [real[bounds[k]!]!, real[end - 1]!];
      const [from, to] = [graph.nodes[first.from]!, graph.nodes[last.to]!];
      return {
        from: from.name,
        to: to.name,
        a: k === 0 ? all[0]!.a : from.at,
        b: end === real.length ? all.at(-1)!.b : to.at,
        fate: fateOf(first),
      };
    }),
  };
}

function sum(figures: readonly number[]): number {
  return figures.reduce((total, figure) => total + figure, 0);
}

/** Litres of pipe of known bore; `null` where there is pipe and none is known. */
export function knownVolume(edges: readonly { readonly volumeL: number | null }[]): number | null {
  const known = edges.flatMap(({ volumeL }) => volumeL ?? []);
  return edges.length > 0 && known.length === 0 ? null : sum(known);
}

function placesOf(graph: PipeGraph, nodes: readonly number[]): TieInPlace[] {
  return nodes
    .map((n) => {
      const { id, name, at, heads } = graph.nodes[n]!;
      return { id, node: name, at, headId: heads.find((head) => !staysSpray(head))?.id ?? null };
    })
    .sort((a, b) => inOrder(a.id, b.id));
}

function legsInOrder(a: DeadLeg, b: DeadLeg): number {
  return b.lengthM - a.lengthM || inOrder(a.joint, b.joint) || inOrder(a.pieces[0] ?? '', b.pieces[0] ?? '');
}

/** Whether the live pipe has no branch: one way from the valve on which all tie-ins stand. */
function isOneWay(graph: PipeGraph, { nodes }: Candidate, liveEdges: readonly number[]): boolean {
  const degree = new Map<number, number>();
  for (const e of liveEdges) {
    for (const n of [graph.edges[e]!.from, graph.edges[e]!.to]) degree.set(n, (degree.get(n) ?? 0) + 1);
  }
  const ends = [...degree].filter(([, count]) => count === 1).map(([n]) => n);
  const forks = [...degree.values()].some((count) => count > 2);
  return !forks && (liveEdges.length === 0 || ends.some((n) => nodes.includes(n)));
}

/** Fates by pipe; `undecided` for pipe that water does not reach. */
function fatesOfPipe(
  graph: PipeGraph,
  legs: readonly Branch[],
  liveEdges: readonly number[],
  liveNodes: readonly number[],
): PipeFates {
  const edge = graph.edges.map((): LateralFate => 'undecided');
  const node = graph.nodes.map((): LateralFate => 'undecided');
  for (const e of liveEdges) edge[e] = 'live';
  for (const leg of legs) {
    for (const e of leg.edges) edge[e] = LEG_FATE[leg.action];
    for (const n of leg.nodes) node[n] = LEG_FATE[leg.action];
  }
  for (const n of liveNodes) node[n] = 'live';
  return { edge, node };
}

function fatesOfHeads(
  graph: PipeGraph,
  places: readonly TieInPlace[],
  legs: readonly Branch[],
  liveNodes: readonly number[],
): Record<string, HeadFate> {
  const fates: Record<string, HeadFate> = {};
  for (const head of graph.heads) fates[head.id] = 'undecided';
  const give = (n: number, fate: HeadFate): void => {
    for (const { id } of graph.nodes[n]!.heads) fates[id] = fate;
  };
  for (const n of liveNodes) give(n, 'cap');
  for (const leg of legs) {
    const fate = leg.action === 'cut at the tee' ? 'cut off' : 'cap';
    for (const n of leg.nodes) give(n, fate);
  }
  for (const { headId } of places) if (headId !== null) fates[headId] = 'tie-in';
  // Heads of the lawn, and those that are kept, wait until the zone is split.
  for (const head of graph.heads) {
    if (staysSpray(head)) fates[head.id] = head.fate === 'keep' ? 'keep' : 'undecided';
  }
  return fates;
}
