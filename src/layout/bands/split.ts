import { nearestOnPath } from '../../base/polyline.ts';
import type { Point } from '../../base/point.ts';
import { ON_TUBING_M } from '../../plan/joining.ts';
import { freshIds, type Edit } from '../../plan/edits/index.ts';
import type { Area, Fill, Plan, Run } from '../../plan/records.ts';
import { layFill } from '../live/index.ts';
import { withFilled, withoutRuns } from '../rows/index.ts';
import type { Bands } from './bands-of.ts';

type BedFill = Fill & { readonly kind: 'bed' };

/**
 * Splits a bed into its bands as one step: the lowest keeps the bed's id, the others and further parts get fresh ones,
 * named after the bed. Plants stay where they are. Rows that follow the bed are laid anew by the same choices in each
 * band, and what sat on them goes to the nearest new tubing of its kind; rows changed by hand, and those drawn by hand,
 * stay as plain runs. Areas that were left out of other fills stay left out in all their parts. Leaves a plan without
 * the bed, or one band in one part, as it is.
 */
export function splitEdit(areaId: string, { bands }: Bands): Edit {
  return {
    label: 'Split into bands',
    apply(before) {
      const bed = before.areas.get(areaId);
      const count = bands.reduce((sum, { parts }) => sum + parts.length, 0);
      if (!bed || count < 2) return before;
      const areas = newBeds(before, bed, bands);
      const fills = [...before.fills].filter(
        (fill): fill is BedFill => fill.kind === 'bed' && fill.areaId === areaId,
      );
      const fill = fills.findLast(({ byHand }) => !byHand);
      const ids = areas.map(({ id }) => id);
      const split: Plan = { ...before, areas: before.areas.with(...areas) };
      return fill
        ? withRowsIn(withLeftOut(split, areaId, ids), fill, fills, ids)
        : withLeftOut(withoutRuns(split, [], fills), areaId, ids);
    },
  };
}

function newBeds(plan: Plan, bed: Area, bands: Bands['bands']): Area[] {
  const name = bed.name.trim() || `Bed ${bed.id}`;
  const whole = bands.flatMap(({ number, parts }) =>
    parts.map(({ outline, holes }, i) => ({
      outline,
      holes,
      name: `${name}, band ${number}${endOf(number, bands.length)}${parts.length > 1 ? `, part ${i + 1}` : ''}`,
    })),
  );
  const ids = [bed.id, ...freshIds(plan, 'areas', whole.length - 1)];
  return whole.map((fields, i): Area => ({ ...bed, ...fields, id: ids[i]! }));
}

const endOf = (number: number, count: number): string =>
  number === 1 ? ' (lowest)' : number === count ? ' (highest)' : '';

/** Fills of other places that left the bed out leave all its parts out. */
function withLeftOut(plan: Plan, areaId: string, ids: readonly string[]): Plan {
  const others = [...plan.fills].flatMap((fill): Fill[] =>
    fill.kind === 'bed' && fill.areaId !== areaId && fill.choices.leaveOut.includes(areaId)
      ? [{ ...fill, choices: { ...fill.choices, leaveOut: [...fill.choices.leaveOut, ...ids.slice(1)] } }]
      : [],
  );
  return others.length ? { ...plan, fills: plan.fills.with(...others) } : plan;
}

/** The bed's rows in each band. A band in which none fits gets none. */
function withRowsIn(plan: Plan, fill: BedFill, fills: readonly BedFill[], ids: readonly string[]): Plan {
  const old = fill.runIds.flatMap((id) => plan.runs.get(id) ?? []);
  const lead = fill.leadIds !== undefined;
  const cleared = withoutRuns(plan, old, fills);
  const filled = ids.reduce((next, areaId) => {
    const { choices, leadFrom } = fill;
    const place = { kind: 'bed', areaId, choices, ...(leadFrom !== undefined && { leadFrom }) } as const;
    const laid = layFill(next, place, { lead });
    // Ids of the runs before are not used again, so that nothing is taken for them.
    const taken = { ...next, runs: next.runs.with(...old) };
    return laid.ok
      ? withFilled(taken, next, laid.value, place, lead ? laid.value.leads.runs.length : null)
      : next;
  }, cleared);
  const fresh = [...filled.runs].filter(({ id }) => !plan.runs.has(id));
  return withPartsOf(filled, plan, old, fresh);
}

/** Check valves, line parts and emitters of runs that are gone, on the nearest of the new ones. */
function withPartsOf(plan: Plan, before: Plan, old: readonly Run[], fresh: readonly Run[]): Plan {
  const was = new Map(old.map((run) => [run.id, run]));
  const nearest = (runId: string, at: Point): { readonly runId: string; readonly at: Point } | null => {
    const isBlank = was.get(runId)!.inline === null;
    const kind = fresh.filter(({ inline }) => (inline === null) === isBlank);
    let best: { runId: string; at: Point; far: number } | null = null;
    for (const { id, path } of kind.length ? kind : fresh) {
      const near = nearestOnPath(path, at);
      if (!best || near.distance < best.far) best = { runId: id, at: near.point, far: near.distance };
    }
    return best && { runId: best.runId, at: best.at };
  };
  const seated = <T extends { readonly runId: string; readonly at: Point }>(records: Iterable<T>): T[] =>
    [...records].flatMap((record): T[] => {
      const on = was.get(record.runId);
      const to = on && nearest(record.runId, record.at);
      if (!on || !to) return [];
      // An emitter beside the tubing keeps its place.
      const sat = nearestOnPath(on.path, record.at).distance <= ON_TUBING_M;
      return [{ ...record, runId: to.runId, at: sat ? to.at : record.at }];
    });
  return {
    ...plan,
    checkValves: plan.checkValves.with(...seated(before.checkValves)),
    lineParts: plan.lineParts.with(...seated(before.lineParts)),
    emitters: plan.emitters.with(...seated(before.emitters)),
  };
}
