import { PIPE_BORES } from '../../catalog/index.ts';
import { nominalSize, pipeMaterial } from '../existing/pipe-bore.ts';

/** Bore of a piece of existing pipe, and what had to be assumed for it. */
export interface PipeSection {
  readonly innerDiameterMm: number;
  readonly roughnessM: number;
  readonly assumed: 'nothing' | 'material' | 'size';
}

/** Plastic and drawn copper: 0.0015 mm (EPANET manual, EPA/600/R-20/133, roughness table). */
export const SMOOTH_ROUGHNESS_M = 1.5e-6;
/** Galvanised steel: 0.0005 ft (from memory of the roughness tables of handbooks). */
const GALVANISED_ROUGHNESS_M = 1.5e-4;
/** What a lateral of unknown size is taken for: a small one, so that losses are not made too low (common practice). */
const DEFAULT_SIZE = '3/4';

/**
 * Bore for a nominal size and material as typed. Unknown material: the narrowest common one of that size; unknown
 * size: 3/4 in. The answer says what was assumed.
 */
export function pipeSection(size: string | null, material: string | null): PipeSection {
  const wanted = size === null ? null : nominalSize(size);
  const sized = PIPE_BORES.filter((bore) => bore.size === (wanted ?? DEFAULT_SIZE));
  const rows = sized.length > 0 ? sized : PIPE_BORES.filter((bore) => bore.size === DEFAULT_SIZE);
  const sizeKnown = wanted !== null && sized.length > 0;
  const family = material === null ? null : pipeMaterial(material);
  const exact = family ? rows.find((bore) => bore.material === family) : undefined;
  const chosen =
    exact ?? rows.reduce((least, bore) => (bore.innerDiameterMm < least.innerDiameterMm ? bore : least));
  return {
    innerDiameterMm: chosen.innerDiameterMm,
    roughnessM: chosen.material === 'galvanised steel' && exact ? GALVANISED_ROUGHNESS_M : SMOOTH_ROUGHNESS_M,
    assumed: !sizeKnown ? 'size' : exact ? 'nothing' : 'material',
  };
}
