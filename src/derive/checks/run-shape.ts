import { distance, type Path } from '../../base/point.ts';
import { ringArea } from '../../base/polygon.ts';
import { pathLength } from '../../base/polyline.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';

/** Whether a path comes back to where it began: a ring. */
export function isClosed(path: Path): boolean {
  const [first, last] = [path[0], path.at(-1)];
  return path.length > 3 && first !== undefined && distance(first, last!) <= JOINT_TOLERANCE_M;
}

/** What a rectangle three times as long as wide has of `4 pi area / length^2`, of which a circle has 1. */
const LONG_SHARE = (4 * Math.PI * 3) / 8 ** 2;

/** Whether a path is a ring about as wide as long, which runs in no direction; at 3 to 1 it is a long loop. */
export function isRound(path: Path): boolean {
  if (!isClosed(path)) return false;
  return (4 * Math.PI * Math.abs(ringArea(path))) / pathLength(path) ** 2 > LONG_SHARE;
}
