import { crossingShares } from '../../base/polyline.ts';
import { between, type Path, type Ring } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import { freshIds, remove, type Edit } from '../../plan/edits/index.ts';
import type { FlushEnd, Plan, Run } from '../../plan/records.ts';
import type { Filled } from './choices.ts';

/**
 * Puts a fill on the plan as one step: runs and flush ends under fresh ids. With `replace` the runs that lie wholly in
 * the bed go first, with what hangs on them.
 */
export function fillEdit(
  plan: Plan,
  areaId: string,
  filled: Filled,
  { replace }: { readonly replace: boolean },
): Edit {
  const gone = replace ? runsInBed(plan, areaId) : [];
  const name = plan.areas.get(areaId)?.name.trim() ?? '';
  return {
    label: name ? `Rows in ${name}` : 'Rows in a bed',
    apply(before) {
      const cleared = gone.length
        ? remove(
            '',
            gone.map(({ id }) => ({ table: 'runs', id }) as const),
          ).apply(before)
        : before;
      const runIds = freshIds(before, 'runs', filled.runs.length);
      const flushIds = freshIds(before, 'flushEnds', filled.flushEnds.length);
      const runs = filled.runs.map((run, i): Run => ({ ...run, id: runIds[i]! }));
      const flushEnds = filled.flushEnds.map(({ run, end }, i): FlushEnd => ({
        id: flushIds[i]!,
        runId: runIds[run]!,
        end,
      }));
      return {
        ...cleared,
        runs: cleared.runs.with(...runs),
        flushEnds: cleared.flushEnds.with(...flushEnds),
      };
    },
  };
}

/** Runs that lie wholly within the outline of a bed. */
export function runsInBed(plan: Plan, areaId: string): readonly Run[] {
  const bed = plan.areas.get(areaId);
  if (!bed) return [];
  return [...plan.runs].filter(({ path }) => path.length > 0 && liesIn(bed.outline, path));
}

function liesIn(outline: Ring, path: Path): boolean {
  if (!path.every((p) => polygonContains(outline, [], p))) return false;
  // Between corners the outline may still be left: look at the middle of each stretch between two crossings.
  return path.slice(1).every((b, i) => {
    const a = path[i]!;
    const shares = [
      0,
      ...outline.flatMap((c, k) => crossingShares(a, b, c, outline[(k + 1) % outline.length]!)),
      1,
    ].toSorted((s, t) => s - t);
    return shares
      .slice(1)
      .every(
        (t, k) => t - shares[k]! < 1e-9 || polygonContains(outline, [], between(a, b, (t + shares[k]!) / 2)),
      );
  });
}
