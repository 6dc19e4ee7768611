import type { Entry } from '../source.ts';
import type { IntakeGround, TableIntake } from './ground.ts';
import { sprinklerRates } from './sprinkler-rates.ts';
import { byTexture, COLORADO, FAO, PERMEABILITY, SOAKING, STORMWATER } from './level-intake.ts';
import { textureChart } from './texture-chart.ts';

/** A published table of how fast soil takes in water. */
export interface IntakeTable extends Entry {
  /** Which of its figures are from memory and want to be compared with the source; `null` where all were seen. */
  readonly fromMemory: string | null;
  /** Whether its figures fall with the slope; else they hold for level ground. */
  readonly bySlope: boolean;
  /** Its figures for the ground; `null` where it has none for the class. */
  readonly intake: (ground: IntakeGround) => TableIntake | null;
}

/** The first is the usual one: it alone knows slope, cover and compact subsoil. */
export const INTAKE_TABLES: readonly IntakeTable[] = [
  {
    id: 'usda-sprinkler',
    name: 'USDA sprinkler rates',
    source:
      'USDA maximum sprinkler application rates, reprinted 2018; suggested maximum rates of the National Engineering Handbook, section 15-11',
    fromMemory:
      'all of the slopes over 12 %, the rows over compact subsoil; the bare column matches the handbook as remembered',
    bySlope: true,
    intake: sprinklerRates,
  },
  {
    id: 'texture-chart',
    name: 'Texture chart with slope factor',
    source:
      'basic intake by texture, falling with the slope, as in handbooks of irrigation scheduling (common practice)',
    fromMemory: 'all but clay on level ground and at 12 %',
    bySlope: true,
    intake: textureChart,
  },
  {
    id: 'controller-protocol',
    name: 'Controller test intake',
    source: SOAKING.source,
    fromMemory: 'all of it',
    bySlope: false,
    intake: byTexture(SOAKING),
  },
  {
    id: 'fao-basic',
    name: 'Basic infiltration',
    source: FAO.source,
    fromMemory: 'the figure for sand',
    bySlope: false,
    intake: byTexture(FAO),
  },
  {
    id: 'stormwater',
    name: 'Stormwater design',
    source: STORMWATER.source,
    fromMemory: 'which texture belongs to which group',
    bySlope: false,
    intake: byTexture(STORMWATER),
  },
  {
    id: 'permeability',
    name: 'Loose soil under grass',
    source: PERMEABILITY.source,
    fromMemory: null,
    bySlope: false,
    intake: byTexture(PERMEABILITY),
  },
  {
    id: 'colorado-fines',
    name: 'Fine soil, low figures',
    source: COLORADO.source,
    fromMemory: null,
    bySlope: false,
    intake: byTexture(COLORADO),
  },
];

/** The table by its id, or undefined. */
export function intakeTable(id: string): IntakeTable | undefined {
  return INTAKE_TABLES.find((table) => table.id === id);
}
