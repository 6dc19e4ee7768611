import type { UnitSystem } from '../base/quantity.ts';

/** A drawing scale: one length on paper is `ratio` such lengths on the ground. */
export interface Scale {
  readonly id: ScaleId;
  readonly units: UnitSystem;
  readonly ratio: number;
  readonly name: string;
}

export const SCALE_IDS = [
  '1in=4ft',
  '1in=5ft',
  '1in=10ft',
  '1in=20ft',
  '1:25',
  '1:50',
  '1:100',
  '1:200',
] as const;
export type ScaleId = (typeof SCALE_IDS)[number];

const INCHES_IN_FOOT = 12;

/** Largest first within each system. */
export const SCALES: readonly Scale[] = [
  { id: '1in=4ft', units: 'us', ratio: 4 * INCHES_IN_FOOT, name: '1 in = 4 ft' },
  { id: '1in=5ft', units: 'us', ratio: 5 * INCHES_IN_FOOT, name: '1 in = 5 ft' },
  { id: '1in=10ft', units: 'us', ratio: 10 * INCHES_IN_FOOT, name: '1 in = 10 ft' },
  { id: '1in=20ft', units: 'us', ratio: 20 * INCHES_IN_FOOT, name: '1 in = 20 ft' },
  { id: '1:25', units: 'metric', ratio: 25, name: '1 : 25' },
  { id: '1:50', units: 'metric', ratio: 50, name: '1 : 50' },
  { id: '1:100', units: 'metric', ratio: 100, name: '1 : 100' },
  { id: '1:200', units: 'metric', ratio: 200, name: '1 : 200' },
];

export function scaleById(id: ScaleId): Scale {
  return SCALES.find((scale) => scale.id === id)!;
}

/** Scales of a unit system, largest first. */
export function scalesFor(units: UnitSystem): readonly Scale[] {
  return SCALES.filter((scale) => scale.units === units);
}

/** Millimetres of paper to one metre of ground. */
export function mmPerMetre(scale: Scale): number {
  return 1000 / scale.ratio;
}
