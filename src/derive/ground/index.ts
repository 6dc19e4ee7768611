import { memo } from '../../base/memo.ts';
import type { Path, Point } from '../../base/point.ts';
import type { Table } from '../../base/table.ts';
import type { Fall, Level, Plan } from '../../plan/records.ts';
import { lineSurface } from './line-surface.ts';
import { meshSurface } from './mesh-surface.ts';
import { profileOn, type Profile } from './profile.ts';
import { lineThrough, spotsOf } from './spots.ts';
import { levelSurface, type Height, type Surface } from './surface.ts';

export type { Height, HeightOrigin } from './surface.ts';
export { entryAt, readAcross, type Profile } from './profile.ts';

/** The ground surface that follows from the plan's levels. */
export interface Ground {
  /** Height at a place and how it is known. */
  heightAt(p: Point): Height;
  /** Length of a path laid on the ground, metres; exact on the plane pieces. */
  surfaceLength(path: Path): number;
  /** The path laid on the ground, with the places at which its slope changes. */
  profile(path: Path): Profile;
  /** Steepest slope at a place, percent, and the direction of fall (degrees counter-clockwise from east). */
  slopeAt(p: Point): { readonly percent: number; readonly fallDeg: number };
}

/**
 * The ground through the levels, planar between them. None: height 0, said to be `none`. One: its height
 * everywhere. All (nearly) on one line: sloping along the line, level across. Beyond the levels the nearest plane
 * is carried on, said to be `outside`. Remembered for the same tables.
 */
export function groundOf({ levels, falls }: Pick<Plan, 'levels' | 'falls'>): Ground {
  return remembered(levels, falls);
}

const remembered = memo((levels: Table<Level>, _falls: Table<Fall>): Ground => {
  const surface = surfaceOf(levels);
  return {
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

function surfaceOf(levels: Table<Level>): Surface {
  const spots = spotsOf(levels);
  if (spots.length === 0) return levelSurface(0, 'none');
  if (spots.length === 1) return levelSurface(spots[0]!.zM, 'outside');
  const line = lineThrough(spots);
  return line ? lineSurface(spots, line) : meshSurface(spots);
}
