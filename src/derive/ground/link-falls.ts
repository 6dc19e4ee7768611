import { distance, type Point } from '../../base/point.ts';
import { FALL_TOLERANCE_M as SAME_PLACE_M } from '../../plan/joining.ts';
import type { Fall, Level } from '../../plan/records.ts';
import { groupsOf, heightsOf, type Closure, type Group, type Link } from './adjust-heights.ts';
import { spotsOf, type Spot } from './spots.ts';
import { surfaceOf } from './surface-of.ts';

/** A ring of falls, or a chain of them between two levels, that does not come out. */
export interface FallClosure {
  readonly falls: readonly string[];
  /** Whether the chain ends on levels; else it runs back into itself. */
  readonly betweenLevels: boolean;
  /** By how much the heights differ after going round, metres, above zero. */
  readonly misclosureM: number;
}

/** Heights that follow from levels and falls. */
export interface LinkedHeights {
  /** Places of known height: the levels, then the ends of falls that lie on none. */
  readonly spots: readonly Spot[];
  readonly closures: readonly FallClosure[];
  /** Groups of falls that touch no level: each was laid on the ground of the others at `at`. */
  readonly laidOn: readonly { readonly falls: readonly string[]; readonly at: Point }[];
  /** Falls that say nothing: their ends are one place, or a figure is no number. */
  readonly leftOut: readonly string[];
}

/** How far a fall goes down from its start to its end, metres; a slope counts over the distance in plan. */
export function dropOf({ from, to, by }: Fall): number {
  return by.kind === 'drop' ? by.dropM : (by.percent / 100) * distance(from, to);
}

/** Slope of a fall from its start to its end, percent of the distance in plan; negative is a rise. */
export function percentOf(fall: Fall): number {
  return fall.by.kind === 'slope' ? fall.by.percent : (fall.by.dropM / distance(fall.from, fall.to)) * 100;
}

/**
 * Joins falls to levels and to each other where their ends meet, and gives each end its height. Levels stay as they
 * are; where more is measured than needed, the differences are shared out by least squares, a fall's weight falling
 * with its length (usual in levelling; from memory). Without any level the upper end of the first fall is the datum, 0.
 * The order of the tables never matters.
 */
export function linkFalls(levels: Iterable<Level>, falls: Iterable<Fall>): LinkedHeights {
  const fixed = spotsOf(levels);
  const sorted = [...falls].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
  if (sorted.length === 0) return { spots: fixed, closures: [], laidOn: [], leftOut: [] };
  const places = new Places(fixed);
  const leftOut: string[] = [];
  const links: Link[] = [];
  for (const fall of sorted) {
    const dropM = dropOf(fall);
    const lengthM = distance(fall.from, fall.to);
    if (!(lengthM > SAME_PLACE_M) || !Number.isFinite(dropM) || !Number.isFinite(lengthM)) {
      leftOut.push(fall.id);
      continue;
    }
    const from = places.at(fall.from);
    const to = places.at(fall.to);
    if (from === to) leftOut.push(fall.id);
    else links.push({ id: fall.id, from, to, dropM, lengthM });
  }
  const spots = [...fixed];
  const closures: FallClosure[] = [];
  const settle = (group: Group, given: ReadonlyMap<number, number>): ReadonlyMap<number, number> => {
    const found = heightsOf(group, given);
    closures.push(...found.closures.map(closureOf));
    return found.zM;
  };
  const place = ({ nodes }: Group, zM: ReadonlyMap<number, number>, shiftM = 0) => {
    for (const node of nodes) {
      if (node >= fixed.length) spots.push({ ...places.where(node), zM: zM.get(node)! + shiftM });
    }
  };
  const loose: Group[] = [];
  for (const group of groupsOf(links)) {
    const given = new Map(
      group.nodes.filter((node) => node < fixed.length).map((node) => [node, fixed[node]!.zM]),
    );
    if (given.size > 0) place(group, settle(group, given));
    else loose.push(group);
  }
  if (spots.length === 0 && loose.length > 0) {
    const first = loose.shift()!;
    const { from, to } = first.links[0]!;
    const zM = settle(first, new Map([[from, 0]]));
    place(first, zM, -Math.max(0, zM.get(to)!));
  }
  const ground = surfaceOf(spots);
  const laidOn = loose.map((group) => {
    const { from } = group.links[0]!;
    const { x, y } = places.where(from);
    place(group, settle(group, new Map([[from, ground.heightAt([x, y]).zM]])));
    return { falls: group.links.map(({ id }) => id), at: [x, y] as Point };
  });
  return { spots, closures, laidOn, leftOut };
}

function closureOf({ links, betweenGiven, misclosureM }: Closure): FallClosure {
  return { falls: links, betweenLevels: betweenGiven, misclosureM };
}

/** Places by number: the levels first, then the ends of falls as they come. */
class Places {
  private readonly spots: { readonly x: number; readonly y: number }[] = [];
  private readonly cells = new Map<string, number[]>();

  constructor(private readonly fixed: readonly Spot[]) {
    for (const { x, y } of fixed) this.add(x, y);
  }

  where(node: number): { readonly x: number; readonly y: number } {
    const { x, y } = this.spots[node]!;
    return { x, y };
  }

  /** The number of the place that is meant: the nearest level within reach, else the nearest end, else a new one. */
  at([x, y]: Point): number {
    let best = -1;
    let bestM = Infinity;
    const cellX = Math.floor(x / SAME_PLACE_M);
    const cellY = Math.floor(y / SAME_PLACE_M);
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const node of this.cells.get(`${cellX + dx},${cellY + dy}`) ?? []) {
          const far = Math.hypot(this.spots[node]!.x - x, this.spots[node]!.y - y);
          // Levels go before ends: any level within reach is nearer than any end.
          const rank = node < this.fixed.length ? far - 1 : far;
          if (far <= SAME_PLACE_M && rank < bestM) {
            best = node;
            bestM = rank;
          }
        }
      }
    }
    return best >= 0 ? best : this.add(x, y);
  }

  private add(x: number, y: number): number {
    const node = this.spots.push({ x, y }) - 1;
    const key = `${Math.floor(x / SAME_PLACE_M)},${Math.floor(y / SAME_PLACE_M)}`;
    const cell = this.cells.get(key);
    if (cell) cell.push(node);
    else this.cells.set(key, [node]);
    return node;
  }
}
