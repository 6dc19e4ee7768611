import { distance, type Point } from '../../base/point.ts';
import { polygonArea, selfCrossings } from '../../base/polygon.ts';
import { groundOf } from '../../derive/ground/index.ts';
import type { Plan } from '../../plan/records.ts';
import { NO_DRAFT, type Draft, type Step, type Tool } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

/** A tape laid out; once ended it lies until the next one is begun. */
export interface Taping extends Trace {
  readonly ended?: 'open' | 'ring';
}

/** One straight piece of the tape. */
export interface TapeLeg {
  readonly from: Point;
  readonly to: Point;
  readonly planM: number;
  /** Null where nothing is known of the ground. */
  readonly groundM: number | null;
  /** How much higher its end is than its start, metres. */
  readonly riseM: number | null;
  /** Rise over distance in plan, percent. */
  readonly slopePercent: number | null;
}

/** What a tape reads. */
export interface TapeReading {
  readonly legs: readonly TapeLeg[];
  readonly planM: number;
  readonly groundM: number | null;
  /** From the first place to the last one; null for a ring. */
  readonly riseM: number | null;
  /** Area in plan of a closed ring, m2; null for an open one and where it crosses itself. */
  readonly areaM2: number | null;
}

/** Reads a tape laid over places of a plan: in plan and, where heights are known, on the ground. */
export function readTape(
  plan: Pick<Plan, 'levels' | 'falls'>,
  points: readonly Point[],
  closed: boolean,
): TapeReading {
  const ground = groundOf(plan);
  const known = ground.knows !== 'nothing';
  const rise = (a: Point, b: Point) => (known ? ground.heightAt(b).zM - ground.heightAt(a).zM : null);
  const ends = closed && points.length > 2 ? [...points, points[0]!] : points;
  const legs = ends.slice(1).map((to, i): TapeLeg => {
    const from = ends[i]!;
    const planM = distance(from, to);
    const riseM = rise(from, to);
    return {
      from,
      to,
      planM,
      groundM: known ? ground.surfaceLength([from, to]) : null,
      riseM,
      slopePercent: riseM === null || planM === 0 ? null : (riseM / planM) * 100,
    };
  });
  return {
    legs,
    planM: legs.reduce((sum, leg) => sum + leg.planM, 0),
    groundM: known ? legs.reduce((sum, leg) => sum + (leg.groundM ?? 0), 0) : null,
    riseM: closed || points.length < 2 ? null : rise(points[0]!, points.at(-1)!),
    areaM2: closed && points.length > 2 && selfCrossings(points).length === 0 ? polygonArea(points) : null,
  };
}

/** The places of a tape as it lies, the pointer among them while it is laid. */
export function tapePlaces({ points, pointer, ended }: Taping): readonly Point[] {
  const last = points.at(-1);
  return ended || !pointer || !last || distance(last, pointer) < 1e-9 ? points : [...points, pointer];
}

function lying({ points, ended }: Taping): Draft {
  return { ...NO_DRAFT, lines: [{ points, closed: ended === 'ring', guide: false }], dots: points };
}

/** Measures on the plan. It is looked at, not kept: Escape takes it away. */
export const tapeTool: Tool<Taping> = {
  name: 'tape',
  start: NO_TRACE,
  handle(state, input, context): Step<Taping> {
    if (state.ended) {
      if (input.kind === 'escape' || input.kind === 'back') return { state: NO_TRACE, draft: NO_DRAFT };
      if (input.kind !== 'down') return { state, draft: lying(state) };
    }
    let finished: readonly Point[] | null = null;
    const step = trace(state.ended ? NO_TRACE : state, input, context, {
      fewest: 2,
      ring: false,
      tooShort: 'A tape needs two places.',
      finish: (points) => {
        finished = points;
        return {};
      },
    });
    const points = finished as readonly Point[] | null;
    if (!points) return step;
    // Ending on the first place closes the ring.
    const ring = points.length > 3 && points.at(-1) === points[0];
    const next: Taping = {
      ...NO_TRACE,
      points: ring ? points.slice(0, -1) : points,
      ended: ring ? 'ring' : 'open',
    };
    return { state: next, draft: lying(next) };
  },
};
