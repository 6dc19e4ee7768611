import type { Point } from '../../base/point.ts';
import { type LinkKind, type LossCurve, type Network } from '../../hydraulics/network.ts';
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

/** A network while it is put together; `finish` gives the solver's arrays. */
export class NetworkDraft {
  private readonly elevation: number[] = [];
  private readonly fixedHead: number[] = [];
  private readonly from: number[] = [];
  private readonly to: number[] = [];
  private readonly kind: number[] = [];
  private readonly length: number[] = [];
  private readonly bore: number[] = [];
  private readonly roughness: number[] = [];
  private readonly setting: number[] = [];
  private readonly curve: number[] = [];
  private readonly curves: LossCurve[] = [];
  private readonly outletNode: number[] = [];
  private readonly outletRise: number[] = [];
  private readonly outletParts: LineOutlet[] = [];
  private readonly bodyExtra: number[] = [];
  readonly pieces: PlacedPiece[] = [];

  get nodeCount(): number {
    return this.elevation.length;
  }

  elevationOf(node: number): number {
    return this.elevation[node]!;
  }

  node(elevationM: number): number {
    this.elevation.push(elevationM);
    this.fixedHead.push(NaN);
    this.bodyExtra.push(0);
    return this.elevation.length - 1;
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
    this.from.push(draft.from);
    this.to.push(draft.to);
    this.kind.push(draft.kind);
    this.length.push(draft.lengthM ?? 0);
    this.bore.push(draft.boreM ?? 0);
    this.roughness.push(draft.roughnessM ?? 0);
    this.setting.push(draft.settingM ?? NaN);
    this.curve.push(draft.curve ?? -1);
    this.pieces.push({ owner, a, b });
    return this.from.length - 1;
  }

  /** An outlet at a node; `tapNode` is where its body or barb stands in the tubing. */
  outlet(part: LineOutlet, node: number, tapNode: number, zM: number): void {
    this.outletParts.push(part);
    this.outletNode.push(node);
    this.outletRise.push(zM - this.elevation[node]!);
    this.bodyExtra[tapNode]! += part.law.extraLengthM;
  }

  /** Links by node, as one list cut by `start`. */
  private linksByNode(): { readonly start: Int32Array; readonly list: Int32Array } {
    const start = new Int32Array(this.nodeCount + 1);
    for (let i = 0; i < this.from.length; i++) {
      start[this.from[i]! + 1]! += 1;
      start[this.to[i]! + 1]! += 1;
    }
    for (let n = 0; n < this.nodeCount; n++) start[n + 1]! += start[n]!;
    const fill = start.slice();
    const list = new Int32Array(2 * this.from.length);
    for (let i = 0; i < this.from.length; i++) {
      list[fill[this.from[i]!]!++] = i;
      list[fill[this.to[i]!]!++] = i;
    }
    return { start, list };
  }

  /** Number of links from the given nodes to each node; -1 where there is no way. */
  linksAway(sources: readonly number[]): Int32Array {
    const { start, list } = this.linksByNode();
    const away = new Int32Array(this.nodeCount).fill(-1);
    const queue = [...sources];
    for (const node of sources) away[node] = 0;
    for (let head = 0; head < queue.length; head++) {
      const node = queue[head]!;
      for (let k = start[node]!; k < start[node + 1]!; k++) {
        const link = list[k]!;
        const other = this.from[link] === node ? this.to[link]! : this.from[link]!;
        if (away[other]! >= 0) continue;
        away[other] = away[node]! + 1;
        queue.push(other);
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
    const degree = new Int32Array(this.nodeCount);
    const isTubing = (link: number): boolean => this.pieces[link]!.owner.table === 'runs';
    for (let i = 0; i < this.from.length; i++) {
      if (!isTubing(i)) continue;
      degree[this.from[i]!]! += 1;
      degree[this.to[i]!]! += 1;
    }
    const extra = new Float64Array(this.from.length);
    for (let i = 0; i < this.from.length; i++) {
      if (!isTubing(i)) continue;
      const from = this.from[i]!;
      const to = this.to[i]!;
      extra[i] =
        this.bodyExtra[from]! / Math.min(2, degree[from]!) + this.bodyExtra[to]! / Math.min(2, degree[to]!);
    }
    return extra;
  }

  /** @param waterC temperature of the water, degrees Celsius */
  finish(sources: readonly number[], waterC: number): Network {
    const count = this.outletParts.length;
    const links = {
      from: new Int32Array(this.from),
      to: new Int32Array(this.to),
      lengthM: new Float64Array(this.length),
    };
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
    this.outletParts.forEach(({ law, ratedFlowLph }, i) => {
      const ratedM3s = lphToM3s(ratedFlowLph);
      const ratedHeadM = kpaToHead(law.ratedKpa);
      outlets.coefficient[i] = coefficientOf(law, ratedFlowLph, waterC);
      outlets.exponent[i] = law.exponent;
      outlets.ratedM3s[i] = law.compensating ? ratedM3s : NaN;
      outlets.rangeFromM[i] = law.compensating ? ratedHeadM : NaN;
    });
    // Only where some outlet has a check: the engine then has nothing to look up for all others.
    const closings = this.outletParts.some(({ law }) => law.closingKpa !== null)
      ? Float64Array.from(this.outletParts, ({ law }) =>
          law.closingKpa === null ? NaN : kpaToHead(law.closingKpa),
        )
      : null;
    return {
      nodes: {
        count: this.nodeCount,
        elevationM: new Float64Array(this.elevation),
        fixedHeadM: new Float64Array(this.fixedHead),
      },
      links: {
        count: this.from.length,
        from: links.from,
        to: links.to,
        kind: new Uint8Array(this.kind),
        lengthM: links.lengthM,
        extraLengthM: this.extraLengths(),
        boreM: new Float64Array(this.bore),
        roughnessM: new Float64Array(this.roughness),
        lossK: teeLosses({ ...links, pieces: this.pieces, nodeCount: this.nodeCount, sources }),
        settingM: new Float64Array(this.setting),
        curve: new Int32Array(this.curve),
      },
      outlets: closings ? { ...outlets, closingM: closings } : outlets,
      curves: this.curves,
      viscosityM2s: viscosity(waterC),
    };
  }
}
