import type { Point } from '../../base/point.ts';
import { bad, good, type Problem, type Result } from '../../base/result.ts';
import { outletLawById, tubingById } from '../../catalog/index.ts';
import type { FillChoices, FlushEnd, Run } from '../../plan/records.ts';

export type { FillChoices, FillPattern, HeaderKind, RowDirection } from '../../plan/records.ts';

export type NewRun = Omit<Run, 'id'>;

/** What the person should know of a fill. Lengths and rates are inside units; words are the screen's. */
export type FillNote =
  | { readonly kind: 'dropped'; readonly count: number }
  | { readonly kind: 'parts'; readonly count: number }
  | { readonly kind: 'through-rows'; readonly headers: number }
  | { readonly kind: 'level' }
  | { readonly kind: 'no-lower-third' }
  | {
      readonly kind: 'rate-over-intake';
      readonly rateMmPerH: number;
      readonly intakeMmPerH: number;
      readonly source: string;
    }
  | { readonly kind: 'over-spread'; readonly spreadM: number; readonly source: string }
  | { readonly kind: 'edge'; readonly leastM: number; readonly mostM: number; readonly source: string }
  | { readonly kind: 'up-and-down'; readonly angleDeg: number; readonly source: string }
  | {
      readonly kind: 'over-limit';
      readonly count: number;
      readonly longestM: number;
      readonly limitM: number;
      readonly inletKpa: number;
    }
  | {
      /** Headers carry more, or are longer, than their tubing may; `wider` is tubing that would do, by name. */
      readonly kind: 'header';
      readonly tubing: string;
      readonly carriesLph: number;
      readonly flowLph: number;
      readonly longestM: number;
      readonly lengthM: number | null;
      readonly wider: string | null;
      readonly source: string;
    }
  | ZoneFlowNote
  /** Curved rows were asked for, but the ground is plane: they are straight. */
  | { readonly kind: 'plane' }
  /** Rows that begin or end within the bed, joined to the row beside them. */
  | { readonly kind: 'tees'; readonly count: number }
  /** How far rows lie apart on the ground where that is not as chosen, metres. */
  | { readonly kind: 'uneven'; readonly leastM: number; readonly mostM: number }
  /** Places where dripline bends tighter than it can. */
  | { readonly kind: 'tight-bend'; readonly count: number; readonly leastM: number; readonly source: string }
  /** Lines along the middle, where there is no room for a loop, or between the sides of the innermost. */
  | { readonly kind: 'middle-line'; readonly count: number }
  /** Loops in a bed so wide that rows do better. */
  | {
      readonly kind: 'wide-for-loops';
      readonly widthM: number;
      readonly mostM: number;
      readonly source: string;
    }
  /** Rings cut to arcs by what they keep off. */
  | { readonly kind: 'cut'; readonly count: number }
  /** Rings that would lie nearer to the stem than is chosen, or wholly on what they keep off. */
  | { readonly kind: 'rings-left-out'; readonly count: number };

/** More flow, this bed alone, than parts of the zone let through. */
export interface ZoneFlowNote {
  readonly kind: 'zone-flow';
  readonly flowLph: number;
  /** Name of the nearest control set; `null` where there is none, and the largest parts of the catalog are meant. */
  readonly control: string | null;
  readonly over: readonly { readonly part: 'regulator' | 'filter' | 'valve'; readonly mostLph: number }[];
  /** Whether the catalog has a regulator and a filter that pass it. */
  readonly largerParts: boolean;
  /** Zones of like flow that the largest parts would pass. */
  readonly zones: number;
}

export interface FillFigures {
  /** Lines of rows, and the pieces of dripline in them. */
  readonly rows: number;
  readonly pieces: number;
  /** As laid, on the ground, metres; the second in the lowest third, `null` where it is not wider. */
  readonly rowSpacingM: number;
  readonly lowerSpacingM: number | null;
  /** Dripline, and blank tubing of the headers, on the ground, metres. */
  readonly lengthM: number;
  readonly headerLengthM: number;
  readonly emitters: number;
  /** All emitters at their rated flow, L/h. */
  readonly flowLph: number;
  /** Flow of an emitter over its share of the ground, above the lowest third, mm/h. */
  readonly rateMmPerH: number;
  /** Water in dripline and headers, litres. */
  readonly volumeL: number;
  /** Direction of the rows, degrees counter-clockwise from east, 0 to 180. */
  readonly directionDeg: number;
}

/** Rows for a bed, not yet part of the plan. */
export interface Filled {
  readonly runs: readonly NewRun[];
  /** `run` counts `runs` from 0. */
  readonly flushEnds: readonly { readonly run: number; readonly end: FlushEnd['end'] }[];
  /** Where water has to enter: the start of each supply header, or of rows without one. */
  readonly starts: readonly Point[];
  readonly figures: FillFigures;
  readonly notes: readonly FillNote[];
}

/** More emitters than this are a slip of the keys. */
export const MOST_EMITTERS = 60_000;
export const MOST_ROWS = 1000;
/** Bounds of what may be chosen, metres and factors. */
export const BOUNDS = {
  rowSpacingM: [0.1, 3],
  emitterSpacingM: [0.05, 3],
  ratedFlowLph: [0.1, 50],
  edgeM: [0, 3],
  lowerThirdFactor: [1, 3],
} as const;

const NAMES: Readonly<Record<keyof typeof BOUNDS, string>> = {
  rowSpacingM: 'row spacing',
  emitterSpacingM: 'emitter spacing',
  ratedFlowLph: 'rated flow',
  edgeM: 'distance from the edge',
  lowerThirdFactor: 'factor of the lowest third',
};

/** The first of some choices that is no number within its bounds; null where all are. */
export function outOfBounds<K extends string>(
  choices: Readonly<Record<NoInfer<K>, number | null>>,
  bounds: Readonly<Record<K, readonly [number, number]>>,
  names: Readonly<Record<NoInfer<K>, string>>,
): Problem | null {
  for (const key of Object.keys(bounds) as K[]) {
    const value = choices[key];
    const [least, most] = bounds[key];
    if (value !== null && value >= least && value <= most) continue;
    const what = `The ${names[key]} is ${String(value)}, not between ${least} and ${most}`;
    return { where: key, what, todo: 'Type it again.' };
  }
  return null;
}

/** What of a choice of dripline and headers the catalog does not have; null where it has all. */
export function notInCatalog({
  law,
  tubing,
  headerTubing,
}: Pick<FillChoices, 'law' | 'tubing' | 'headerTubing'>): Problem | null {
  const missing = (where: string, id: string, what: string): Problem => ({
    where,
    what: `“${id}” is no ${what} of the catalog`,
    todo: 'Choose one.',
  });
  if (outletLawById(law)?.use !== 'inline') return missing('law', law, 'built-in emitter');
  if (tubingById(tubing)?.use !== 'inline') return missing('tubing', tubing, 'dripline');
  return tubingById(headerTubing)?.use === 'blank'
    ? null
    : missing('headerTubing', headerTubing, 'blank tubing');
}

/** The choices, or the first of them that cannot be used. */
export function examined(choices: FillChoices): Result<FillChoices> {
  const problem = outOfBounds(choices, BOUNDS, NAMES);
  if (problem) return { ok: false, problem };
  const { direction } = choices;
  if (typeof direction === 'number' && !Number.isFinite(direction))
    return bad('direction', 'The direction of the rows is not a number', 'Type degrees from 0 to 180.');
  const missing = notInCatalog(choices);
  return missing ? { ok: false, problem: missing } : good(choices);
}
