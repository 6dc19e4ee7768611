import type { UnitSystem } from '../base/quantity.ts';
import type { ColourRange } from './pressure-ramp.ts';

/** What can be shown or left out, from below to above. */
export const SUBJECTS = [
  'photo',
  'areas',
  'levels',
  'laterals',
  'sectors',
  'heads',
  'plants',
  'tubing',
  'controls',
  'supplies',
  'outlets',
  'areaNames',
  'areaSizes',
  'plantNames',
  'runNames',
  'levelHeights',
] as const;
export type Subject = (typeof SUBJECTS)[number];

export interface DrawOptions {
  /** Units of the figures that are lettered on the drawing. */
  readonly units: UnitSystem;
  readonly show: ReadonlySet<Subject>;
  /** Pressures at the ends of the colours; `null` takes the lowest and highest pressure of the results. */
  readonly colourRange: ColourRange | null;
  /** Scale of the site photo as fitted to its measured lines; without effect when the plan has no photo. */
  readonly photoMetresPerPixel: number;
}

/** Everything but the names of the plants, which crowd a small drawing. */
export const DEFAULT_SHOW: ReadonlySet<Subject> = new Set(
  SUBJECTS.filter((subject) => subject !== 'plantNames' && subject !== 'areaSizes'),
);
