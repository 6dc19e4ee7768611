import type { Texture } from './textures.ts';

/** The ground for which an intake is looked up. */
export interface IntakeGround {
  readonly texture: Texture;
  /** Slope, percent, 0 or more. */
  readonly slopePercent: number;
  /** Whether mulch, netting or plants break the force of the drops. */
  readonly covered: boolean;
  /** Whether the subsoil is compact. */
  readonly compacted: boolean;
}

/** An intake as a table has it, mm/h. */
export interface TableIntake {
  /** Lowest and highest figure for the class. */
  readonly lowMmPerH: number;
  readonly highMmPerH: number;
  /** The row taken where the table has none for the class itself. */
  readonly standIn: string | null;
}
