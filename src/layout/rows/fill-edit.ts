import { crossingShares } from '../../base/polyline.ts';
import { between, boxOf, type Path, type Point, type Ring } from '../../base/point.ts';
import { polygonContains } from '../../base/polygon.ts';
import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, Run } from '../../plan/records.ts';
import type { FillChoices, Filled } from './choices.ts';
import { withFilled, withoutRuns } from './put-fill.ts';

/**
 * Puts the rows of a bed on the plan as one step: runs and flush ends under fresh ids. With `choices` the plan remembers
 * how they came about, so that they follow the bed. With `replace` an earlier fill of the bed and the runs that lie
 * wholly in it go first, with what hangs on them.
 */
export function fillEdit(
  plan: Plan,
  areaId: string,
  filled: Filled & { readonly leads?: { readonly runs: readonly unknown[] } },
  {
    replace,
    choices = null,
    lead = false,
    leadFrom,
  }: {
    readonly replace: boolean;
    readonly choices?: FillChoices | null;
    /** Whether water is to be led to it, by the last of its runs. */
    readonly lead?: boolean;
    /** The control set that it is to be led from; the nearest where it is left out. */
    readonly leadFrom?: string | undefined;
  },
): Edit {
  const gone = replace ? runsReplaced(plan, areaId) : [];
  const name = plan.areas.get(areaId)?.name.trim() ?? '';
  return {
    label: name ? `Rows in ${name}` : 'Rows in a bed',
    apply(before) {
      const earlier = replace
        ? [...before.fills].filter((fill) => fill.kind === 'bed' && fill.areaId === areaId)
        : [];
      const cleared = withoutRuns(before, gone, earlier);
      const place =
        choices && cleared.areas.has(areaId)
          ? ({ kind: 'bed', areaId, choices, ...(leadFrom !== undefined && { leadFrom }) } as const)
          : null;
      return withFilled(before, cleared, filled, place, lead ? (filled.leads?.runs.length ?? 0) : null);
    },
  };
}

/** The plan from which an earlier fill of a bed, and what lies in it, are gone, as `fillEdit` with `replace` clears it. */
export function clearedOf(plan: Plan, areaId: string): Plan {
  const earlier = [...plan.fills].filter((fill) => fill.kind === 'bed' && fill.areaId === areaId);
  return withoutRuns(plan, runsReplaced(plan, areaId), earlier);
}

/** What goes when a bed is filled anew: the runs of its fill, and others that lie wholly in it but belong to no fill. */
export function runsReplaced(plan: Plan, areaId: string): readonly Run[] {
  const own = new Set<string>();
  const others = new Set<string>();
  for (const fill of plan.fills) {
    const ids = fill.kind === 'bed' && fill.areaId === areaId ? own : others;
    for (const id of fill.runIds) ids.add(id);
  }
  const inBed = new Set(runsInBed(plan, areaId).map(({ id }) => id));
  return [...plan.runs].filter(({ id }) => own.has(id) || (inBed.has(id) && !others.has(id)));
}

/** Runs that lie wholly within the outline of a bed. */
export function runsInBed(plan: Plan, areaId: string): readonly Run[] {
  const bed = plan.areas.get(areaId);
  if (!bed) return [];
  const box = boxOf(bed.outline);
  if (!box) return [];
  const isAbout = ([x, y]: Point): boolean =>
    x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
  return [...plan.runs].filter(
    ({ path }) => path.length > 0 && path.every(isAbout) && liesIn(bed.outline, path),
  );
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
