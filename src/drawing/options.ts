import type { UnitSystem } from '../base/quantity.ts';
import type { ColourRange } from './pressure-ramp.ts';

/** What can be shown or left out, from below to above. */
export const SUBJECTS = [
  'photo',
  'areas',
  'slopes',
  'wetted',
  'contours',
  'levels',
  'falls',
  'laterals',
  'sectors',
  'heads',
  'rootZonesNow',
  'rootZonesMature',
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
  'dimensions',
  'plantTags',
  'headTags',
  'emitterNumbers',
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

/** What leads from the drawing into the schedules of a sheet; the screen shows it by other means. */
const ON_SHEETS: readonly Subject[] = ['dimensions', 'plantTags', 'headTags', 'emitterNumbers'];

/** Shown on the screen when asked for, never on sheets. */
const WHEN_ASKED: readonly Subject[] = ['slopes', 'wetted', 'rootZonesNow', 'rootZonesMature'];

/**
 * For sheets: everything but the names of the plants and the sizes of areas, which crowd a small drawing, and what the
 * screen shows when asked.
 */
export const SHEET_SHOW: ReadonlySet<Subject> = new Set(
  SUBJECTS.filter(
    (subject) => subject !== 'plantNames' && subject !== 'areaSizes' && !WHEN_ASKED.includes(subject),
  ),
);

/** For the screen: what sheets show but for the tags and figures that lead into their schedules. */
export const DEFAULT_SHOW: ReadonlySet<Subject> = new Set(
  [...SHEET_SHOW].filter((subject) => !ON_SHEETS.includes(subject)),
);
