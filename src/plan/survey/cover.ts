import { NUMERAL, plainText } from '../../base/numeral.ts';
import type { SoilCover } from '../records.ts';
import { writtenAmount } from './units.ts';

/** What the words of a survey say of the cover; the words themselves are kept beside it. */
export interface CoverFacts {
  /** `null` where the words name no kind that is known. */
  readonly kind: SoilCover | null;
  readonly depthM: number | null;
}

/**
 * Words by kind. Where several are named the first kind of this list counts: it holds back the most water, and what
 * lies under it matters less.
 */
const KINDS: readonly (readonly [SoilCover, RegExp])[] = [
  ['fabric', /fabric|geotextile|weed (?:barrier|cloth|mat|block)|landscape cloth|plastic|\bfilm\b/],
  ['gravel', /gravel|\b(?:stones?|rocks?|pebbles?|cobbles?|scoria|cinders?|lava)\b|decomposed granite/],
  [
    'mulch',
    /mulch|\bbark\b|\bchips?\b|woodchips?|\bstraw\b|compost|leaf litter|\bleaves\b|needles|\bhay\b|sawdust|shavings/,
  ],
  ['netting', /\bnet(?:s|ting)?\b|\bjute\b|\bcoir\b|\bcoco(?:nut)?\b|burlap|erosion (?:mat|blanket)/],
  ['plants', /plants?\b|planted|ground ?cover|\b(?:turf|grass|ivy|sod|vegetation|weeds)\b/],
];
const ANY_KIND = KINDS.map(([, words]) => words.source).join('|');
/** What is said not to be there: `no fabric`, `fabric: none`. */
const ABSENT = new RegExp(
  String.raw`\b(?:no|without|not any)\s+(?:[a-z]+\s+)?(?:${ANY_KIND})|(?:${ANY_KIND})[a-z ]*:\s*(?:none|no|0|false|absent)\b`,
  'g',
);
const NOTHING = /\b(?:bare|none|nothing|uncovered|exposed)\b|^no(?: cover)?$/;

/** Deeper than this is not a cover: a width or a slip. */
const DEEPEST_M = 0.6;
/** What follows after so many letters is kept but not read. */
const MOST_LETTERS = 500;
/** Smaller amounts beside gravel are the size of its grains. */
const GRAIN_M = 0.025;

const AMOUNT = new RegExp(
  String.raw`(${NUMERAL})\s*(?:(?:-|to)\s*(?:${NUMERAL})\s*)?(in\b\.?|inch(?:es)?\b|"|cm\b|mm\b|ft\b|'|m\b)`,
  'g',
);
const NAMED_DEPTH = new RegExp(
  String.raw`\b(?:depth|thickness)\s*(in|inches|cm|mm|ft|m)\s*:\s*(${NUMERAL})`,
  'g',
);

/**
 * Kind and depth of the cover from its words: `2 in bark`, `netting and 2 in shredded mulch`, `fabric under gravel`.
 * Of a range (`2-3 in`) the smaller depth is taken. The depth that stands with the kind goes before one elsewhere.
 */
export function coverFacts(words: string): CoverFacts {
  const text = plainText(words.slice(0, MOST_LETTERS)).toLowerCase();
  const there = text.replace(ABSENT, ' none ');
  const found = KINDS.find(([, pattern]) => pattern.test(there));
  if (!found) return { kind: NOTHING.test(there.trim()) ? 'bare' : null, depthM: null };
  const [kind, pattern] = found;
  const parts = there.split(/[;,+&]|\b(?:and|with|over|under|on|above|below|beneath)\b/);
  const own = parts.filter((part) => pattern.test(part)).flatMap((part) => depths(part, kind));
  return { kind, depthM: own[0] ?? depths(there, kind)[0] ?? null };
}

/** Depths written in a text, metres. */
function depths(text: string, kind: SoilCover): number[] {
  const written = [
    ...[...text.matchAll(NAMED_DEPTH)].map(([, unit, number]) => `${number} ${unit}`),
    ...[...text.matchAll(AMOUNT)].map(([, number, unit]) => `${number} ${unit}`),
  ];
  return written
    .map((amount) => writtenAmount(amount.replace(/in\.$/, 'in'), 'length'))
    .filter((depth) => depth !== null)
    .filter((depth) => depth > 0 && depth <= DEEPEST_M && !(kind === 'gravel' && depth < GRAIN_M));
}
