import { memo } from '../../base/memo.ts';
import type { Box, Path, Point } from '../../base/point.ts';
import type { Table } from '../../base/table.ts';
import type { Fall, Level, Plan } from '../../plan/records.ts';
import type { Face } from './faces.ts';
import { linkFalls, type LinkedHeights } from './link-falls.ts';
import { profileOn, type Profile } from './profile.ts';
import { lineThrough } from './spots.ts';
import { surfaceOf } from './surface-of.ts';
import type { Height } from './surface.ts';

export { facePercent, type Face } from './faces.ts';
export { dropOf, percentOf, type FallClosure, type LinkedHeights } from './link-falls.ts';
export type { Height, HeightOrigin } from './surface.ts';
export { entryAt, readAcross, type Profile } from './profile.ts';

/** The ground surface that follows from the plan's levels and falls. */
export interface Ground {
  /** What is known of it: nothing at all, one height that is taken everywhere, or how it slopes. */
  readonly knows: 'nothing' | 'height' | 'slope';
  /** Whether all heights lie on one line, so that across it the ground counts as level. */
  readonly onLine: boolean;
  /** The heights that it goes through, and what did not come out on the way. */
  readonly linked: LinkedHeights;
  /** Height at a place and how it is known. */
  heightAt(p: Point): Height;
  /** Length of a path laid on the ground, metres; exact on the plane pieces. */
  surfaceLength(path: Path): number;
  /** The path laid on the ground, with the places at which its slope changes. */
  profile(path: Path): Profile;
  /** Steepest slope at a place, percent, and the direction of fall (degrees counter-clockwise from east). */
  slopeAt(p: Point): { readonly percent: number; readonly fallDeg: number };
  /** Plane pieces that cover a box without a gap, those between the levels first; they may reach beyond it. */
  faces(box: Box): readonly Face[];
}

/**
 * The ground through the levels and the ends of falls, planar between them. None: height 0, said to be `none`. One:
 * its height everywhere. All (nearly) on one line, as with a single fall: sloping along the line, level across. Beyond
 * them the nearest plane is carried on, said to be `outside`. Without a level the upper end of the first fall has
 * height 0. Remembered for the same tables.
 */
export function groundOf({ levels, falls }: Pick<Plan, 'levels' | 'falls'>): Ground {
  return remembered(levels, falls);
}

const remembered = memo((levels: Table<Level>, falls: Table<Fall>): Ground => {
  const linked = linkFalls(levels, falls);
  const { spots } = linked;
  const surface = surfaceOf(spots);
  return {
    knows: spots.length > 1 ? 'slope' : spots.length === 1 ? 'height' : 'nothing',
    onLine: spots.length > 1 && lineThrough(spots) !== null,
    linked,
    faces: (box) => surface.faces(box),
    heightAt: (p) => surface.heightAt(p),
    surfaceLength: (path) => profileOn(surface, path).groundLengthM,
    profile: (path) => profileOn(surface, path),
    slopeAt(p) {
      const [east, north] = surface.gradientAt(p);
      return {
        percent: Math.hypot(east, north) * 100,
        fallDeg: (Math.atan2(-north, -east) * 180) / Math.PI,
      };
    },
  };
});
