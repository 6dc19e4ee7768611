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

/** Pipe between two joints or ends: its first and last piece as seen from `a`. */
interface Span {
  readonly a: number;
  readonly b: number;
  readonly firstLink: number;
  readonly lastLink: number;
  readonly lengthM: number;
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
  const { spans, spansAt } = spansOf(net, start, list);
  const away = distances(net.sources, spans, spansAt);

  const isTubing = (l: number): boolean => {
    const { table } = pieces[l]!.owner;
    return table === 'runs' || table === 'laterals';
  };
  for (const [node, own] of spansAt) {
    if (degree[node]! < 3) continue;
    const here = away.get(node) ?? Infinity;
    if (here === Infinity) continue;
    const ends = [...new Set(own)].flatMap((s) => {
      const span = spans[s]!;
      const list: { link: number; leaves: boolean }[] = [];
      const enter = (link: number, other: number): void => {
        const there = away.get(other) ?? Infinity;
        list.push({ link, leaves: here < there + span.lengthM - 1e-9 });
      };
      if (span.a === node) enter(span.firstLink, span.b);
      if (span.b === node) enter(span.lastLink, span.a);
      return list;
    });
    const arriving = ends
      .filter(({ leaves, link }) => !leaves && isTubing(link))
      .map(({ link }) => direction(net, link, node));
    for (const { link, leaves } of ends) {
      if (!leaves || !isTubing(link)) continue;
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

/** Chains of pieces drawn together, from joint to joint. Sources and ends count as joints. */
function spansOf(
  { from, to, lengthM, nodeCount, sources }: Pieces,
  start: Int32Array,
  list: Int32Array,
): { spans: Span[]; spansAt: Map<number, number[]> } {
  const isKnot = new Uint8Array(nodeCount);
  for (let n = 0; n < nodeCount; n++) {
    const count = start[n + 1]! - start[n]!;
    if (count > 0 && count !== 2) isKnot[n] = 1;
  }
  for (const node of sources) isKnot[node] = 1;
  const used = new Uint8Array(from.length);
  const spans: Span[] = [];
  const spansAt = new Map<number, number[]>();
  const put = (node: number, span: number): void => {
    const known = spansAt.get(node);
    if (known) known.push(span);
    else spansAt.set(node, [span]);
  };
  for (let a = 0; a < nodeCount; a++) {
    if (isKnot[a] === 0) continue;
    for (let k = start[a]!; k < start[a + 1]!; k++) {
      const firstLink = list[k]!;
      if (used[firstLink] === 1) continue;
      let link = firstLink;
      let node = a;
      let length = 0;
      for (;;) {
        used[link] = 1;
        length += lengthM[link]!;
        node = from[link] === node ? to[link]! : from[link]!;
        if (isKnot[node] === 1) break;
        const first = list[start[node]!]!;
        link = first === link ? list[start[node]! + 1]! : first;
      }
      spans.push({ a, b: node, firstLink, lastLink: link, lengthM: length });
      put(a, spans.length - 1);
      put(node, spans.length - 1);
    }
  }
  return { spans, spansAt };
}

/** Least length of pipe from a source to each joint, after Dijkstra (1959); joints are few, so no heap is needed. */
function distances(
  sources: readonly number[],
  spans: readonly Span[],
  spansAt: ReadonlyMap<number, readonly number[]>,
): Map<number, number> {
  const away = new Map<number, number>();
  const open = new Map<number, number>(sources.map((node) => [node, 0]));
  while (open.size > 0) {
    let node = -1;
    let least = Infinity;
    for (const [candidate, length] of open) {
      if (length < least) [node, least] = [candidate, length];
    }
    if (node < 0) break;
    open.delete(node);
    away.set(node, least);
    for (const s of spansAt.get(node) ?? []) {
      const { a, b, lengthM } = spans[s]!;
      const other = a === node ? b : a;
      const length = least + lengthM;
      if (!away.has(other) && length < (open.get(other) ?? Infinity)) open.set(other, length);
    }
  }
  return away;
}
