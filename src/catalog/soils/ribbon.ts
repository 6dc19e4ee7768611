import { INCH_MM } from '../../base/units.ts';
import type { Sourced } from '../source.ts';
import type { Texture } from './textures.ts';

/** What the length of a ribbon of moist soil, pressed out between thumb and finger, tells of the texture. */
export interface RibbonClass extends Sourced {
  readonly name: string;
  /** From this length on, metres, up to that of the next class. */
  readonly fromM: number;
  /** Classes that it may be; the first stands for them where nothing says more. */
  readonly textures: readonly [Texture, ...Texture[]];
}

const source = 'ribbon test as in a soil assessment of the City of Centerville, Minnesota';

/** Shorter is no ribbon. */
const SHORTEST_M = 0.001;

/**
 * Source: no ball is sand, a ball without ribbon loamy sand, up to 1 in loams, 1 to 2 in clay loams, 2 in or more
 * clays. A length on a limit counts with the finer soil. Which class belongs to which group follows from its name.
 */
export const RIBBON_CLASSES: readonly RibbonClass[] = [
  { name: 'sands', fromM: 0, textures: ['loamy sand', 'sand'], source },
  {
    name: 'loams',
    fromM: SHORTEST_M,
    textures: ['loam', 'sandy loam', 'silt loam', 'silt'],
    source,
  },
  {
    name: 'clay loams',
    fromM: INCH_MM / 1000,
    textures: ['clay loam', 'sandy clay loam', 'silty clay loam'],
    source,
  },
  { name: 'clays', fromM: (2 * INCH_MM) / 1000, textures: ['clay', 'sandy clay', 'silty clay'], source },
];

/** The class of a ribbon length, metres; 0 is none. `undefined` for what is no length. */
export function ribbonClass(ribbonM: number): RibbonClass | undefined {
  // A length typed in inches may miss the limit by its rounding.
  return ribbonM >= 0 ? RIBBON_CLASSES.findLast(({ fromM }) => ribbonM + 1e-9 >= fromM) : undefined;
}
