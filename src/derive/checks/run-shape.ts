import { distance, type Path } from '../../base/point.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';

/** Whether a path comes back to where it began: a ring. */
export function isClosed(path: Path): boolean {
  const [first, last] = [path[0], path.at(-1)];
  return path.length > 3 && first !== undefined && distance(first, last!) <= JOINT_TOLERANCE_M;
}
