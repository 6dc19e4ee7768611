import { memo } from '../../base/memo.ts';
import type { Point, Ring } from '../../base/point.ts';
import { UnionFind } from '../network/union-find.ts';
import type { WettedAreas } from './areas.ts';
import { ellipsesOf, type Ellipses } from './ellipses.ts';
import { NodeField } from './node-field.ts';
import { ringsRound } from './rings-round.ts';

/** Wet ground that hangs together: its rim and the rims of dry islands in it; filled even-odd. */
export interface WetPatch {
  readonly rings: readonly Ring[];
}

/** Corners of the ring of an ellipse that meets no other. */
const CORNERS = 24;
/** Width of the net's meshes, as shares of the narrowest and the widest half axis. */
const OF_NARROWEST = 0.25;
const OF_WIDEST = 0.05;

/**
 * The rim of all wet ground together, so that it can be filled once however much the outlets overlap. Where several meet
 * the rim is read from a net of meshes of a quarter of the smallest radius; it lies off by less than a tenth of that
 * radius but for the sharp corners between two outlets. Remembered.
 */
export const wetOutline: (areas: WettedAreas) => readonly WetPatch[] = memo((areas: WettedAreas) => {
  const wet = ellipsesOf(areas);
  const count = wet.x.length;
  const groups = new UnionFind(count);
  const meshM = meshOf(wet);
  for (let k = 0; k < count; k++) {
    // So far apart that no node of the net is near two groups.
    const [dx, dy] = [wet.halfX[k]! + 4 * meshM, wet.halfY[k]! + 4 * meshM];
    for (const other of wet.near(wet.x[k]! - dx, wet.y[k]! - dy, wet.x[k]! + dx, wet.y[k]! + dy)) {
      if (other > k) groups.join(k, other);
    }
  }
  const sizes = new Int32Array(count);
  for (let k = 0; k < count; k++) sizes[groups.root(k)]! += 1;
  const single: WetPatch[] = [];
  const meeting: number[] = [];
  for (let k = 0; k < count; k++) {
    if (sizes[groups.root(k)] === 1) single.push({ rings: [ringOf(areas, wet.outlet[k]!)] });
    else meeting.push(k);
  }
  return [...single, ...joined(wet, meeting, meshM, (k) => groups.root(k))];
});

function meshOf({ narrowest, halfX, halfY }: Ellipses): number {
  let least = Infinity;
  let widest = 0;
  for (let k = 0; k < narrowest.length; k++) {
    least = Math.min(least, narrowest[k]!);
    widest = Math.max(widest, halfX[k]!, halfY[k]!);
  }
  return Math.max(OF_NARROWEST * least, OF_WIDEST * widest);
}

function joined(
  wet: Ellipses,
  members: readonly number[],
  meshM: number,
  groupOf: (k: number) => number,
): WetPatch[] {
  if (members.length === 0) return [];
  // Counted from the first one, so that plans far from the origin keep their digits.
  const [originX, originY] = [wet.x[members[0]!]!, wet.y[members[0]!]!];
  const field = new NodeField();
  for (const k of members) {
    const [x, y] = [wet.x[k]! - originX, wet.y[k]! - originY];
    const [a, b, c, scale] = [wet.a[k]!, wet.b[k]!, wet.c[k]!, wet.narrowest[k]!];
    const reach = (at: number, half: number): [number, number] => [
      Math.floor((at - half) / meshM) - 1,
      Math.ceil((at + half) / meshM) + 1,
    ];
    field.put(reach(x, wet.halfX[k]!), reach(y, wet.halfY[k]!), groupOf(k), (column, row) => {
      const dx = column * meshM - x;
      const dy = row * meshM - y;
      return (1 - Math.sqrt(a * dx * dx + 2 * b * dx * dy + c * dy * dy)) * scale;
    });
  }
  const patches = new Map<number, Ring[]>();
  for (const { owner, ring } of ringsRound(field, meshM, [originX, originY])) {
    const list = patches.get(owner);
    if (list) list.push(ring);
    else patches.set(owner, [ring]);
  }
  return [...patches.values()].map((rings) => ({ rings }));
}

function ringOf({ x, y, alongM, acrossM, fallDeg }: WettedAreas, i: number): Ring {
  const turn = (fallDeg[i]! * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return Array.from({ length: CORNERS }, (_, k): Point => {
    const angle = (2 * Math.PI * k) / CORNERS;
    const [u, v] = [alongM[i]! * Math.cos(angle), acrossM[i]! * Math.sin(angle)];
    return [x[i]! + u * cos - v * sin, y[i]! + u * sin + v * cos];
  });
}
