import { between, boxOf, distance, polar, type Path, type Point } from '../../base/point.ts';
import { crossingShares } from '../../base/polyline.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Area, Plan } from '../../plan/records.ts';
import type { NewRun } from '../rows/index.ts';
import { meet, runsOf } from './places.ts';

/** Ground that is full of rows, which leads go round, and what they cross nevertheless. */

/** At how many places paths pass over runs without a joint. */
export function crossingsOf(paths: readonly Path[], runs: readonly Pick<NewRun, 'path'>[]): number {
  const box = boxOf(paths.flat());
  if (!box) return 0;
  const isJoint = (path: Path, p: Point): boolean => path.some((q) => distance(p, q) <= JOINT_TOLERANCE_M);
  let count = 0;
  for (const { path: run } of runs) {
    const own = boxOf(run);
    if (!own || !meet(own, box)) continue;
    for (const path of paths) {
      for (let i = 1; i < path.length; i++) {
        const [a, b] = [path[i - 1]!, path[i]!];
        for (let k = 1; k < run.length; k++) {
          for (const share of crossingShares(a, b, run[k - 1]!, run[k]!)) {
            const p = between(a, b, share);
            if (!isJoint(path, p) && !isJoint(run, p)) count += 1;
          }
        }
      }
    }
  }
  return count;
}

/**
 * Areas, with all ground that is full of rows as if it were paved: other beds, the bed itself, and rings round trees,
 * each with what lies inside of its outermost ring.
 */
export function withRowsPaved(
  plan: Plan,
  areas: readonly Area[],
  laid: readonly Pick<NewRun, 'path' | 'inline'>[],
  areaId: string | undefined,
): readonly Area[] {
  const paved = (id: string, outline: Path): Area => ({ id, use: 'paving', name: '', outline, holes: [] });
  const trees = [...plan.fills].flatMap((fill): Area[] => {
    const tree = fill.kind === 'tree' ? plan.plants.get(fill.plantId) : undefined;
    const leads = new Set(fill.leadIds);
    const rings = runsOf(plan, fill).filter(({ id, inline }) => inline !== null && !leads.has(id));
    if (!tree || rings.length === 0) return [];
    const radiusM = Math.max(...rings.flatMap(({ path }) => path.map((p) => distance(p, tree.at))));
    return [paved(`rings ${fill.id}`, circle(tree.at, radiusM + ROUND_RINGS_M))];
  });
  if (areaId !== undefined) {
    const own = areas.map((area) => (area.id === areaId ? { ...area, use: 'paving' as const } : area));
    return [...withFullBedsPaved(plan, own), ...trees];
  }
  const box = boxOf(laid.flatMap(({ path, inline }) => (inline ? path : [])));
  if (!box) return [...withFullBedsPaved(plan, areas), ...trees];
  const middle: Point = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  const radiusM = Math.max(box.maxX - box.minX, box.maxY - box.minY) / 2;
  return [...withFullBedsPaved(plan, areas), ...trees, paved('own rings', circle(middle, radiusM))];
}

/** A lead passes rings by this much, metres. */
const ROUND_RINGS_M = 0.1;

const circle = (at: Point, radiusM: number): Path =>
  Array.from({ length: 24 }, (_, i) => polar(at, radiusM, i * 15));

/** Areas, with beds that are full of rows as if they were paved: a lead goes round them where it can. */
export function withFullBedsPaved(plan: Plan, areas: readonly Area[]): readonly Area[] {
  const full = new Set(
    [...plan.fills].flatMap((fill) =>
      fill.kind === 'bed' && fill.runIds.some((id) => plan.runs.has(id)) ? [fill.areaId] : [],
    ),
  );
  return areas.map((area) =>
    area.use === 'bed' && full.has(area.id) ? { ...area, use: 'paving' as const } : area,
  );
}
