import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import type { Region } from '../../base/clip.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import { SegmentIndex } from '../../base/segment-index.ts';
import { FIRST_ROW } from '../../catalog/index.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { surfacesOf } from '../existing/coverage/surfaces.ts';
import type { PlacedOutlet } from '../results.ts';
import { agree, counted } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { byBed, rowsOf, type RowPlace } from './drip-rows.ts';
import { bedNames } from './lower-third-spacing.ts';

const SOURCE = FIRST_ROW.source;

const LEAST: Limit = {
  key: 'first-row.least',
  label: 'First row from paving, at least',
  kind: 'spacing',
  usual: FIRST_ROW.leastM,
  least: 0,
  most: 2,
  source: SOURCE,
};
const MOST: Limit = {
  key: 'first-row.most',
  label: 'First row from paving, at most',
  kind: 'spacing',
  usual: FIRST_ROW.mostM,
  least: 0,
  most: 3,
  source: SOURCE,
};

/** A bed this near to paving or a wall borders on it, metres. */
const BORDERS_M = 0.1;
/** Places looked at along such an edge, metres. */
const STEP_M = 0.5;
/** What a ruler reads, metres. */
const SLACK_M = 0.005;
/** Corners and ends of rows lie a little farther off: so much of an edge has to be too far away, share. */
const MANY = 0.15;

type Segment = readonly [Point, Point];
interface Edge {
  readonly bedId: string;
  readonly at: Point;
  /** Nearest tubing in plan, metres; Infinity for none within reach. */
  readonly awayM: number;
}

const edgesOf = (region: Region): Segment[] =>
  region.flatMap((ring) => ring.map((p, i): Segment => [p, ring[(i + 1) % ring.length]!]));
const piecesOf = ({ path }: Run): Segment[] => path.slice(1).map((p, i): Segment => [path[i]!, p]);

/** Finds the nearest of many straight pieces within a reach. */
class Nearest {
  private readonly boxes: Flatbush | null;
  constructor(private readonly pieces: readonly Segment[]) {
    this.boxes = pieces.length > 0 ? new Flatbush(pieces.length) : null;
    for (const [a, b] of pieces) {
      this.boxes?.add(Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1]));
    }
    this.boxes?.finish();
  }
  /** Distance of the nearest piece; Infinity where none is within reach. */
  awayM([x, y]: Point, reach: number): number {
    let best = Infinity;
    for (const i of this.boxes?.search(x - reach, y - reach, x + reach, y + reach) ?? []) {
      const [a, b] = this.pieces[i]!;
      best = Math.min(best, nearestOnSegment(a, b, [x, y]).distance);
    }
    return best <= reach ? best : Infinity;
  }
}

/** A place on a row that lies too near to paving or a wall. */
interface NearPlace {
  readonly runId: string;
  readonly at: Point;
}

/**
 * Edges of beds with rows along paving and walls, with the tubing nearest to them; rows that lie too near, by their
 * middles, their emitters and the ends that are joined to nothing. Edges are those of the ground as it is seen from above:
 * round a bed that is an island in paving, and on both sides of a walk across a bed.
 */
const looked = memo(
  (
    areas: Plan['areas'],
    runs: Plan['runs'],
    controls: Plan['controls'],
    places: readonly RowPlace[],
    outlets: readonly PlacedOutlet[],
    leastM: number,
    mostM: number,
  ) => {
    const near: NearPlace[] = [];
    const far: Edge[] = [];
    const ground = surfacesOf({ areas });
    const hard = [...edgesOf(ground.building), ...edgesOf(ground.paving)];
    if (hard.length === 0 || places.length === 0) return { near, far };
    const paving = new Nearest(hard);
    const isNear = (at: Point): boolean => paving.awayM(at, leastM) < leastM - SLACK_M;
    const rows = new Map(places.map(({ run }) => [run.id, run]));
    const ends = [...rows.values()].flatMap(({ id, path }) =>
      freeEnds(path).map((at) => ({ runId: id, at })),
    );
    const endsNear = ends.filter(({ at }) => isNear(at));
    const isJoined = endsNear.length > 0 ? jointFinder(runs, controls) : () => false;
    near.push(...endsNear.filter(({ runId, at }) => !isJoined(runId, at)));
    for (const { owner, at } of outlets)
      if (owner.table === 'runs' && rows.has(owner.id) && isNear(at)) near.push({ runId: owner.id, at });
    for (const { run, at } of places) if (isNear(at)) near.push({ runId: run.id, at });
    const tubing = new Nearest([...runs].flatMap(piecesOf));
    const inBeds = byBed(places);
    for (const bed of ground.beds) {
      if (!inBeds.has(bed.id)) continue;
      let count = 0;
      const own: Edge[] = [];
      for (const [a, b] of edgesOf(bed.region)) {
        const steps = Math.max(1, Math.round(distance(a, b) / STEP_M));
        for (let k = 0; k < steps; k++) {
          const at = between(a, b, (k + 0.5) / steps);
          if (paving.awayM(at, BORDERS_M) === Infinity) continue;
          count++;
          const awayM = tubing.awayM(at, mostM + SLACK_M);
          if (awayM === Infinity) own.push({ bedId: bed.id, at, awayM });
        }
      }
      if (own.length > MANY * count) far.push(...own);
    }
    return { near, far };
  },
);

/** Both ends of a path that does not come back to its start. */
const freeEnds = (path: Path): readonly Point[] => {
  const [first, last] = [path[0], path.at(-1)];
  return first && last && distance(first, last) > JOINT_TOLERANCE_M ? [first, last] : [];
};

/** Tells whether a place on a run is a joint to another run, or to a control set. */
function jointFinder(runs: Plan['runs'], controls: Plan['controls']): (runId: string, at: Point) => boolean {
  const index = new SegmentIndex(runs);
  return (runId, at) =>
    index.passing(at, JOINT_TOLERANCE_M).some((id) => id !== runId) ||
    [...controls].some((one) => distance(one.at, at) <= JOINT_TOLERANCE_M);
}

/** Too near to paving water runs onto it; too far off the edge of the bed stays dry. */
export const firstRowHardscape: Rule = {
  number: 30,
  title: 'First row from paving and walls',
  says: ['first-row-near', 'first-row-far'],
  severity: 'warning',
  limits: [LEAST, MOST],
  source: SOURCE,
  check: ({ plan, planNetwork, units, limit }) => {
    const { near, far } = looked(
      plan.areas,
      plan.runs,
      plan.controls,
      rowsOf(plan),
      planNetwork.outlets,
      limit(LEAST),
      limit(MOST),
    );
    const runs = [...new Map(near.map(({ runId, at }) => [runId, at]))];
    const beds = [...new Set(far.map(({ bedId }) => bedId))].map((id) => ({ id }));
    return [
      ...(runs.length > 0
        ? [
            {
              rule: 'first-row-near',
              severity: 'warning' as const,
              message: `${counted(runs.length, 'run')} of dripline ${agree(runs.length, 'lies', 'lie')} nearer than ${formatQuantity('spacing', limit(LEAST), units)} to paving or a wall: water runs onto it. Move ${agree(runs.length, 'it', 'them')} in, usually ${formatQuantity('spacing', FIRST_ROW.edgeM, units)} from the edge.`,
              refs: runs.map(([id]) => ({ table: 'runs', id }) as const),
              places: runs.map(([, at]) => at),
              source: SOURCE,
            },
          ]
        : []),
      ...(beds.length > 0
        ? [
            {
              rule: 'first-row-far',
              severity: 'warning' as const,
              message: `Along paving or a wall the first tubing in ${agree(beds.length, 'bed', 'beds')} ${bedNames(plan, beds)} lies farther than ${formatQuantity('spacing', limit(MOST), units)} from the edge: hot edges dry out first. Lay a row ${formatQuantity('spacing', FIRST_ROW.edgeM, units)} from it.`,
              refs: beds.map(({ id }) => ({ table: 'areas', id }) as const),
              places: far.slice(0, 40).map(({ at }) => at),
              source: SOURCE,
            },
          ]
        : []),
    ];
  },
};
