import { INCH_MM } from '../../base/units.ts';
import type { IntakeGround, TableIntake } from './ground.ts';
import type { Texture } from './textures.ts';

/** A row of the chart: flat ground, in/h; the first figure is the finest of the grades of the class. */
interface ChartRow {
  readonly texture: Texture;
  readonly flatInPerH: readonly [low: number, high: number];
  readonly standIn?: string;
}

/**
 * Fourteen textures on flat ground, in/h: coarse, medium and fine sand 1.25, 1.06 and 0.94; sandy loam, fine and very
 * fine sandy loam 0.75, 0.63 and 0.59. From memory but for clay. A class between two rows takes the slower one.
 */
export const CHART_ROWS: readonly ChartRow[] = [
  { texture: 'sand', flatInPerH: [0.94, 1.25] },
  { texture: 'loamy sand', flatInPerH: [0.88, 0.88] },
  { texture: 'sandy loam', flatInPerH: [0.59, 0.75] },
  { texture: 'loam', flatInPerH: [0.54, 0.54] },
  { texture: 'silt loam', flatInPerH: [0.5, 0.5] },
  { texture: 'silt', flatInPerH: [0.44, 0.44] },
  { texture: 'sandy clay loam', flatInPerH: [0.25, 0.25], standIn: 'clay loam' },
  { texture: 'clay loam', flatInPerH: [0.25, 0.25] },
  { texture: 'silty clay loam', flatInPerH: [0.19, 0.19], standIn: 'silty clay' },
  { texture: 'sandy clay', flatInPerH: [0.31, 0.31] },
  { texture: 'silty clay', flatInPerH: [0.19, 0.19] },
  { texture: 'clay', flatInPerH: [0.13, 0.13] },
];

/** Shares that are left on slopes of 0 to 4, 5 to 8, 8 to 12, 12 to 16 and over 16 percent; from memory. */
export function chartSlopeFactor(slopePercent: number): number {
  // A computed slope may miss the limit on which it lies by its rounding.
  const slope = slopePercent + 1e-9;
  if (slope >= 16) return 0.25;
  if (slope >= 12) return 0.4;
  if (slope >= 8) return 0.6;
  return slopePercent > 4 + 1e-9 ? 0.8 : 1;
}

/** Intake by the chart, mm/h. */
export function textureChart({ texture, slopePercent }: IntakeGround): TableIntake {
  const row = CHART_ROWS.find((entry) => entry.texture === texture)!;
  const factor = chartSlopeFactor(slopePercent) * INCH_MM;
  const [low, high] = row.flatInPerH;
  return { lowMmPerH: low * factor, highMmPerH: high * factor, standIn: row.standIn ?? null };
}
