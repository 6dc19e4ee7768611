import { greenAmptSoil, type Texture } from '../../catalog/index.ts';
import type { Soil } from '../../plan/records.ts';
import { frontOf, timeToPondingH, USUAL_SATURATION } from './green-ampt.ts';
import { textureOf } from './texture.ts';

/** How long a steady rate can go on until water stands. */
export interface Ponding {
  /** By the published means of the texture, minutes; `null`: never. */
  readonly minutes: number | null;
  /**
   * The same with the intake measured on the site as conductivity, which then is the better figure; `null` where
   * no intake was measured.
   */
  readonly withMeasuredIntake: { readonly minutes: number | null } | null;
  readonly texture: Texture;
  readonly source: string;
  readonly caution: string;
}

/**
 * Minutes until water stands on the soil at a steady rate in mm/h, after Green and Ampt, its pores half full unless
 * told. `null` where the texture is not known. A measured landscape fabric that lets through less ponds at once.
 */
export function pondingOf(soil: Soil, rateMmPerH: number, saturation = USUAL_SATURATION): Ponding | null {
  const { texture } = textureOf(soil);
  if (!texture) return null;
  const front = frontOf(texture, saturation);
  const fabric = soil.fabricIntakeMmPerH;
  const onFabric = fabric !== null && fabric < rateMmPerH;
  const measured = soil.intakeMmPerH;
  const minutesWith = (conductivityMmPerH: number): number | null => {
    if (onFabric) return 0;
    const hours = timeToPondingH({ ...front, conductivityMmPerH }, rateMmPerH);
    return hours === null ? null : 60 * hours;
  };
  return {
    minutes: minutesWith(front.conductivityMmPerH),
    withMeasuredIntake: measured === null ? null : { minutes: minutesWith(measured) },
    texture,
    source: greenAmptSoil(texture).source,
    caution: [
      ...(onFabric ? ['The landscape fabric lets through less than this rate.'] : []),
      ...(texture === 'silt' ? ['The source has no row for silt: that of silt loam is used.'] : []),
      'Means of a texture, not of this site: crust, compaction and slope make water stand sooner.',
    ].join(' '),
  };
}
