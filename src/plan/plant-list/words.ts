import type { PlantClass, WaterUse } from '../records.ts';

/** Words that people write for plant classes and water use, in English and Spanish (common practice). */

const CLASSES: Readonly<Record<string, PlantClass>> = {
  tree: 'tree',
  palm: 'tree',
  t: 'tree',
  shrub: 'shrub',
  bush: 'shrub',
  hedge: 'shrub',
  vine: 'shrub',
  climber: 'shrub',
  s: 'shrub',
  perennial: 'perennial',
  annual: 'perennial',
  grass: 'perennial',
  ornamentalgrass: 'perennial',
  herb: 'perennial',
  fern: 'perennial',
  flower: 'perennial',
  bulb: 'perennial',
  succulent: 'perennial',
  p: 'perennial',
  groundcover: 'groundcover',
  cover: 'groundcover',
  gc: 'groundcover',
  arbol: 'tree',
  arbole: 'tree',
  palma: 'tree',
  arbusto: 'shrub',
  perenne: 'perennial',
  cubresuelo: 'groundcover',
  tapizante: 'groundcover',
};

const WATER_USES: Readonly<Record<string, WaterUse>> = {
  high: 'high',
  h: 'high',
  moderate: 'moderate',
  medium: 'moderate',
  mod: 'moderate',
  med: 'moderate',
  average: 'moderate',
  m: 'moderate',
  low: 'low',
  l: 'low',
  verylow: 'very low',
  vlow: 'very low',
  vl: 'very low',
  alto: 'high',
  medio: 'moderate',
  moderado: 'moderate',
  bajo: 'low',
  muybajo: 'very low',
};

/** Small letters without accents: `Ground-Covers` and `ground cover` are one word. */
function plain(text: string): string {
  return text
    .normalize('NFD')
    .toLowerCase()
    .replace(/[\s._/\p{Mn}-]/gu, '');
}

function among<T>(words: Readonly<Record<string, T>>, word: string): T | undefined {
  return Object.hasOwn(words, word) ? words[word] : undefined;
}

/** The plant class that a word names, such as `Shrubs`, `bush` or `GC`; undefined for any other word. */
export function plantClassNamed(text: string): PlantClass | undefined {
  const word = plain(text);
  // Grass and grasses, bush and bushes, fern and ferns.
  return (
    among(CLASSES, word) ??
    among(CLASSES, word.replace(/(?<=s|sh)es$/, '')) ??
    among(CLASSES, word.replace(/(?<!s)s$/, ''))
  );
}

/** The water-use class that a word names, such as `Med` or `very-low`; undefined for any other word. */
export function waterUseNamed(text: string): WaterUse | undefined {
  return among(WATER_USES, plain(text).replace(/(?:wateruse|water|use)$/, ''));
}
