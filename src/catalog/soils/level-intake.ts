import { INCH_MM } from '../../base/units.ts';
import type { Sourced } from '../source.ts';
import type { IntakeGround, TableIntake } from './ground.ts';
import { SOAKING_SOILS, SOAKING_SOURCE } from './storage.ts';
import type { Texture } from './textures.ts';

/** Intake on level ground by texture, mm/h. */
interface LevelIntake extends Sourced {
  readonly rows: Readonly<Partial<Record<Texture, readonly [low: number, high: number]>>>;
  /** Rows taken for classes that the table does not have: the next finer, slower one. */
  readonly standIns: Readonly<Partial<Record<Texture, Texture>>>;
}

/** The look-up in a table for level ground. */
export function byTexture(table: LevelIntake): (ground: IntakeGround) => TableIntake | null {
  return ({ texture }) => {
    const own = table.rows[texture];
    const standIn = own ? undefined : table.standIns[texture];
    const range = own ?? (standIn && table.rows[standIn]);
    return range ? { lowMmPerH: range[0], highMmPerH: range[1], standIn: standIn ?? null } : null;
  };
}

const inches = (low: number, high = low): readonly [number, number] => [low * INCH_MM, high * INCH_MM];

/** For tables of five classes: what the others take. */
const OF_FIVE: LevelIntake['standIns'] = {
  'loamy sand': 'sandy loam',
  'silt loam': 'loam',
  silt: 'loam',
  'sandy clay loam': 'clay loam',
  'silty clay loam': 'clay loam',
  'sandy clay': 'clay',
  'silty clay': 'clay',
};

/** Sand is open upwards: over 30 mm/h, from memory. */
export const FAO: LevelIntake = {
  source: 'FAO irrigation water management training manual: basic infiltration rates',
  rows: {
    sand: [30, 30],
    'sandy loam': [20, 30],
    loam: [10, 20],
    'clay loam': [5, 10],
    clay: [1, 5],
  },
  standIns: OF_FIVE,
};

/**
 * Groups A 1.6 and 0.8, B 0.6 and 0.3, C 0.2 in/h; D is under 0.2 without a figure. Textures by group as in TR-55
 * (1986), from memory.
 */
export const STORMWATER: LevelIntake = {
  source: 'Minnesota stormwater manual: design infiltration rates by hydrologic soil group',
  rows: {
    sand: inches(0.8, 1.6),
    'loamy sand': inches(0.8, 1.6),
    'sandy loam': inches(0.8, 1.6),
    loam: inches(0.3, 0.6),
    'silt loam': inches(0.3, 0.6),
    'sandy clay loam': inches(0.2),
  },
  standIns: { silt: 'silt loam' },
};

export const PERMEABILITY: LevelIntake = {
  source:
    'permeability of uncompacted soil under grass, teaching manual on organic farming and gardening, unit 2.1',
  rows: {
    sand: inches(6, 20),
    'sandy loam': inches(2, 6),
    loam: inches(0.6, 2),
    'clay loam': inches(0.2, 0.6),
    clay: inches(0.06, 0.2),
  },
  standIns: OF_FIVE,
};

export const COLORADO: LevelIntake = {
  source: 'table of a Colorado public agency: intake of fine soils',
  rows: { 'clay loam': inches(0.05, 0.1), clay: inches(0.01, 0.02) },
  standIns: {
    'sandy clay loam': 'clay loam',
    'silty clay loam': 'clay loam',
    'sandy clay': 'clay',
    'silty clay': 'clay',
  },
};

export const SOAKING: LevelIntake = {
  source: SOAKING_SOURCE,
  rows: Object.fromEntries(
    SOAKING_SOILS.map(({ texture, intakeMmPerH }) => [texture, [intakeMmPerH, intakeMmPerH] as const]),
  ),
  standIns: {
    'silt loam': 'loam',
    silt: 'loam',
    'sandy clay loam': 'clay loam',
    'silty clay loam': 'silty clay',
    'sandy clay': 'clay',
  },
};
