import {
  ribbonClass,
  textureNamed,
  textureOfShares,
  TRIANGLE_SOURCE,
  type Shares,
  type Texture,
} from '../../catalog/index.ts';
import type { Soil } from '../../plan/records.ts';

/** How the texture is known: by the shares of a jar test, the ribbon test, or what was typed. */
export type TextureHow = 'jar' | 'ribbon' | 'typed';

/** The soil's texture class and how it is known; all `null` where nothing is. */
export interface SoilTexture {
  readonly texture: Texture | null;
  readonly how: TextureHow | null;
  /** Where the texture comes from, for people. */
  readonly source: string | null;
  /** Classes that it may be as well: a ribbon tells a group only. */
  readonly others: readonly Texture[];
  /** Shares that add up to 100, where the jar test can be used. */
  readonly shares: Shares | null;
  /** What of the survey does not fit together or could not be used, in sentences; `null` where all agrees. */
  readonly disagreement: string | null;
}

type TextureFacts = Pick<Soil, 'texture' | 'ribbonM' | 'sandPercent' | 'siltPercent' | 'clayPercent'>;

/** How far the sum of a jar test may be off, percent (common practice: the layers are read to a millimetre or two). */
const SUM_SLACK = 2;

/**
 * The texture class of the soil. A jar test goes before the ribbon, the ribbon before what was typed; but a typed
 * class that lies in the ribbon's group says more than the ribbon and is taken. Two shares of three will do, the
 * third is the rest; shares that add up to 98 to 102 percent are scaled to 100, others are not used.
 */
export function textureOf(soil: TextureFacts): SoilTexture {
  const trouble: string[] = [];
  const { shares, problem } = jarShares(soil);
  if (problem) trouble.push(problem);
  const jar = shares && textureOfShares(shares);
  const ribbon = soil.ribbonM === null ? undefined : ribbonClass(soil.ribbonM);
  const words = soil.texture?.trim() ? soil.texture.trim() : null;
  const typed = words === null ? null : textureNamed(words);
  if (words !== null && !typed) trouble.push(`“${words}” is not one of the texture classes.`);

  if (jar && ribbon && !ribbon.textures.includes(jar)) {
    trouble.push(`The jar test says ${jar}, the ribbon test ${ribbon.name}.`);
  }
  if (jar && typed && typed !== jar) trouble.push(`The jar test says ${jar}, noted is ${typed}.`);
  if (!jar && ribbon && typed && !ribbon.textures.includes(typed)) {
    trouble.push(`The ribbon test says ${ribbon.name}, noted is ${typed}.`);
  }
  const disagreement = trouble.length ? trouble.join(' ') : null;
  if (jar) return { texture: jar, how: 'jar', source: TRIANGLE_SOURCE, others: [], shares, disagreement };
  if (ribbon && !(typed && ribbon.textures.includes(typed))) {
    const [texture, ...others] = ribbon.textures;
    return { texture, how: 'ribbon', source: ribbon.source, others, shares, disagreement };
  }
  if (typed) return { texture: typed, how: 'typed', source: 'as noted', others: [], shares, disagreement };
  return { texture: null, how: null, source: null, others: [], shares, disagreement };
}

/** The shares of a jar test scaled to 100 percent, or why they cannot be used; neither where nothing was measured. */
function jarShares({ sandPercent, siltPercent, clayPercent }: TextureFacts): {
  readonly shares: Shares | null;
  readonly problem: string | null;
} {
  const measured = [sandPercent, siltPercent, clayPercent].filter((share) => share !== null);
  const none = (problem: string | null) => ({ shares: null, problem });
  if (measured.length === 0) return none(null);
  if (measured.length === 1) {
    return none('One share of the jar test is not enough: measure two of sand, silt and clay.');
  }
  if (!measured.every((share) => share >= 0 && share <= 100)) {
    return none('A share of the jar test is not between 0 and 100 percent.');
  }
  const sum = measured.reduce((total, share) => total + share, 0);
  if (measured.length === 2) {
    if (sum > 100 + SUM_SLACK) {
      return none(`Two shares of the jar test add up to ${rounded(sum)} percent: read the layers again.`);
    }
    const scale = sum > 100 ? 100 / sum : 1;
    const rest = Math.max(0, 100 - sum);
    const part = (share: number | null) => (share === null ? rest : share * scale);
    return {
      shares: { sand: part(sandPercent), silt: part(siltPercent), clay: part(clayPercent) },
      problem: null,
    };
  }
  // The slack is of the shares as read, not of the rounding of their sum.
  if (Math.abs(sum - 100) > SUM_SLACK + 1e-9) {
    return none(`Sand, silt and clay add up to ${rounded(sum)} percent: read the layers again.`);
  }
  const part = (share: number | null) => ((share ?? 0) * 100) / sum;
  return {
    shares: { sand: part(sandPercent), silt: part(siltPercent), clay: part(clayPercent) },
    problem: null,
  };
}

function rounded(percent: number): string {
  return String(+percent.toFixed(1));
}
