/** The twelve texture classes of the USDA. */
export type Texture =
  | 'sand'
  | 'loamy sand'
  | 'sandy loam'
  | 'loam'
  | 'silt loam'
  | 'silt'
  | 'sandy clay loam'
  | 'clay loam'
  | 'silty clay loam'
  | 'sandy clay'
  | 'silty clay'
  | 'clay';

/** A texture class with its abbreviation on soil maps. */
export interface TextureClass {
  readonly texture: Texture;
  readonly code: string;
}

/** Coarse to fine, as soil surveys list them. */
export const TEXTURES: readonly TextureClass[] = [
  { texture: 'sand', code: 'S' },
  { texture: 'loamy sand', code: 'LS' },
  { texture: 'sandy loam', code: 'SL' },
  { texture: 'loam', code: 'L' },
  { texture: 'silt loam', code: 'SIL' },
  { texture: 'silt', code: 'SI' },
  { texture: 'sandy clay loam', code: 'SCL' },
  { texture: 'clay loam', code: 'CL' },
  { texture: 'silty clay loam', code: 'SICL' },
  { texture: 'sandy clay', code: 'SC' },
  { texture: 'silty clay', code: 'SIC' },
  { texture: 'clay', code: 'C' },
];

/** The words of a class, whatever their ending and order of typing joins them: sand, silt, clay, loam. */
const BY_WORDS = new Map(TEXTURES.map(({ texture }) => [wordsIn(texture).join(' '), texture]));
const BY_CODE = new Map(TEXTURES.map(({ texture, code }) => [code, texture]));

/** Words that grade a class or say nothing about it. */
const QUALIFIERS = /\b(?:very|fine|coarse|medium|light|heavy|soils?|texture|class|usda|topsoil)\b/g;

function wordsIn(text: string): string[] {
  return [...text.matchAll(/sandy?|silty?|clay(?:ey)?|loamy?/g)].map(([word]) =>
    word.startsWith('clay') ? 'clay' : word.replace(/y$/, ''),
  );
}

/**
 * The class that a person means by what is typed: name or abbreviation, whatever the capitals, hyphens and blanks;
 * grades (`fine sandy loam`) and remarks in brackets are passed over. `null` for anything else, also for a bare
 * `sandy`, `silty` or `loamy`, which may be several classes.
 */
export function textureNamed(typed: string): Texture | null {
  const text = typed
    .toLowerCase()
    .replace(/\(.*?\)/g, ' ')
    .replace(/[-_.,]/g, ' ')
    .replace(QUALIFIERS, ' ')
    .replace(/\s+/g, ' ')
    .trim();
  const code = BY_CODE.get(text.replaceAll(' ', '').toUpperCase());
  if (code) return code;
  if (!/^(?:sandy?|silty?|clay(?:ey)?|loamy?|\s)+$/.test(text) || /^(?:sandy|silty|loamy)$/.test(text))
    return null;
  return BY_WORDS.get(wordsIn(text).join(' ')) ?? null;
}
