import { Drainer, LEVEL_TOLERANCE_M } from './draining.ts';
import { NEAR_BED_M, type ZoneBeds } from './beds.ts';
import type { PipeGraph } from './graph.ts';
import { LegFinder, type Branch, type LegSums } from './legs.ts';
import { mainsOf, type Mains } from './mains.ts';
import type { PipePressure } from './pressure.ts';
import { inOrder } from './order.ts';
import {
  compareRanks,
  CUT_L,
  costOfPair,
  drainageOf,
  rankOf,
  rankOfPair,
  type Barred,
  type Drainage,
  type Rank,
  type Weighed,
} from './rank.ts';
import { commonStep, stepsOf, type Way, type Ways } from './ways.ts';

/** Nets of more pieces have their pairs taken among the ends of line only. */
export const MOST_PIECES_FOR_PAIRS = 200;

/** One or two tie-ins with the best opening of the rings for them. */
export interface Candidate {
  readonly nodes: readonly number[];
  readonly ways: readonly Way[];
  readonly weighed: Weighed;
  readonly rank: Rank;
  /** The least that cuts and still water cost with any opening of the rings, litres; of two tie-ins 0. */
  readonly leftL: number;
}

export interface Found {
  readonly singles: readonly Candidate[];
  /** The best pair; `null` with fewer than two places. */
  readonly pair: Candidate | null;
  readonly pairCount: number;
  /** Whether pairs were taken among the ends only. */
  readonly endsOnly: boolean;
}

/** What the candidates of one zone are weighed with. */
export interface Scene {
  readonly graph: PipeGraph;
  readonly ways: Ways;
  readonly beds: ZoneBeds;
  readonly pressure: PipePressure;
  readonly frostFree: boolean;
}

/** The live pipe of some ways: marks by node and edge that are cheap to set anew. */
class Live {
  readonly nodes: number[] = [];
  readonly edges: number[] = [];
  private readonly nodeMark: Int32Array;
  private readonly edgeMark: Int32Array;
  private run = 0;
  readonly node = (n: number): boolean => this.nodeMark[n] === this.run;
  readonly edge = (e: number): boolean => this.edgeMark[e] === this.run;

  constructor(graph: PipeGraph) {
    this.nodeMark = new Int32Array(graph.nodes.length);
    this.edgeMark = new Int32Array(graph.edges.length);
  }

  clear(): void {
    this.run++;
    this.nodes.length = 0;
    this.edges.length = 0;
  }

  /** Adds a way up to a step that is there already; false where it meets the rest before, so that a ring stays. */
  add(way: Way, upTo: Way | null): boolean {
    for (let at: Way | null = way; at && at !== upTo; at = at.before) {
      if (this.node(at.node)) return false;
      this.nodeMark[at.node] = this.run;
      this.nodes.push(at.node);
      if (at.edge >= 0) {
        this.edgeMark[at.edge] = this.run;
        this.edges.push(at.edge);
      }
    }
    return true;
  }
}

/** Weighs every tie-in and every pair of them, each with every opening of the rings. */
export class Weigher {
  readonly drainer: Drainer;
  private readonly legFinder: LegFinder;
  private readonly live: Live;
  private readonly totalL: number;
  private readonly served: readonly (readonly number[])[];
  private readonly toBedM: readonly number[];
  readonly mains: Mains;

  constructor(private readonly scene: Scene) {
    const { graph, beds } = scene;
    this.drainer = new Drainer(graph);
    this.legFinder = new LegFinder(graph, this.drainer);
    this.live = new Live(graph);
    this.mains = mainsOf(graph);
    this.totalL = graph.edges.reduce(
      (sum, edge) => sum + (graph.reached[edge.from] ? edge.takenVolumeL : 0),
      0,
    );
    this.served = graph.nodes.map(({ at }, n) => (graph.reached[n] ? beds.served(at) : []));
    this.toBedM = graph.nodes.map(({ at }) => beds.nearest(at)?.distanceM ?? 0);
  }

  all(): Found {
    const { graph, ways, frostFree } = this.scene;
    const weighed = graph.nodes.map((_, n) => ways.to[n]!.map((way) => this.weigh(way)));
    const drainage = drainageOf(weighed.flat(), frostFree);
    const singles = graph.nodes.flatMap((_, n) => this.best(n, weighed[n]!, drainage) ?? []);
    const pieces = new Set(graph.edges.flatMap(({ lateralIds }) => lateralIds)).size;
    const endsOnly = pieces > MOST_PIECES_FOR_PAIRS;
    const members = singles.filter(
      ({ nodes: [n] }) => n !== graph.source && (!endsOnly || graph.nodes[n!]!.edges.length === 1),
    );
    const { pair, pairCount } = this.bestPair(members);
    return { singles, pair, pairCount, endsOnly };
  }

  /** The best opening of the rings for one node; `null` where water does not get there. */
  private best(n: number, weighed: readonly Weighed[], drainage: Drainage): Candidate | null {
    const leftL = weighed.reduce((least, w) => Math.min(least, CUT_L * w.cuts + w.stagnantL), Infinity);
    let best: Candidate | null = null;
    for (const [k, way] of this.scene.ways.to[n]!.entries()) {
      const own = weighed[k]!;
      const rank = rankOf(own, drainage, NEAR_BED_M);
      const candidate: Candidate = { nodes: [n], ways: [way], weighed: own, rank, leftL };
      if (!best || this.compare(candidate, best) < 0) best = candidate;
    }
    return best;
  }

  /** The live pipe of some ways and its legs; `null` where the ways make a ring. */
  legs(
    ways: readonly Way[],
  ): { readonly legs: Branch[]; readonly liveEdges: number[]; readonly liveNodes: number[] } | null {
    if (!this.mark(ways)) return null;
    const legs = this.legFinder.legs(this.live.nodes, this.live);
    return { legs, liveEdges: [...this.live.edges], liveNodes: [...this.live.nodes] };
  }

  /** Marks the live pipe of some ways; false where they make a ring. */
  private mark([first, second]: readonly Way[]): boolean {
    this.live.clear();
    this.live.add(first!, null);
    return !second || this.live.add(second, commonStep(first!, second));
  }

  private sums(): LegSums {
    return this.legFinder.sums(this.live.nodes, this.live);
  }

  private weigh(way: Way): Weighed {
    const { graph } = this.scene;
    this.mark([way]);
    const drains = way.rise.riseM <= LEVEL_TOLERANCE_M + 1e-9;
    const isValve = way.node === graph.source;
    const { zM, edges } = graph.nodes[way.node]!;
    return {
      barred: barredBy(way.assumed, way.galvanised),
      isValve,
      isManifold: this.mains.ends.get(way.node) === 'manifold',
      drains,
      trappedL: drains ? 0 : this.drainer.of(this.live.edges, [way.node]).trappedL,
      riseM: zM - way.rise.lowM,
      spur: this.mains.spurs[way.node]!,
      deadL: this.totalL - way.takenVolumeL,
      ...this.sums(),
      endOfLine: edges.length <= 1 || this.mains.ends.has(way.node),
      distanceToBedM: this.toBedM[way.node]!,
      bedsMissed: this.scene.beds.beds.length - this.served[way.node]!.length,
      dropKpa: this.dropKpa([way]),
    };
  }

  /** Pressure lost and lifted away from the valve to the tie-in that has the least left. */
  dropKpa(ways: readonly Way[]): number {
    const { pressure } = this.scene;
    let most = -Infinity;
    for (const way of ways) {
      let lost = pressure.liftKpa(way.node);
      this.along(way, ways, (edge, share) => (lost += pressure.lossKpa(edge, share)));
      most = Math.max(most, lost);
    }
    return most;
  }

  /** The fastest water on some ways, m/s. */
  fastestMs(ways: readonly Way[]): number {
    let most = 0;
    for (const way of ways) {
      this.along(way, ways, (edge, share) => {
        most = Math.max(most, this.scene.pressure.velocityMs(edge, share));
      });
    }
    return most;
  }

  /** The pipes of a way, each with its share of the flow: all of it up to where two ways part. */
  private along(way: Way, ways: readonly Way[], visit: (edge: number, share: number) => void): void {
    const common = ways.length > 1 ? commonStep(ways[0]!, ways[1]!).steps : Infinity;
    for (const { edge, steps } of stepsOf(way)) {
      if (edge >= 0) visit(edge, steps <= common ? 1 : 1 / ways.length);
    }
  }

  /**
   * The best pair. A pair is not worked out where even with the fewest cuts and the least still water that it can leave
   * it would come behind the best one so far (branch and bound), so the answer is that of all pairs.
   */
  private bestPair(members: readonly Candidate[]): { pair: Candidate | null; pairCount: number } {
    const order = [...members].sort((a, b) => compareRanks(a.rank, b.rank));
    let best: Candidate | null = null;
    let pairCount = 0;
    order.forEach((better, i) => {
      for (let j = i + 1; j < order.length; j++) {
        const other = order[j]!;
        pairCount++;
        const bedsMissed = this.missedByBoth(better, other);
        if (best) {
          // The way to the other one begins in one leg and spares one cut or what stands in it, which is less. What is
          // left of that leg hangs on the new way as well, so it is cut as before.
          const least = { cuts: -1, stagnantL: better.leftL, bedsMissed };
          const bound = costOfPair(better.rank.costL, other.rank.terms.spur, better.weighed, least);
          if (this.isBehind(better, other, bound, best)) continue;
        }
        const pair = this.pair(better, other, bedsMissed);
        if (pair && (!best || this.compare(pair, best) < 0)) best = pair;
      }
    });
    return { pair: best, pairCount };
  }

  private isBehind(better: Candidate, other: Candidate, boundL: number, best: Candidate): boolean {
    const barred = Math.max(better.rank.barred, other.rank.barred);
    if (barred !== best.rank.barred) return barred > best.rank.barred;
    return boundL > best.rank.costL + 1e-6;
  }

  /** Numbers of the beds that one or two places serve. */
  servedBy(nodes: readonly number[]): ReadonlySet<number> {
    return new Set(nodes.flatMap((n) => this.served[n]!));
  }

  private missedByBoth(a: Candidate, b: Candidate): number {
    const count = this.scene.beds.beds.length;
    const missed = count - this.served[a.nodes[0]!]!.length;
    return missed === 0 ? 0 : count - this.servedBy([a.nodes[0]!, b.nodes[0]!]).size;
  }

  /** Two tie-ins with the opening of the rings that is best for both; `null` where there is none. */
  private pair(better: Candidate, other: Candidate, bedsMissed: number): Candidate | null {
    const { ways } = this.scene;
    const [p, q] = [better.nodes[0]!, other.nodes[0]!];
    let best: Candidate | null = null;
    for (const first of ways.to[p]!) {
      for (const second of ways.to[q]!) {
        if (!this.mark([first, second])) continue;
        const common = commonStep(first, second);
        const weighed: Weighed = {
          barred: barredBy(first.assumed + second.assumed, first.galvanised + second.galvanised),
          isValve: false,
          isManifold: false,
          drains: better.weighed.drains,
          trappedL: 0,
          riseM: better.weighed.riseM,
          spur: better.weighed.spur,
          deadL: this.totalL - first.takenVolumeL - second.takenVolumeL + common.takenVolumeL,
          ...this.sums(),
          endOfLine: better.weighed.endOfLine && other.weighed.endOfLine,
          distanceToBedM: Math.max(better.weighed.distanceToBedM, other.weighed.distanceToBedM),
          bedsMissed,
          dropKpa: 0,
        };
        const rank = rankOfPair(better.rank, other.rank, better.weighed, weighed);
        const candidate = { nodes: [p, q], ways: [first, second], weighed, rank, leftL: 0 };
        if (!best || this.compare(candidate, best) < 0) best = candidate;
      }
    }
    return best;
  }

  /** By rank, then by less dead pipe, then by name, so that the order of the records does not matter. */
  readonly compare = (a: Candidate, b: Candidate): number => {
    const dead = a.weighed.deadL - b.weighed.deadL;
    return (
      compareRanks(a.rank, b.rank) ||
      (Math.abs(dead) > 1e-6 ? dead : 0) ||
      inOrder(this.nameOf(a), this.nameOf(b))
    );
  };

  nameOf({ nodes }: Pick<Candidate, 'nodes'>): string {
    return nodes
      .map((n) => this.scene.graph.nodes[n]!.id)
      .sort(inOrder)
      .join('+');
  }
}

function barredBy(assumed: number, galvanised: number): Barred {
  if (galvanised > 0) return 'galvanised steel on the way';
  return assumed > 0 ? 'assumed pipe on the way' : 'no';
}
