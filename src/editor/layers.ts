import type { Subject } from '../drawing/index.ts';
import type { Ref, TableName } from '../plan/records.ts';

/** What of a plan can be hidden and locked together, from below to above. */
export const PLAN_LAYERS = ['photo', 'areas', 'heights', 'old', 'plants', 'drip', 'supply', 'names'] as const;
export type PlanLayer = (typeof PLAN_LAYERS)[number];

interface LayerHolds {
  readonly subjects: readonly Subject[];
  /** Tables whose records are then neither shown nor caught by the pointer. */
  readonly tables: readonly TableName[];
}

export const LAYER_HOLDS: Readonly<Record<PlanLayer, LayerHolds>> = {
  photo: { subjects: ['photo'], tables: [] },
  areas: { subjects: ['areas', 'slopes', 'areaNames', 'areaSizes', 'dimensions'], tables: ['areas'] },
  heights: { subjects: ['contours', 'levels', 'falls', 'levelHeights'], tables: ['levels', 'falls'] },
  old: { subjects: ['laterals', 'sectors', 'heads', 'headTags'], tables: ['heads', 'laterals'] },
  plants: {
    subjects: ['plants', 'plantNames', 'plantTags', 'rootZonesNow', 'rootZonesMature'],
    tables: ['plants'],
  },
  drip: {
    subjects: ['tubing', 'outlets', 'runNames', 'emitterNumbers', 'wetted'],
    tables: ['runs', 'checkValves', 'flushEnds', 'lineParts', 'emitters', 'fills'],
  },
  supply: { subjects: ['controls', 'supplies'], tables: ['controls', 'supplies'] },
  names: { subjects: ['areaNames', 'plantNames', 'runNames', 'levelHeights', 'headTags'], tables: [] },
};

/** Layers that can be kept from being touched: those that hold records. */
export const LOCKABLE: readonly PlanLayer[] = PLAN_LAYERS.filter(
  (layer) => LAYER_HOLDS[layer].tables.length > 0,
);

/** What the layers are called. */
export const LAYER_NAMES: Readonly<Record<PlanLayer, string>> = {
  photo: 'Site photo',
  areas: 'Beds, paving, lawns',
  heights: 'Levels, falls, contours',
  old: 'Old heads and pipe',
  plants: 'Plants',
  drip: 'Drip tubing and outlets',
  supply: 'Valves and control sets',
  names: 'Names and figures',
};

export interface LayerState {
  readonly hidden: readonly PlanLayer[];
  readonly locked: readonly PlanLayer[];
}

export const ALL_SHOWN: LayerState = { hidden: [], locked: [] };

/** Whether a record can be chosen and moved: its layer is shown and not locked. */
export function mayTouch({ hidden, locked }: LayerState, { table }: Pick<Ref, 'table'>): boolean {
  if (!hidden.length && !locked.length) return true;
  return ![...hidden, ...locked].some((layer) => LAYER_HOLDS[layer].tables.includes(table));
}

/** What is left of subjects when the hidden layers are taken away; the same set where none is. */
export function shownSubjects(show: ReadonlySet<Subject>, { hidden }: LayerState): ReadonlySet<Subject> {
  if (!hidden.length) return show;
  const gone = new Set(hidden.flatMap((layer) => LAYER_HOLDS[layer].subjects));
  return new Set([...show].filter((subject) => !gone.has(subject)));
}
