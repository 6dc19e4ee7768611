import type { Sourced } from '../source.ts';
import type { Texture } from './textures.ts';

/** Shares of sand, silt and clay by weight, percent. */
export interface Shares {
  readonly sand: number;
  readonly silt: number;
  readonly clay: number;
}

/** The limits of the classes are from memory. */
export const TRIANGLE_SOURCE = 'USDA Soil Survey Manual, Handbook 18 (2017), chapter 3: texture classes';

/**
 * Texture class of shares that add up to 100 percent, by the USDA triangle. Every point of the triangle has exactly
 * one class: the first of the rules that fits. Source: `TRIANGLE_SOURCE`, limits from memory.
 */
export function textureOfShares({ sand, silt, clay }: Shares): Texture {
  if (clay >= 40) return silt >= 40 ? 'silty clay' : sand > 45 ? 'sandy clay' : 'clay';
  if (clay >= 35 && sand > 45) return 'sandy clay';
  if (clay >= 27) return sand > 45 ? 'sandy clay loam' : sand > 20 ? 'clay loam' : 'silty clay loam';
  if (silt >= 80 && clay < 12) return 'silt';
  if (silt >= 50) return 'silt loam';
  if (clay >= 20 && silt < 28) return 'sandy clay loam';
  if (clay >= 7 && sand <= 52) return 'loam';
  if (silt + 1.5 * clay < 15) return 'sand';
  if (silt + 2 * clay < 30) return 'loamy sand';
  return 'sandy loam';
}

/** Part of the triangle that a class takes up: corners as sand and clay, percent; silt is the rest. */
export interface TriangleRegion extends Sourced {
  readonly texture: Texture;
  readonly corners: readonly (readonly [sand: number, clay: number])[];
}

const region = (texture: Texture, ...corners: (readonly [number, number])[]): TriangleRegion => ({
  texture,
  corners,
  source: TRIANGLE_SOURCE,
});

/** The triangle cut into its classes, for drawing. */
export const TRIANGLE_REGIONS: readonly TriangleRegion[] = [
  region('sand', [100, 0], [90, 10], [85, 0]),
  region('loamy sand', [85, 0], [90, 10], [85, 15], [70, 0]),
  region('sandy loam', [70, 0], [85, 15], [80, 20], [52, 20], [52, 7], [43, 7], [50, 0]),
  region('loam', [43, 7], [52, 7], [52, 20], [45, 27], [23, 27]),
  region('silt loam', [50, 0], [43, 7], [23, 27], [0, 27], [0, 12], [8, 12], [20, 0]),
  region('silt', [20, 0], [8, 12], [0, 12], [0, 0]),
  region('sandy clay loam', [80, 20], [65, 35], [45, 35], [45, 27], [52, 20]),
  region('clay loam', [45, 27], [45, 40], [20, 40], [20, 27]),
  region('silty clay loam', [20, 27], [20, 40], [0, 40], [0, 27]),
  region('sandy clay', [65, 35], [45, 55], [45, 35]),
  region('silty clay', [20, 40], [0, 60], [0, 40]),
  region('clay', [45, 40], [45, 55], [0, 100], [0, 60], [20, 40]),
];
