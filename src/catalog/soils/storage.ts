import { INCH_MM } from '../../base/units.ts';
import type { Sourced } from '../source.ts';
import type { Texture } from './textures.ts';

/** Water that the surface holds before it runs off, by the kind of ground, mm. */
export interface SurfaceStorage extends Sourced {
  readonly ground: 'desert landscape' | 'lawn';
  readonly depthMm: number;
}

const maricopa = 'Drainage Design Manual of Maricopa County, hydrology, Table 4.1: surface retention loss';

export const SURFACE_STORAGE: readonly SurfaceStorage[] = [
  { ground: 'desert landscape', depthMm: 0.1 * INCH_MM, source: maricopa },
  { ground: 'lawn', depthMm: 0.2 * INCH_MM, source: maricopa },
];

/** Basic intake and the water that may stand on the ground while it soaks in, by slope; mm/h and mm. */
export interface SoakingSoil extends Sourced {
  readonly texture: Texture;
  readonly intakeMmPerH: number;
  /** On 0 to 3, 4 to 6, 7 to 12, and 13 percent or more. */
  readonly standingMm: readonly [number, number, number, number];
}

/** From memory throughout; the row of clay is the least certain. */
export const SOAKING_SOURCE =
  'public test protocol for climatologically based irrigation controllers: basic intake and allowable surface accumulation';

const soaking = (
  texture: Texture,
  intakeInPerH: number,
  ...standingIn: readonly [number, number, number, number]
): SoakingSoil => ({
  texture,
  intakeMmPerH: intakeInPerH * INCH_MM,
  standingMm: standingIn.map((depth) => depth * INCH_MM) as [number, number, number, number],
  source: SOAKING_SOURCE,
});

export const SOAKING_SOILS: readonly SoakingSoil[] = [
  soaking('clay', 0.1, 0.2, 0.15, 0.1, 0.1),
  soaking('silty clay', 0.15, 0.23, 0.19, 0.16, 0.13),
  soaking('clay loam', 0.2, 0.26, 0.22, 0.18, 0.15),
  soaking('loam', 0.35, 0.3, 0.25, 0.21, 0.17),
  soaking('sandy loam', 0.4, 0.33, 0.29, 0.24, 0.2),
  soaking('loamy sand', 0.5, 0.36, 0.3, 0.26, 0.22),
  soaking('sand', 0.6, 0.4, 0.35, 0.3, 0.25),
];
