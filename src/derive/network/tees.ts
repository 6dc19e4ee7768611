import { Heap } from '../../base/heap.ts';
import { fittingById } from '../../catalog/index.ts';
import type { PlacedPiece } from '../results.ts';

const RUN_K = fittingById('tee-run').lossK;
const BRANCH_K = fittingById('tee-branch').lossK;
/** A piece that leaves within this angle of the way on which the water came goes straight through the tee. */
const STRAIGHT_COS = Math.SQRT1_2;

interface Pieces {
  readonly nodeCount: number;
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly lengthM: Float64Array;
  readonly pieces: readonly PlacedPiece[];
  /** Nodes at which water enters the tubing, however far it has come. */
  readonly sources: readonly number[];
}

/**
 * Loss coefficients of tees, by link: at a joint of three and more pieces of tubing or old pipe, on each piece by
 * which water leaves it: the run or the branch of a tee (`catalog/fittings.ts`). Water may leave a joint by a piece
 * unless its shortest way from a source leads through that very piece; so a piece that closes a loop counts at both of
 * its ends, as either may be the one that it leaves.
 */
export function teeLosses(net: Pieces): Float64Array {
  const { from, to, pieces, nodeCount } = net;
  const lossK = new Float64Array(from.length);
  const degree = new Int32Array(nodeCount);
  const start = new Int32Array(nodeCount + 1);
  const isPipe = new Uint8Array(from.length);
  for (let l = 0; l < from.length; l++) {
    const { table } = pieces[l]!.owner;
    // Check valves stand in the tubing; feeders hang on a barb, which emitter bodies stand for.
    const inTubing = table === 'runs' || table === 'laterals' || table === 'checkValves';
    if (table === 'runs' || table === 'laterals') {
      degree[from[l]!]! += 1;
      degree[to[l]!]! += 1;
    }
    if (!inTubing && table !== 'controls' && table !== 'supplies') continue;
    isPipe[l] = 1;
    start[from[l]! + 1]! += 1;
    start[to[l]! + 1]! += 1;
  }
  if (!degree.some((count) => count >= 3)) return lossK;
  for (let n = 0; n < nodeCount; n++) start[n + 1]! += start[n]!;
  const fill = start.slice();
  const list = new Int32Array(start[nodeCount]!);
  for (let l = 0; l < from.length; l++) {
    if (isPipe[l] === 0) continue;
    list[fill[from[l]!]!++] = l;
    list[fill[to[l]!]!++] = l;
  }
  const spans = spansOf(net, start, list);
  const away = distances(net, spans);
  const { a, b, firstLink, lastLink, spanM, spanStart, spansAt } = spans;

  const isTubing = (l: number): boolean => {
    const { table } = pieces[l]!.owner;
    return table === 'runs' || table === 'laterals';
  };
  const leaving: number[] = [];
  const arriving: (readonly [number, number])[] = [];
  for (let node = 0; node < nodeCount; node++) {
    const here = away[node]!;
    if (degree[node]! < 3 || here === Infinity) continue;
    leaving.length = 0;
    arriving.length = 0;
    const enter = (link: number, there: number, lengthM: number): void => {
      if (!isTubing(link)) return;
      if (here < there + lengthM - 1e-9) leaving.push(link);
      else arriving.push(direction(net, link, node));
    };
    for (let k = spanStart[node]!; k < spanStart[node + 1]!; k++) {
      const s = spansAt[k]!;
      // A span that comes back to its own joint stands there twice, once for each of its ends.
      if (k > spanStart[node]! && spansAt[k - 1] === s) continue;
      if (a[s] === node) enter(firstLink[s]!, away[b[s]!]!, spanM[s]!);
      if (b[s] === node) enter(lastLink[s]!, away[a[s]!]!, spanM[s]!);
    }
    for (const link of leaving) {
      const [x, y] = direction(net, link, node);
      // Directions point away from the joint, so what goes on straight looks against what arrives.
      const straight = arriving.some(([ax, ay]) => -(ax * x + ay * y) >= STRAIGHT_COS);
      lossK[link]! += straight ? RUN_K : BRANCH_K;
    }
  }
  return lossK;
}

/** Unit direction in plan in which a piece leaves a node; zero where it has no length in plan. */
function direction({ from, pieces }: Pieces, link: number, node: number): readonly [number, number] {
  const { a, b } = pieces[link]!;
  const sign = from[link] === node ? 1 : -1;
  const dx = sign * (b[0] - a[0]);
  const dy = sign * (b[1] - a[1]);
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dx / length, dy / length] : [0, 0];
}

/**
 * Chains of pipe between two joints or ends: the joints, the first and the last piece as seen from `a`, the length; and
 * by node the chains that end there, as one list cut by `spanStart`.
 */
interface Spans {
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly firstLink: readonly number[];
  readonly lastLink: readonly number[];
  readonly spanM: readonly number[];
  readonly spanStart: Int32Array;
  readonly spansAt: Int32Array;
}

/** Chains of pieces drawn together, from joint to joint. Sources and ends count as joints. */
function spansOf(
  { from, to, lengthM, nodeCount, sources }: Pieces,
  start: Int32Array,
  list: Int32Array,
): Spans {
  const isKnot = new Uint8Array(nodeCount);
  for (let n = 0; n < nodeCount; n++) {
    const count = start[n + 1]! - start[n]!;
    if (count > 0 && count !== 2) isKnot[n] = 1;
  }
  for (const node of sources) isKnot[node] = 1;
  const used = new Uint8Array(from.length);
  const a: number[] = [];
  const b: number[] = [];
  const first: number[] = [];
  const last: number[] = [];
  const spanM: number[] = [];
  const spanStart = new Int32Array(nodeCount + 1);
  for (let knot = 0; knot < nodeCount; knot++) {
    if (isKnot[knot] === 0) continue;
    for (let k = start[knot]!; k < start[knot + 1]!; k++) {
      const firstLink = list[k]!;
      if (used[firstLink] === 1) continue;
      let link = firstLink;
      let node = knot;
      let length = 0;
      for (;;) {
        used[link] = 1;
        length += lengthM[link]!;
        node = from[link] === node ? to[link]! : from[link]!;
        if (isKnot[node] === 1) break;
        const next = list[start[node]!]!;
        link = next === link ? list[start[node]! + 1]! : next;
      }
      a.push(knot);
      b.push(node);
      first.push(firstLink);
      last.push(link);
      spanM.push(length);
      spanStart[knot + 1]! += 1;
      spanStart[node + 1]! += 1;
    }
  }
  for (let n = 0; n < nodeCount; n++) spanStart[n + 1]! += spanStart[n]!;
  const fill = spanStart.slice();
  const spansAt = new Int32Array(2 * a.length);
  for (let s = 0; s < a.length; s++) {
    spansAt[fill[a[s]!]!++] = s;
    spansAt[fill[b[s]!]!++] = s;
  }
  return { a, b, firstLink: first, lastLink: last, spanM, spanStart, spansAt };
}

/** Least length of pipe from a source to each node at which a span ends, after Dijkstra (1959); Infinity elsewhere. */
function distances({ sources, nodeCount }: Pieces, { a, b, spanM, spanStart, spansAt }: Spans): Float64Array {
  const away = new Float64Array(nodeCount).fill(Infinity);
  const isDone = new Uint8Array(nodeCount);
  const open = new Heap();
  for (const node of sources) {
    away[node] = 0;
    open.push(node, 0);
  }
  while (open.least < Infinity) {
    const node = open.pop();
    if (isDone[node] === 1) continue;
    isDone[node] = 1;
    for (let k = spanStart[node]!; k < spanStart[node + 1]!; k++) {
      const s = spansAt[k]!;
      const other = a[s] === node ? b[s]! : a[s]!;
      const length = away[node]! + spanM[s]!;
      if (length < away[other]!) {
        away[other] = length;
        open.push(other, length);
      }
    }
  }
  return away;
}
