import { FOOT_M, INCH_MM } from '../../base/units.ts';
import type { Sourced } from '../source.ts';
import { greenAmptSoil } from './green-ampt.ts';
import type { Texture } from './textures.ts';

/** How wide and how deep the soil below one point source gets wet. */
export interface WetBulb {
  /** Largest width of the wet soil, metres. */
  readonly widthM: number;
  readonly depthM: number;
}

export const WETTING_SOURCE =
  'Schwartzman and Zur 1986, J. Irrig. Drain. Eng. 112(3):242-253, from memory; conductivity: Rawls, Brakensiek and Miller 1983';

/** Widths beyond these are taken as the limit, metres: nothing narrower or wider is seen under one outlet (common practice). */
export const LEAST_WET_WIDTH_M = 0.1;
export const MOST_WET_WIDTH_M = 2.5;

const M3S_PER_LPH = 1 / 3.6e6;
const M3_PER_L = 1e-3;
const MS_PER_MMPH = 1 / 3.6e6;

/** Conductivity over flow, 1/m2; both come in what makes the same number of m/s and m3/s. */
const ratioOf = (texture: Texture, flowLph: number): number =>
  (greenAmptSoil(texture).conductivityMmPerH * MS_PER_MMPH) / (flowLph * M3S_PER_LPH);

/**
 * The wet soil after `volumeL` litres at `flowLph`: W = 1.82 V^0.22 (Ks/q)^-0.17 and Z = 2.54 V^0.63 (Ks/q)^0.45 with
 * V in m3, Ks in m/s, q in m3/s (`WETTING_SOURCE`). No limits are applied. Nothing gets wet where flow or volume is not
 * above 0.
 */
export function wetBulb(texture: Texture, flowLph: number, volumeL: number): WetBulb {
  if (!(flowLph > 0) || !(volumeL > 0)) return { widthM: 0, depthM: 0 };
  const ratio = ratioOf(texture, flowLph);
  const volumeM3 = volumeL * M3_PER_L;
  return {
    widthM: 1.82 * volumeM3 ** 0.22 * ratio ** -0.17,
    depthM: 2.54 * volumeM3 ** 0.63 * ratio ** 0.45,
  };
}

/** Litres at which the wet soil reaches down to `depthM`: the same relation solved for V; 0 without flow or depth. */
export function volumeToDepthL(texture: Texture, flowLph: number, depthM: number): number {
  if (!(flowLph > 0) || !(depthM > 0)) return 0;
  return (depthM / (2.54 * ratioOf(texture, flowLph) ** 0.45)) ** (1 / 0.63) / M3_PER_L;
}

/** Soils of tables that know only three of them. */
export type TextureGroup = 'coarse' | 'medium' | 'fine';

/** Which of three soils a class is: sands are coarse, clays and clay loams fine (common practice). */
export function textureGroup(texture: Texture): TextureGroup {
  if (texture === 'sand' || texture === 'loamy sand') return 'coarse';
  return texture.includes('clay') ? 'fine' : 'medium';
}

/** Widths of wet soil as a table has them, metres. */
export interface SpreadTable extends Sourced {
  readonly id: string;
  readonly name: string;
  /** Width under one outlet when the root zone is `rootDepthM` deep. */
  width(texture: Texture, rootDepthM: number): number;
}

type ByGroup = Readonly<Record<TextureGroup, number>>;

const HANDBOOK_FT: { readonly shallow: ByGroup; readonly deep: ByGroup } = {
  shallow: { coarse: 1.5, medium: 3, fine: 3.5 },
  deep: { coarse: 2.5, medium: 4, fine: 5 },
};
/** Root depths of the rows, metres; the nearer one is read. */
const SHALLOW_M = 2.5 * FOOT_M;
const DEEP_M = 5 * FOOT_M;

const SPACING_IN: ByGroup = { coarse: 12, medium: 18, fine: 24 };

/** What else is published or usual, for an outlet of about 1 gph; shown beside the relation, since they disagree. */
export const SPREAD_TABLES: readonly SpreadTable[] = [
  {
    id: 'handbook',
    name: 'Handbook table, even soil',
    source:
      'USDA National Engineering Handbook, part 623, chapter 7: area wetted by an emitter of 1 gph, from memory',
    width: (texture, rootDepthM) =>
      HANDBOOK_FT[rootDepthM <= (SHALLOW_M + DEEP_M) / 2 ? 'shallow' : 'deep'][textureGroup(texture)] *
      FOOT_M,
  },
  {
    id: 'emitter-spacing',
    name: 'Usual emitter spacing',
    source:
      'newspaper garden advice: emitters 12, 18 and 24 in apart in sand, loam and clay; common practice',
    width: (texture) => (SPACING_IN[textureGroup(texture)] * INCH_MM) / 1000,
  },
];
