import type { Sourced } from '../source.ts';
import type { Texture } from './textures.ts';

/** Mean soil water properties of a texture class after Green and Ampt. */
export interface GreenAmptSoil extends Sourced {
  readonly texture: Texture;
  /** Share of the soil that is pores. */
  readonly porosity: number;
  /** Share of the soil that water can fill and leave. */
  readonly effectivePorosity: number;
  /** Suction at the wetting front, mm. */
  readonly suctionMm: number;
  /** Hydraulic conductivity, mm/h. */
  readonly conductivityMmPerH: number;
}

const source = 'Rawls, Brakensiek and Miller 1983, J. Hydraul. Eng. 109:62-70';

const soil = (
  texture: Texture,
  porosity: number,
  effectivePorosity: number,
  suctionCm: number,
  conductivityCmPerH: number,
): GreenAmptSoil => ({
  texture,
  porosity,
  effectivePorosity,
  suctionMm: 10 * suctionCm,
  conductivityMmPerH: 10 * conductivityCmPerH,
  source,
});

/** The published table in its own centimetres; it has no row for silt. */
export const GREEN_AMPT_SOILS: readonly GreenAmptSoil[] = [
  soil('sand', 0.437, 0.417, 4.95, 11.78),
  soil('loamy sand', 0.437, 0.401, 6.13, 2.99),
  soil('sandy loam', 0.453, 0.412, 11.01, 1.09),
  soil('loam', 0.463, 0.434, 8.89, 0.34),
  soil('silt loam', 0.501, 0.486, 16.68, 0.65),
  soil('sandy clay loam', 0.398, 0.33, 21.85, 0.15),
  soil('clay loam', 0.464, 0.309, 20.88, 0.1),
  soil('silty clay loam', 0.471, 0.432, 27.3, 0.1),
  soil('sandy clay', 0.43, 0.321, 23.9, 0.06),
  soil('silty clay', 0.479, 0.423, 29.22, 0.05),
  soil('clay', 0.475, 0.385, 31.63, 0.03),
];

/** Properties of a class; silt has none of its own and takes those of silt loam. */
export function greenAmptSoil(texture: Texture): GreenAmptSoil {
  const own = texture === 'silt' ? 'silt loam' : texture;
  return GREEN_AMPT_SOILS.find((entry) => entry.texture === own)!;
}
