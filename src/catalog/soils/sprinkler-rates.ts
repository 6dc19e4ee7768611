import { INCH_MM } from '../../base/units.ts';
import type { IntakeGround, TableIntake } from './ground.ts';
import type { Texture } from './textures.ts';

/** Slopes in which the table has its columns, percent; a slope on a limit counts with the steeper, safer one. */
const SLOPE_FROM = [0, 5, 8, 12] as const;

/** A computed slope may miss the limit on which it lies by so much. */
const ROUNDING_PERCENT = 1e-9;

type Cell = readonly [coveredInPerH: number, bareInPerH: number];
type Row = readonly [Cell, Cell, Cell, Cell];

/** A row of the table, by its own name; in/h. */
export interface SprinklerRow {
  readonly soil: string;
  readonly textures: readonly Texture[];
  readonly uniform: Row;
  /** `null` where the table does not tell compact subsoil apart. */
  readonly overCompact: Row | null;
}

/**
 * USDA maximum sprinkler application rates, in/h, with cover and bare, for slopes of 0 to 5, 5 to 8, 8 to 12 and over
 * 12 percent. Seen in a reprint of 2018: the uniform rows up to 12 percent but those of the coarse sandy soil over
 * it, and heavy clay up to 12 percent. From memory: the last column and the rows over compact subsoil.
 */
export const SPRINKLER_ROWS: readonly SprinklerRow[] = [
  {
    soil: 'coarse sandy soil',
    textures: ['sand', 'loamy sand'],
    uniform: [
      [2, 2],
      [2, 1.5],
      [1.5, 1],
      [1, 0.5],
    ],
    overCompact: [
      [1.75, 1.5],
      [1.25, 1],
      [1, 0.75],
      [0.75, 0.4],
    ],
  },
  {
    soil: 'light sandy loam',
    textures: ['sandy loam'],
    uniform: [
      [1.75, 1],
      [1.25, 0.8],
      [1, 0.6],
      [0.75, 0.4],
    ],
    overCompact: [
      [1.25, 0.75],
      [1, 0.5],
      [0.75, 0.4],
      [0.5, 0.3],
    ],
  },
  {
    soil: 'silt loam',
    textures: ['silt loam', 'loam', 'silt'],
    uniform: [
      [1, 0.5],
      [0.8, 0.4],
      [0.6, 0.3],
      [0.4, 0.2],
    ],
    overCompact: [
      [0.6, 0.3],
      [0.5, 0.25],
      [0.4, 0.15],
      [0.3, 0.1],
    ],
  },
  {
    soil: 'heavy clay or clay loam',
    textures: ['clay loam', 'clay', 'sandy clay loam', 'silty clay loam', 'sandy clay', 'silty clay'],
    uniform: [
      [0.2, 0.15],
      [0.15, 0.1],
      [0.12, 0.08],
      [0.1, 0.06],
    ],
    overCompact: null,
  },
];

/** Textures that the table names itself; the others take the row of the like soil. */
const NAMED: readonly Texture[] = ['silt loam', 'sandy loam', 'clay loam', 'clay', 'sand'];

/** Highest rate at which sprinklers should wet the ground, mm/h. */
export function sprinklerRates({ texture, slopePercent, covered, compacted }: IntakeGround): TableIntake {
  const row = SPRINKLER_ROWS.find(({ textures }) => textures.includes(texture))!;
  const rates = compacted && row.overCompact ? row.overCompact : row.uniform;
  const column = SLOPE_FROM.findLastIndex((from) => slopePercent + ROUNDING_PERCENT >= from);
  const [coveredInPerH, bareInPerH] = rates[Math.max(0, column)]!;
  const rate = (covered ? coveredInPerH : bareInPerH) * INCH_MM;
  return { lowMmPerH: rate, highMmPerH: rate, standIn: NAMED.includes(texture) ? null : row.soil };
}
