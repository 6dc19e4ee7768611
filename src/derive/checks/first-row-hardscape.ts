import Flatbush from 'flatbush';
import { memo } from '../../base/memo.ts';
import { between, distance, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import { FIRST_ROW } from '../../catalog/index.ts';
import { formatQuantity } from '../../base/quantity.ts';
import type { Area, Plan } from '../../plan/records.ts';
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

const segmentsOf = (areas: readonly Area[]): Segment[] =>
  areas.flatMap(({ outline, holes }) =>
    [outline, ...holes].flatMap((ring) => ring.map((p, i): Segment => [p, ring[(i + 1) % ring.length]!])),
  );

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
  awayM([x, y]: Point, reach: number): number {
    let best = Infinity;
    for (const i of this.boxes?.search(x - reach, y - reach, x + reach, y + reach) ?? []) {
      const [a, b] = this.pieces[i]!;
      best = Math.min(best, nearestOnSegment(a, b, [x, y]).distance);
    }
    return best <= reach ? best : Infinity;
  }
}

/** Edges of beds with rows along paving and walls, with the tubing nearest to them; rows that lie too near. */
const looked = memo(
  (areas: Plan['areas'], runs: Plan['runs'], places: readonly RowPlace[], leastM: number, mostM: number) => {
    const hard = [...areas].filter(({ use }) => use === 'paving' || use === 'building');
    if (hard.length === 0) return { near: [] as RowPlace[], far: [] as Edge[] };
    const paving = new Nearest(segmentsOf(hard));
    const near = places.filter(({ at }) => paving.awayM(at, leastM) < leastM - SLACK_M);
    const tubing = new Nearest(
      [...runs].flatMap(({ path }) => path.slice(1).map((p, i): Segment => [path[i]!, p])),
    );
    const far: Edge[] = [];
    const inBeds = byBed(places);
    for (const bed of areas) {
      if (bed.use !== 'bed' || !inBeds.has(bed.id)) continue;
      let count = 0;
      const own: Edge[] = [];
      for (const [a, b] of segmentsOf([bed])) {
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

/** Too near to paving water runs onto it; too far off the edge of the bed stays dry. */
export const firstRowHardscape: Rule = {
  number: 30,
  title: 'First row from paving and walls',
  says: ['first-row-near', 'first-row-far'],
  severity: 'warning',
  limits: [LEAST, MOST],
  source: SOURCE,
  check: ({ plan, units, limit }) => {
    const { near, far } = looked(plan.areas, plan.runs, rowsOf(plan), limit(LEAST), limit(MOST));
    const runs = [...new Map(near.map(({ run, at }) => [run.id, at]))];
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
