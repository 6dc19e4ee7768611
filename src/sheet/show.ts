import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import { tubingById } from '../catalog/index.ts';
import { plantsOf } from '../plan/emitter-plants.ts';
import type { Plan, Run } from '../plan/records.ts';
import { WORDS } from './words.ts';

export type ShownKind = 'length' | 'spacing' | 'pressure' | 'outletFlow' | 'zoneFlow' | 'volume';

/** Figures of schedules in the units of the sheet; a dash for what is not known. */
export type Show = Readonly<Record<ShownKind, (value: number) => string>> & {
  /** From the lowest to the highest of the values that are known, with the unit said once. */
  readonly span: (kind: ShownKind, values: readonly number[]) => string;
  /** Bore and outside diameter of a tubing, by its id; the id itself where the catalog does not have it. */
  readonly tubing: (id: string) => string;
};

export function shower(units: UnitSystem): Show {
  return {
    length: (m) => formatQuantity('length', m, units),
    spacing: (m) => formatQuantity('spacing', m, units),
    pressure: (kPa) => formatQuantity('pressure', kPa, units),
    outletFlow: (lph) => formatQuantity('outletFlow', lph, units),
    zoneFlow: (lph) => formatQuantity('zoneFlow', lph, units),
    // What stays in a pipe is little: whole gallons or litres would hide it.
    volume: (litres) => formatQuantity('volume', litres, units, { digits: 2 }),
    span: (kind, values) => {
      const known = values.filter(Number.isFinite);
      if (known.length === 0) return WORDS.none;
      // Feet and inches carry their signs in the figure, so both ends have them.
      const unit = kind === 'length' && units === 'us';
      const from = formatQuantity(kind, lowest(known), units, { unit });
      const to = formatQuantity(kind, highest(known), units, { unit });
      const whole = formatQuantity(kind, highest(known), units);
      return from === to ? whole : WORDS.outlet.span(from, whole);
    },
    tubing: (id) => {
      const tubing = tubingById(id);
      if (!tubing) return id;
      const bore = formatQuantity('bore', tubing.innerDiameterMm, units, { unit: false });
      return WORDS.run.diameters(bore, formatQuantity('bore', tubing.outerDiameterMm, units));
    },
  };
}

export function lowest(values: readonly number[]): number {
  return values.reduce((least, value) => Math.min(least, value), Infinity);
}

export function highest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), -Infinity);
}

/** Name of a run, or its number in the plan when it has none. */
export function runName(plan: Plan, run: Run): string {
  return run.name || WORDS.run.unnamed(plan.runs.toArray().indexOf(run) + 1);
}

/** The plants that one emitter waters, as `plantName` has them. */
export function plantNames(plan: Plan, emitter: Parameters<typeof plantsOf>[0]): string {
  const names = plantsOf(emitter).flatMap((id) => (plan.plants.has(id) ? [plantName(plan, id)] : []));
  return names.length > 0 ? names.join(', ') : WORDS.none;
}

/** A plant by what it is and its tag on the drawing: `sage P3`, or `shrub P6` without a note of its species. */
export function plantName(plan: Plan, id: string | null): string {
  const plant = id === null ? undefined : plan.plants.get(id);
  if (!plant) return WORDS.none;
  return `${plant.name || WORDS.plant.classes[plant.plantClass]} ${plant.id}`;
}
