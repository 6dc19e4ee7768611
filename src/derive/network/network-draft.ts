import type { Point } from '../../base/point.ts';
import { LINK, type LinkKind, type LossCurve, type Network, type Outlets } from '../../hydraulics/network.ts';
import { kpaToHead, lphToM3s } from '../../hydraulics/index.ts';
import { viscosity } from '../../hydraulics/index.ts';
import type { PlacedPiece } from '../results.ts';
import type { LineOutlet } from './outlets.ts';
import { teeLosses } from './tees.ts';
import { coefficientOf } from './outlet-coefficient.ts';

interface LinkDraft {
  readonly from: number;
  readonly to: number;
  readonly kind: LinkKind;
  readonly lengthM?: number;
  readonly boreM?: number;
  readonly roughnessM?: number;
  readonly settingM?: number;
  readonly curve?: number;
}

/** What a link stands for, as far as it matters here. */
const ROLE = { other: 0, run: 1, lateral: 2, checkValve: 3, station: 4 } as const;
const ROLE_OF: Readonly<Record<PlacedPiece['owner']['table'], number>> = {
  runs: ROLE.run,
  laterals: ROLE.lateral,
  checkValves: ROLE.checkValve,
  controls: ROLE.station,
  supplies: ROLE.station,
  emitters: ROLE.other,
};

/** Room for so many nodes and links to begin with. */
const ROOM = 1024;

/** A network while it is put together; `finish` gives the solver's arrays. */
export class NetworkDraft {
  private nodes = 0;
  private elevation = new Float64Array(ROOM);
  private fixedHead = new Float64Array(ROOM);
  private bodyExtra = new Float64Array(ROOM);
  private links = 0;
  private from = new Int32Array(ROOM);
  private to = new Int32Array(ROOM);
  private kind = new Uint8Array(ROOM);
  private length = new Float64Array(ROOM);
  private bore = new Float64Array(ROOM);
  private roughness = new Float64Array(ROOM);
  private setting = new Float64Array(ROOM);
  private curve = new Int32Array(ROOM);
  private role = new Uint8Array(ROOM);
  private readonly curves: LossCurve[] = [];
  private readonly outletNode: number[] = [];
  private readonly outletRise: number[] = [];
  private readonly outletParts: LineOutlet[] = [];
  private byNode: LinksByNode | null = null;
  readonly pieces: PlacedPiece[] = [];

  get nodeCount(): number {
    return this.nodes;
  }

  elevationOf(node: number): number {
    return this.elevation[node]!;
  }

  node(elevationM: number): number {
    if (this.nodes === this.elevation.length) {
      this.elevation = wider(this.elevation);
      this.fixedHead = wider(this.fixedHead);
      this.bodyExtra = wider(this.bodyExtra);
    }
    this.elevation[this.nodes] = elevationM;
    this.fixedHead[this.nodes] = NaN;
    return this.nodes++;
  }

  setElevation(node: number, elevationM: number): void {
    this.elevation[node] = elevationM;
  }

  isHeld(node: number): boolean {
    return !Number.isNaN(this.fixedHead[node]);
  }

  /** Holds a node at a pressure, kPa. */
  hold(node: number, pressureKpa: number): void {
    this.fixedHead[node] = this.elevation[node]! + kpaToHead(pressureKpa);
  }

  lossCurve(curve: LossCurve): number {
    this.curves.push(curve);
    return this.curves.length - 1;
  }

  link(draft: LinkDraft, owner: PlacedPiece['owner'], a: Point, b: Point): number {
    const { from, to, lengthM = 0, boreM = 0, roughnessM = 0 } = draft;
    const link = this.pipe(from, to, lengthM, boreM, roughnessM, { owner, a, b });
    this.kind[link] = draft.kind;
    this.setting[link] = draft.settingM ?? NaN;
    this.curve[link] = draft.curve ?? -1;
    return link;
  }

  /** The same for a piece of pipe. */
  pipe(
    from: number,
    to: number,
    lengthM: number,
    boreM: number,
    roughnessM: number,
    piece: PlacedPiece,
  ): number {
    if (this.links === this.from.length) this.widen();
    const link = this.links++;
    this.byNode = null;
    this.from[link] = from;
    this.to[link] = to;
    this.kind[link] = LINK.pipe;
    this.length[link] = lengthM;
    this.bore[link] = boreM;
    this.roughness[link] = roughnessM;
    this.setting[link] = NaN;
    this.curve[link] = -1;
    this.role[link] = ROLE_OF[piece.owner.table];
    this.pieces.push(piece);
    return link;
  }

  private widen(): void {
    this.from = wider(this.from);
    this.to = wider(this.to);
    this.kind = wider(this.kind);
    this.length = wider(this.length);
    this.bore = wider(this.bore);
    this.roughness = wider(this.roughness);
    this.setting = wider(this.setting);
    this.curve = wider(this.curve);
    this.role = wider(this.role);
  }

  /** An outlet at a node; `tapNode` is where its body or barb stands in the tubing. */
  outlet(part: LineOutlet, node: number, tapNode: number, zM: number): void {
    this.outletParts.push(part);
    this.outletNode.push(node);
    this.outletRise.push(zM - this.elevation[node]!);
    this.bodyExtra[tapNode]! += part.law.extraLengthM;
  }

  private linksByNode(): LinksByNode {
    if (this.byNode) return this.byNode;
    const { from, to, links, nodes } = this;
    const start = new Int32Array(nodes + 1);
    for (let i = 0; i < links; i++) {
      start[from[i]! + 1]! += 1;
      start[to[i]! + 1]! += 1;
    }
    for (let n = 0; n < nodes; n++) start[n + 1]! += start[n]!;
    const fill = start.slice();
    const list = new Int32Array(2 * links);
    for (let i = 0; i < links; i++) {
      list[fill[from[i]!]!++] = i;
      list[fill[to[i]!]!++] = i;
    }
    this.byNode = { start, list };
    return this.byNode;
  }

  /** Number of links from the given nodes to each node; -1 where there is no way. */
  linksAway(sources: readonly number[]): Int32Array {
    const { start, list } = this.linksByNode();
    const { from, to } = this;
    const away = new Int32Array(this.nodes).fill(-1);
    const queue = new Int32Array(this.nodes);
    let end = 0;
    for (const node of sources) {
      if (away[node] === 0) continue;
      away[node] = 0;
      queue[end++] = node;
    }
    for (let head = 0; head < end; head++) {
      const node = queue[head]!;
      for (let k = start[node]!; k < start[node + 1]!; k++) {
        const link = list[k]!;
        const other = from[link] === node ? to[link]! : from[link]!;
        if (away[other]! >= 0) continue;
        away[other] = away[node]! + 1;
        queue[end++] = other;
      }
    }
    return away;
  }

  /**
   * Emitter bodies and barbs stand in the way of the water on both sides of their node: half of each one's extra
   * length goes to every piece of tubing there, all of it where the tubing ends. So neither the direction of flow
   * nor the direction of drawing matters.
   */
  private extraLengths(): Float64Array {
    const { from, to, links, role, bodyExtra } = this;
    const degree = new Int32Array(this.nodes);
    for (let i = 0; i < links; i++) {
      if (role[i] !== ROLE.run) continue;
      degree[from[i]!]! += 1;
      degree[to[i]!]! += 1;
    }
    const extra = new Float64Array(links);
    for (let i = 0; i < links; i++) {
      if (role[i] !== ROLE.run) continue;
      const a = from[i]!;
      const b = to[i]!;
      extra[i] = bodyExtra[a]! / Math.min(2, degree[a]!) + bodyExtra[b]! / Math.min(2, degree[b]!);
    }
    return extra;
  }

  /** Figures of the outlets for the solver. */
  private outletColumns(waterC: number): Outlets {
    const parts = this.outletParts;
    const count = parts.length;
    const outlets = {
      count,
      node: new Int32Array(this.outletNode),
      coefficient: new Float64Array(count),
      exponent: new Float64Array(count),
      ratedM3s: new Float64Array(count),
      rangeFromM: new Float64Array(count),
      residualExponent: new Float64Array(count),
      riseM: new Float64Array(this.outletRise),
    };
    let hasCheck = false;
    let coefficient = NaN;
    for (let i = 0; i < count; i++) {
      const { law, ratedFlowLph } = parts[i]!;
      const last = parts[i - 1];
      // Neighbours are mostly of one kind.
      if (last?.law !== law || last.ratedFlowLph !== ratedFlowLph)
        coefficient = coefficientOf(law, ratedFlowLph, waterC);
      outlets.coefficient[i] = coefficient;
      outlets.exponent[i] = law.exponent;
      outlets.ratedM3s[i] = law.compensating ? lphToM3s(ratedFlowLph) : NaN;
      outlets.rangeFromM[i] = law.compensating ? kpaToHead(law.ratedKpa) : NaN;
      hasCheck ||= law.closingKpa !== null;
    }
    // Only where some outlet has a check: the engine then has nothing to look up for all others.
    if (!hasCheck) return outlets;
    const closingM = Float64Array.from(parts, ({ law }) =>
      law.closingKpa === null ? NaN : kpaToHead(law.closingKpa),
    );
    return { ...outlets, closingM };
  }

  /** @param waterC temperature of the water, degrees Celsius */
  finish(sources: readonly number[], waterC: number): Network {
    const { nodes, links } = this;
    const from = this.from.slice(0, links);
    const to = this.to.slice(0, links);
    const lengthM = this.length.slice(0, links);
    return {
      nodes: {
        count: nodes,
        elevationM: this.elevation.slice(0, nodes),
        fixedHeadM: this.fixedHead.slice(0, nodes),
      },
      links: {
        count: links,
        from,
        to,
        kind: this.kind.slice(0, links),
        lengthM,
        extraLengthM: this.extraLengths(),
        boreM: this.bore.slice(0, links),
        roughnessM: this.roughness.slice(0, links),
        lossK: teeLosses({ from, to, lengthM, pieces: this.pieces, nodeCount: nodes, sources }),
        settingM: this.setting.slice(0, links),
        curve: this.curve.slice(0, links),
      },
      outlets: this.outletColumns(waterC),
      curves: this.curves,
      viscosityM2s: viscosity(waterC),
    };
  }
}

/** Links by node, as one list cut by `start`. */
interface LinksByNode {
  readonly start: Int32Array;
  readonly list: Int32Array;
}

/** The same figures in twice the room. */
function wider<T extends Float64Array | Int32Array | Uint8Array>(column: T): T {
  const made = new (column.constructor as new (length: number) => T)(2 * column.length);
  made.set(column);
  return made;
}
