import { greenAmptSoil, type Texture } from '../../catalog/index.ts';

/**
 * Infiltration after Green and Ampt: f = K (1 + psi d / F), and K t = F - psi d ln(1 + F / psi d), with the
 * conductivity K, the suction psi, the share d of the soil that water fills, and the depth F soaked in. Formulas and
 * the reckoning over a storm: Chow, Maidment and Mays 1988, Applied Hydrology, sections 4.3, 4.4 and 5.4. A sharp
 * front in even soil without crust or compaction: real beds pond sooner.
 */
export interface WettingFront {
  /** mm/h, 0 or more. */
  readonly conductivityMmPerH: number;
  /** mm, 0 or more. */
  readonly suctionMm: number;
  /** Share of the soil that water fills: (1 - saturation) x effective porosity. */
  readonly moistureDeficit: number;
}

/** Share of the pores that is full already, where it is not known (soil halfway between wet and dry). */
export const USUAL_SATURATION = 0.5;

/** The front in soil of a texture whose pores are filled to a share of 0 to 1. */
export function frontOf(texture: Texture, saturation = USUAL_SATURATION): WettingFront {
  const { conductivityMmPerH, suctionMm, effectivePorosity } = greenAmptSoil(texture);
  const full = Math.min(1, Math.max(0, saturation));
  return { conductivityMmPerH, suctionMm, moistureDeficit: (1 - full) * effectivePorosity };
}

const pull = (front: WettingFront): number => front.suctionMm * front.moistureDeficit;

/** Rate at which soil under water takes it in after a depth in mm has soaked in, mm/h; infinite at first. */
export function infiltrationRate(front: WettingFront, soakedMm: number): number {
  const suction = pull(front);
  if (suction === 0 || front.conductivityMmPerH === 0) return front.conductivityMmPerH;
  return front.conductivityMmPerH * (1 + suction / soakedMm);
}

/** Depth of the wet soil over a depth soaked in, mm; infinite in soil that is full. */
export function frontDepthMm(front: WettingFront, soakedMm: number): number {
  return soakedMm === 0 ? 0 : soakedMm / front.moistureDeficit;
}

/**
 * Depth soaked in, mm, after the ground has stood under water for `hours`, starting from `soakedMm`. Solved by
 * Newton's rule from above, where it closes in from one side.
 */
export function pondedInfiltrationMm(front: WettingFront, hours: number, soakedMm = 0): number {
  const suction = pull(front);
  const drained = front.conductivityMmPerH * Math.max(0, hours);
  if (suction === 0 || drained === 0) return soakedMm + drained;
  let depth = soakedMm + drained + Math.sqrt(2 * suction * drained);
  for (let round = 0; round < 60; round++) {
    const gained = depth - soakedMm;
    const short = gained - suction * Math.log1p(gained / (soakedMm + suction)) - drained;
    const next = depth - short * (1 + suction / depth);
    if (!(next < depth)) break;
    depth = next;
  }
  return depth;
}

/** Depth soaked in when water begins to stand at a steady rate, mm; `null` where it never does. */
export function soakedAtPondingMm(front: WettingFront, rateMmPerH: number): number | null {
  const spare = rateMmPerH - front.conductivityMmPerH;
  return spare > 0 ? (front.conductivityMmPerH * pull(front)) / spare : null;
}

/** Hours until water stands at a steady rate; `null` where it never does: a rate up to the conductivity. */
export function timeToPondingH(front: WettingFront, rateMmPerH: number): number | null {
  const soaked = soakedAtPondingMm(front, rateMmPerH);
  return soaked === null ? null : soaked / rateMmPerH;
}

/** Depth soaked in after `hours` of a steady rate, mm, ponding on the way or not. */
export function infiltrationMm(front: WettingFront, rateMmPerH: number, hours: number): number {
  const ponds = timeToPondingH(front, rateMmPerH);
  if (ponds === null || hours <= ponds) return Math.max(0, rateMmPerH) * Math.max(0, hours);
  return pondedInfiltrationMm(front, hours - ponds, rateMmPerH * ponds);
}

/** A stretch of time with one rate of rain or watering. */
export interface RainStep {
  readonly hours: number;
  readonly rateMmPerH: number;
}

/** What became of the water of a storm or of several waterings. */
export interface Soaked {
  readonly appliedMm: number;
  readonly soakedMm: number;
  /** What stood on the ground and ran off; none is held back in hollows. */
  readonly excessMm: number;
  /** Hours from the start until water first stood; `null` where it never did. */
  readonly pondsAtH: number | null;
  /** Depth soaked in at the end of each step, mm. */
  readonly soakedByStepMm: readonly number[];
}

/** Infiltration under a rate that changes from step to step; what stands at the end of a step has run off. */
export function soakIn(front: WettingFront, steps: readonly RainStep[]): Soaked {
  let soaked = 0;
  let applied = 0;
  let hoursBefore = 0;
  let pondsAtH: number | null = null;
  const soakedByStepMm: number[] = [];
  for (const { hours, rateMmPerH } of steps) {
    const limit = soakedAtPondingMm(front, rateMmPerH);
    const free = limit === null ? Infinity : Math.max(0, (limit - soaked) / rateMmPerH);
    if (free < hours) {
      pondsAtH ??= hoursBefore + free;
      soaked = pondedInfiltrationMm(front, hours - free, soaked + rateMmPerH * free);
    } else soaked += rateMmPerH * hours;
    applied += rateMmPerH * hours;
    hoursBefore += hours;
    soakedByStepMm.push(soaked);
  }
  return { appliedMm: applied, soakedMm: soaked, excessMm: applied - soaked, pondsAtH, soakedByStepMm };
}
