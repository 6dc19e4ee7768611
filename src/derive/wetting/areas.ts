import { memo } from '../../base/memo.ts';
import type { Point } from '../../base/point.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { OutletState } from '../results.ts';
import { wetRadiusM, wettingBasis, type WettingBasis } from './basis.ts';

/** An outlet as far as the soil below it is concerned: one of a network, or one of its results. */
export interface WettingOutlet {
  readonly at: Point;
  readonly ratedFlowLph: number;
  /** As solved; the rated flow is taken without. */
  readonly flowLph?: number;
  readonly state?: OutletState;
}

export type WettingPlan = Pick<Plan, 'soil' | 'supplies' | 'levels' | 'falls'>;

/** The wet ground below outlets: ellipses in plan, in the order of the outlets. */
export interface WettedAreas {
  readonly count: number;
  /** Middles, metres. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Half axes along the fall of the ground and across it, metres; both 0 where nothing gets wet. */
  readonly alongM: Float64Array;
  readonly acrossM: Float64Array;
  /** Direction of the fall, degrees counter-clockwise from east; 0 on level ground. */
  readonly fallDeg: Float64Array;
  readonly basis: WettingBasis;
}

/** How far the middle moves downhill: this share of the radius, times the slope, up to a slope of 1 in 1. */
const SHIFT_SHARE = 0.5;
const MOST_SLOPE = 1;
export const SHIFT_SOURCE =
  'common practice: water moves downhill; here half the radius times the slope, stretched by half of that at the same area';

/** The slope is looked up once for each square of ground of this width, metres. */
const SQUARE_M = 0.5;

/**
 * What an outlet is taken to give, L/h: its flow as solved. One that is not joined to a supply yet counts with its
 * rated flow, since that it has no water is told elsewhere; one that is dry gives nothing.
 */
export function wettingFlowLph({ flowLph, state, ratedFlowLph }: WettingOutlet): number {
  if (state === 'dry') return 0;
  if (state === 'apart' || flowLph === undefined || Number.isNaN(flowLph)) return ratedFlowLph;
  return flowLph;
}

/**
 * The ground that gets wet below each outlet. The radius follows from soil, flow and time (`wettingBasis`); on a slope
 * the circle moves downhill by half its radius times the slope and is stretched along the fall by half of that, at the
 * same area. Remembered for the same outlets and tables.
 */
export function wettedAreas(plan: WettingPlan, outlets: readonly WettingOutlet[]): WettedAreas {
  return remembered(outlets, plan.soil, plan.supplies, plan.levels, plan.falls);
}

const remembered = memo(
  (
    outlets: readonly WettingOutlet[],
    soil: Plan['soil'],
    supplies: Plan['supplies'],
    levels: Plan['levels'],
    falls: Plan['falls'],
  ): WettedAreas => {
    const basis = wettingBasis({ soil, supplies });
    const ground = groundOf({ levels, falls });
    const count = outlets.length;
    const areas: WettedAreas = {
      count,
      x: new Float64Array(count),
      y: new Float64Array(count),
      alongM: new Float64Array(count),
      acrossM: new Float64Array(count),
      fallDeg: new Float64Array(count),
      basis,
    };
    const radii = new Map<number, number>();
    const slopes = new Map<number, { readonly slope: number; readonly fallDeg: number }>();
    for (let i = 0; i < count; i++) {
      const outlet = outlets[i]!;
      const [x, y] = outlet.at;
      areas.x[i] = x;
      areas.y[i] = y;
      // A tenth of a millilitre an hour is nothing; outlets of one kind then share their sum.
      const flowLph = Math.round(wettingFlowLph(outlet) * 1e3) / 1e3;
      let radiusM = radii.get(flowLph);
      if (radiusM === undefined) radii.set(flowLph, (radiusM = wetRadiusM(basis, flowLph)));
      areas.alongM[i] = radiusM;
      areas.acrossM[i] = radiusM;
      if (ground.knows !== 'slope' || radiusM === 0) continue;
      const key = Math.floor(x / SQUARE_M) * 1e6 + Math.floor(y / SQUARE_M);
      let here = slopes.get(key);
      if (!here) {
        const { percent, fallDeg } = ground.slopeAt(outlet.at);
        const slope = Number.isFinite(percent) ? Math.min(MOST_SLOPE, percent / 100) : 0;
        slopes.set(key, (here = { slope, fallDeg }));
      }
      if (here.slope === 0) continue;
      const shiftM = SHIFT_SHARE * radiusM * here.slope;
      const turn = (here.fallDeg * Math.PI) / 180;
      areas.x[i] = x + shiftM * Math.cos(turn);
      areas.y[i] = y + shiftM * Math.sin(turn);
      areas.alongM[i] = radiusM + shiftM / 2;
      areas.acrossM[i] = (radiusM * radiusM) / (radiusM + shiftM / 2);
      areas.fallDeg[i] = here.fallDeg;
    }
    return areas;
  },
);
