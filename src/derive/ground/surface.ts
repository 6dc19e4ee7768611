import type { Box, Point } from '../../base/point.ts';
import { boxRing, type Face, type HeightOrigin } from './faces.ts';

export type { HeightOrigin } from './faces.ts';

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
  /** Plane pieces that cover a box without a gap; they may reach beyond it. */
  faces(box: Box): Face[];
}

/** One height everywhere: no level, or a single one. */
export function levelSurface(zM: number, how: HeightOrigin): Surface {
  return {
    heightAt: () => ({ zM, how }),
    gradientAt: () => [0, 0],
    creases: () => [],
    faces: (box) => [{ ring: boxRing(box), zM: [zM, zM, zM, zM], gradient: [0, 0], how }],
  };
}
