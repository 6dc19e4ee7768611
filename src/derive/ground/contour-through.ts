import { memo } from '../../base/memo.ts';
import { boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import type { Plan } from '../../plan/records.ts';
import { groundBox, pieceAt } from './contours.ts';
import { clippedToBox } from './faces.ts';
import { groundOf, type Ground } from './index.ts';
import { joinedPieces, type Piece } from './join-pieces.ts';

/** A contour line followed from one place both ways; each arm begins at the place. A ring is followed once round. */
export type ContourArms = readonly [Path, Path];

/** A line that passes a place passes it no farther off than this, metres. */
const ON_LINE_M = 1e-3;
/** How far beyond what is drawn, and at least how far about the place, the line is followed, metres. */
const BEYOND_M = 30;

/**
 * The contour line through a place, exact on the plane pieces of the ground, within a box. Null where the ground lies
 * level there, at the very top and bottom, and where nothing is known of its slope.
 */
export function contourThrough(ground: Ground, at: Point, box: Box): ContourArms | null {
  if (ground.knows !== 'slope' || !Number.isFinite(at[0] + at[1])) return null;
  const heightM = ground.heightAt(at).zM;
  const pieces = ground.faces(box).flatMap((face): Piece[] => {
    const piece = pieceAt(face, heightM);
    const clipped = piece && clippedToBox(piece[0], piece[1], box);
    return clipped ? [[clipped[0]!, clipped[1]!]] : [];
  });
  let best: { path: Path; closed: boolean; far: number } | null = null;
  for (const { path, closed } of joinedPieces(pieces)) {
    const whole = closed ? [...path, path[0]!] : path;
    const far = nearestOnPath(whole, at).distance;
    if (far <= ON_LINE_M && (!best || far < best.far)) best = { path: whole, closed, far };
  }
  if (!best) return null;
  const { path, closed } = best;
  const { segment } = nearestOnPath(path, at);
  const after = path.slice(segment + 1);
  const before = path.slice(0, segment + 1).toReversed();
  const arm = (rest: Path): Path => [at, ...rest.filter((p) => distance(p, at) > ON_LINE_M)];
  if (!closed) return [arm(after), arm(before)];
  // Once round, and back to the place.
  const round = [...after, ...path.slice(1, segment + 1)];
  return [
    [...arm(round), at],
    [...arm(round.toReversed()), at],
  ];
}

/** The contour line through a place of a plan, over all that is drawn on and about the place; remembered for one place. */
export function contourThroughPlan(
  plan: Pick<Plan, 'levels' | 'falls' | 'areas'>,
  at: Point,
): ContourArms | null {
  return remembered(plan.levels, plan.falls, plan.areas, at);
}

const remembered = memo(
  (levels: Plan['levels'], falls: Plan['falls'], areas: Plan['areas'], at: Point): ContourArms | null => {
    const drawn = groundBox({ areas, levels, falls });
    const box = boxOf([
      [at[0] - BEYOND_M, at[1] - BEYOND_M],
      [at[0] + BEYOND_M, at[1] + BEYOND_M],
      ...(drawn
        ? ([
            [drawn.minX - BEYOND_M, drawn.minY - BEYOND_M],
            [drawn.maxX + BEYOND_M, drawn.maxY + BEYOND_M],
          ] as Point[])
        : []),
    ]);
    return box && contourThrough(groundOf({ levels, falls }), at, box);
  },
);
