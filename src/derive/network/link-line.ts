import { between, type Point } from '../../base/point.ts';
import type { LineValve } from './check-valves.ts';
import type { Line } from './lines.ts';
import type { NetworkDraft } from './network-draft.ts';
import type { PlacedPiece } from '../results.ts';
import type { LineStops } from './stops.ts';

/** By run: its ends as nodes, with the pieces of tubing there and their places. */
export type RunEnds = Map<string, { readonly start: RunEnd; readonly end: RunEnd }>;
export interface RunEnd {
  readonly node: number;
  readonly link: number;
  readonly at: Point;
}

/** A check valve keeps at least this far from the stops beside it, metres, where there is room. */
const CLEAR_OF_STOPS = 0.001;

/**
 * Lays the pieces of a line from stop to stop, and sets its check valves between them: each parts the line into two
 * nodes and lets water pass in the direction of the path. Gives the nodes that the valves have added.
 * @param nodes those of the stops begin at `base`
 * @param valves in the order of the path
 */
export function linkLine(
  line: Line,
  { stops, pieces }: LineStops,
  nodes: Int32Array,
  base: number,
  valves: readonly LineValve[],
  draft: NetworkDraft,
  ends: RunEnds,
): readonly number[] {
  const added: number[] = [];
  const { owner, boreM, roughnessM } = line;
  let valve = 0;
  let first = -1;
  let last = -1;
  const pipe = (from: number, to: number, lengthM: number, piece: PlacedPiece): void => {
    last = draft.pipe(from, to, lengthM, boreM, roughnessM, piece);
    if (first < 0) first = last;
  };
  for (let k = 0; k + 1 < stops.length; k++) {
    const from = stops[k]!;
    const to = stops[k + 1]!;
    const isLast = k + 2 === stops.length;
    const lengthM = to.groundAlong - from.groundAlong;
    const start = nodes[base + k]!;
    const end = nodes[base + k + 1]!;
    let node = start;
    let done = 0;
    let place = from.point;
    for (; valve < valves.length && (isLast || valves[valve]!.groundAlong < to.groundAlong); valve++) {
      const own = valves[valve]!;
      if (start === end) continue;
      const clear = Math.min(CLEAR_OF_STOPS, lengthM / 4);
      const along = Math.min(lengthM - clear, Math.max(clear, own.groundAlong - from.groundAlong, done));
      const share = along / lengthM;
      const at = between(from.point, to.point, share);
      const zM = from.zM + share * (to.zM - from.zM);
      let before = node;
      // Two valves in one place share a node; no pipe lies between them.
      if (along - done > 1e-9) {
        before = draft.node(zM);
        added.push(before);
        pipe(node, before, along - done, { owner, a: place, b: at });
      }
      node = draft.node(zM);
      added.push(node);
      own.place(before, node, at, draft);
      done = along;
      place = at;
    }
    if (start === end) continue;
    const isWhole = node === start;
    const piece = isWhole
      ? (pieces[k] ??= { owner, a: place, b: to.point })
      : { owner, a: place, b: to.point };
    pipe(node, end, lengthM - done, piece);
  }
  if (line.isRun && first >= 0) {
    const end = stops.length - 1;
    ends.set(owner.id, {
      start: { node: nodes[base]!, link: first, at: stops[0]!.point },
      end: { node: nodes[base + end]!, link: last, at: stops[end]!.point },
    });
  }
  return added;
}
