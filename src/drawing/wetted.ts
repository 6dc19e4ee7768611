import { memo } from '../base/memo.ts';
import type { Table } from '../base/table.ts';
import type { Results } from '../derive/results.ts';
import { rootZone, rootZoneNow } from '../derive/root-zone.ts';
import { wettedAreas, wetOutline, type WettingOutlet, type WettingPlan } from '../derive/wetting/index.ts';
import { refKey, type Plan, type Plant } from '../plan/records.ts';
import { PEN } from './inks.ts';
import type { LegendEntry } from './legend.ts';
import type { Mark, Pen } from './marks.ts';
import type { Subject } from './options.ts';
import { inlinePlaces } from './outlets.ts';

/** Wet soil is a stain without an outline: faint enough that what lies below stays readable. */
export const WETTED_OPACITY = 0.2;
export const ROOTS_NOW: Pen = { ink: 'old', widthMm: PEN.fine };
export const ROOTS_MATURE: Pen = { ink: 'old', widthMm: PEN.fine, dashMm: [0.5, 0.9] };

/** Outlets of runs and emitters by their rated flows, while nothing is computed. */
const ratedOutlets = memo((runs: Plan['runs'], emitters: Plan['emitters']): readonly WettingOutlet[] => [
  ...runs
    .toArray()
    .flatMap((run) => inlinePlaces(run).map((at) => ({ at, ratedFlowLph: run.inline!.ratedFlowLph }))),
  ...emitters.toArray().map(({ at, ratedFlowLph }) => ({ at, ratedFlowLph })),
]);

/** The outlets below which soil gets wet: as solved, else by their rated flows. The same list for the same tables. */
export function wettingOutlets(
  plan: Pick<Plan, 'runs' | 'emitters'>,
  results: Results | null,
): readonly WettingOutlet[] {
  return results?.outlets ?? ratedOutlets(plan.runs, plan.emitters);
}

/** The wet soil below outlets, filled once however much they overlap. */
export function wettedMarks(plan: WettingPlan, outlets: readonly WettingOutlet[]): Mark[] {
  return wetOutline(wettedAreas(plan, outlets)).map(({ rings }): Mark => ({
    kind: 'path',
    lines: rings,
    closed: true,
    fill: 'water',
    fillOpacity: WETTED_OPACITY,
  }));
}

/** Quiet rings about the root zones: of the plants as they stand where that is measured, or grown. */
export function rootZoneMarks(plants: Table<Plant>, when: 'now' | 'mature'): Mark[] {
  const pen = when === 'now' ? ROOTS_NOW : ROOTS_MATURE;
  return plants.toArray().flatMap((plant): Mark[] => {
    const zone = when === 'now' ? rootZoneNow(plant) : rootZone(plant);
    if (!zone) return [];
    const owner = refKey({ table: 'plants', id: plant.id });
    return [{ kind: 'circle', owner, at: plant.at, radiusM: zone.outerM, pen }];
  });
}

/** Signs of what is shown of roots and wet soil. */
export function wettingLegend(show: ReadonlySet<Subject>): LegendEntry[] {
  const entries: LegendEntry[] = [];
  if (show.has('wetted')) {
    const pen: Pen = { ink: 'water', widthMm: 0 };
    const round = { fill: 'water', opacity: WETTED_OPACITY, pen } as const;
    entries.push({ kind: 'mark', sample: { round, symbols: [] }, words: 'soil that gets wet' });
  }
  if (show.has('rootZonesNow'))
    entries.push({
      kind: 'mark',
      sample: { round: { pen: ROOTS_NOW }, symbols: [] },
      words: 'root zone now',
    });
  if (show.has('rootZonesMature')) {
    const sample = { round: { pen: ROOTS_MATURE }, symbols: [] };
    entries.push({ kind: 'mark', sample, words: 'root zone of the grown plant' });
  }
  return entries;
}
