import { distance } from '../../base/point.ts';
import { polygonArea } from '../../base/polygon.ts';
import type { Plan } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import { boreOf, litresIn } from './pipe-bore.ts';

export { boreOf, litresIn, nominalSize, pipeMaterial } from './pipe-bore.ts';

/** The spray zones as they are, in figures. `null` is not known, never zero. */
export interface Existing {
  /** Beds in plan less their holes, m2. */
  readonly bedAreaM2: number;
  /** All heads, whatever they water. */
  readonly headCount: number;
  /** Sum over all heads with a measured flow, L/h; `null` when there are heads and none is measured. */
  readonly totalFlowLph: number | null;
  readonly headsWithoutFlow: number;
  /** Heads that water lawn; their flow is in the total but not in the precipitation. */
  readonly lawnHeadCount: number;
  /** Flow of the heads that water beds over the beds' area in plan, mm/h; `null` without either. */
  readonly precipitationMmPerH: number | null;
  /** Lateral pipe in plan, m. */
  readonly lateralLengthM: number;
  /** The same on the ground between the levels, m. */
  readonly lateralSurfaceLengthM: number;
  /** Water in the lateral pipe of known bore, over its length in plan, L; `null` when no bore is known. */
  readonly lateralVolumeL: number | null;
  /** Ids of the pieces whose size or material tells no bore. */
  readonly lateralsWithoutBore: readonly string[];
  /** Pieces that are drawn but were not found on the ground. */
  readonly assumedLateralCount: number;
  readonly plantCount: number;
}

/**
 * Figures of the existing system. Precipitation is flow over area (1 L/h on 1 m2 is 1 mm/h by definition of the
 * litre); volume is the cross-section of the bore times the length in plan.
 */
export function existingOf(plan: Plan): Existing {
  let bedAreaM2 = 0;
  for (const area of plan.areas) if (area.use === 'bed') bedAreaM2 += polygonArea(area.outline, area.holes);
  return {
    bedAreaM2,
    ...headFigures(plan, bedAreaM2),
    ...lateralFigures(plan),
    plantCount: plan.plants.size,
  };
}

type HeadFigures = Pick<
  Existing,
  'headCount' | 'totalFlowLph' | 'headsWithoutFlow' | 'lawnHeadCount' | 'precipitationMmPerH'
>;

function headFigures({ heads }: Plan, bedAreaM2: number): HeadFigures {
  let total = 0;
  let measured = 0;
  let onBeds = 0;
  let measuredOnBeds = 0;
  let lawnHeadCount = 0;
  for (const { flowLph, waters } of heads) {
    if (waters === 'lawn') lawnHeadCount++;
    if (flowLph === null) continue;
    measured++;
    total += flowLph;
    if (waters !== 'bed') continue;
    measuredOnBeds++;
    onBeds += flowLph;
  }
  return {
    headCount: heads.size,
    totalFlowLph: heads.size > 0 && measured === 0 ? null : total,
    headsWithoutFlow: heads.size - measured,
    lawnHeadCount,
    precipitationMmPerH: bedAreaM2 > 0 && measuredOnBeds > 0 ? onBeds / bedAreaM2 : null,
  };
}

type LateralFigures = Pick<
  Existing,
  | 'lateralLengthM'
  | 'lateralSurfaceLengthM'
  | 'lateralVolumeL'
  | 'lateralsWithoutBore'
  | 'assumedLateralCount'
>;

function lateralFigures({ laterals, levels, falls }: Plan): LateralFigures {
  const ground = groundOf({ levels, falls });
  const lateralsWithoutBore: string[] = [];
  let lateralLengthM = 0;
  let lateralSurfaceLengthM = 0;
  let volumeL = 0;
  let assumedLateralCount = 0;
  for (const pipe of laterals) {
    const lengthM = distance(pipe.a, pipe.b);
    lateralLengthM += lengthM;
    lateralSurfaceLengthM += ground.surfaceLength([pipe.a, pipe.b]);
    if (!pipe.measured) assumedLateralCount++;
    const bore = boreOf(pipe.size, pipe.material);
    if (bore) volumeL += litresIn(bore.innerDiameterMm, lengthM);
    else lateralsWithoutBore.push(pipe.id);
  }
  const noneKnown = laterals.size > 0 && lateralsWithoutBore.length === laterals.size;
  return {
    lateralLengthM,
    lateralSurfaceLengthM,
    lateralVolumeL: noneKnown ? null : volumeL,
    lateralsWithoutBore,
    assumedLateralCount,
  };
}
