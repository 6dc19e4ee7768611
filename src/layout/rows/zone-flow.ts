import { distance, type Point } from '../../base/point.ts';
import { distanceToRing } from '../../base/polygon.ts';
import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { isAbove } from '../../derive/wording.ts';
import type { Plan } from '../../plan/records.ts';
import type { ZoneFlowNote } from './choices.ts';

const widest = (flows: readonly number[]): number => flows.reduce((most, flow) => Math.max(most, flow), 0);
const REGULATOR_MOST_LPH = widest(REGULATORS.map(({ maxFlowLph }) => maxFlowLph));
const FILTER_MOST_LPH = widest(FILTERS.map(({ ratedFlowLph }) => ratedFlowLph));

function nearest<T extends { readonly at: Point }>(list: Iterable<T>, away: (at: Point) => number): T | null {
  let best: T | null = null;
  for (const one of list) {
    if (!one.at.every(Number.isFinite)) continue;
    if (best === null || away(one.at) < away(best.at)) best = one;
  }
  return best;
}

/**
 * Whether the flow of a bed passes the regulator and the filter of the nearest control set, and the valve nearest to
 * that. Without a control set the largest parts of the catalog are asked.
 * @param flowLph of all emitters of the bed, L/h
 */
export function zoneFlowNote(
  plan: Pick<Plan, 'areas' | 'controls' | 'supplies'>,
  areaId: string,
  flowLph: number,
): ZoneFlowNote[] {
  const outline = plan.areas.get(areaId)?.outline ?? [];
  if (outline.length === 0) return [];
  const control = nearest(plan.controls, (at) => distanceToRing(outline, at));
  const supply = nearest(plan.supplies, (at) =>
    control ? distance(control.at, at) : distanceToRing(outline, at),
  );
  const parts = [
    {
      part: 'regulator' as const,
      mostLph: (control && regulatorById(control.regulator)?.maxFlowLph) ?? REGULATOR_MOST_LPH,
    },
    {
      part: 'filter' as const,
      mostLph: (control && filterById(control.filter)?.ratedFlowLph) ?? FILTER_MOST_LPH,
    },
    { part: 'valve' as const, mostLph: supply?.maxFlowLph ?? Infinity },
  ];
  const over = parts.filter(({ mostLph }) => isAbove(flowLph, mostLph));
  if (over.length === 0) return [];
  const mostLph = Math.min(REGULATOR_MOST_LPH, FILTER_MOST_LPH, supply?.maxFlowLph ?? Infinity);
  return [
    {
      kind: 'zone-flow',
      flowLph,
      control: control ? control.name.trim() || control.id : null,
      over,
      largerParts: !isAbove(flowLph, mostLph),
      zones: mostLph > 0 ? Math.max(2, Math.ceil(flowLph / mostLph - 1e-6)) : 2,
    },
  ];
}
