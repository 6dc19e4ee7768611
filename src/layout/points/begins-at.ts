import { distance, type Point } from '../../base/point.ts';
import { nearestOnPath } from '../../base/polyline.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan } from '../../plan/records.ts';
import { controlsFeeding } from './sources.ts';

/** Where new runs begin, for people: control sets, and runs that are there; `null` where at none of them. */
export function beginsAt(plan: Plan, paths: readonly (readonly Point[])[]): string | null {
  const isAt = (a: Point, b: Point): boolean => distance(a, b) <= JOINT_TOLERANCE_M;
  const names = paths.flatMap((path, i): string[] => {
    const at = path[0]!;
    const control = [...plan.controls].find((one) => isAt(one.at, at));
    if (control) return [control.name.trim() || control.id];
    if (paths.some((other, k) => k !== i && nearestOnPath(other, at).distance <= JOINT_TOLERANCE_M))
      return [];
    const run = [...plan.runs].find(
      ({ inline, path: own }) =>
        inline === null && own.length > 1 && nearestOnPath(own, at).distance <= JOINT_TOLERANCE_M,
    );
    if (!run) return [];
    const feeds = controlsFeeding(plan, run);
    const name = run.name.trim() || run.id;
    return [feeds.length ? `${name} (${feeds.join(', ')})` : name];
  });
  return names.length ? [...new Set(names)].join(', ') : null;
}
