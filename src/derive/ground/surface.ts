import type { Point } from '../../base/point.ts';

/** `inside`: between the levels; `outside`: carried on beyond them; `none`: no level at all, height 0 taken. */
export type HeightOrigin = 'inside' | 'outside' | 'none';

/** Height of the ground at one place, metres above the plan's datum. */
export interface Height {
  readonly zM: number;
  readonly how: HeightOrigin;
}

/** A continuous surface made of plane pieces. */
export interface Surface {
  heightAt(p: Point): Height;
  /** Rise per metre east and per metre north at `p`. */
  gradientAt(p: Point): Point;
  /** Shares (0..1, in any order) of the way from `a` to `b` at which the slope may change. */
  creases(a: Point, b: Point): number[];
}

/** One height everywhere: no level, or a single one. */
export function levelSurface(zM: number, how: HeightOrigin): Surface {
  return {
    heightAt: () => ({ zM, how }),
    gradientAt: () => [0, 0],
    creases: () => [],
  };
}
