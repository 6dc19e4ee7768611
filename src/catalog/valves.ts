import { GPM_LPH, PSI_KPA } from '../base/units.ts';
import { lossPoints, OPEN_SHARE, type LossPoint, type Plausible, type SharePoint } from './loss.ts';
import type { Entry, Sourced } from './source.ts';

/** A diaphragm zone valve by nominal size, globe pattern. */
export interface ZoneValve extends Entry {
  readonly size: string;
  /** Flow up to which it is usually used, L/h. */
  readonly ratedFlowLph: number;
}

/** Body pattern of a zone valve and how its loss compares with that of the globe pattern. */
export interface ValvePattern extends Entry {
  readonly id: 'globe' | 'angle' | 'anti-siphon';
  readonly lossFactor: number;
}

// From memory, to be checked.
const source = 'common practice, typical values: 1 psi just open, 5 psi at the most flow usual for the size';
const valve = (size: string, ratedGpm: number): ZoneValve => ({
  id: `valve-${size}`,
  name: `${size} in zone valve`,
  size,
  ratedFlowLph: ratedGpm * GPM_LPH,
  source,
});

export const ZONE_VALVES: readonly ZoneValve[] = [
  valve('3/4', 15),
  valve('1', 30),
  valve('1-1/2', 100),
  valve('2', 160),
];

export const VALVE_PATTERNS: readonly ValvePattern[] = [
  { id: 'globe', name: 'globe', lossFactor: 1, source },
  {
    id: 'angle',
    name: 'angle',
    lossFactor: 0.7,
    // From memory, to be checked.
    source: 'common practice, typical values: straighter way through',
  },
  {
    id: 'anti-siphon',
    name: 'anti-siphon',
    lossFactor: 1.4,
    // From memory, to be checked.
    source: 'common practice, typical values: an atmospheric vacuum breaker after an angle pattern',
  },
];

/** Loss of the globe pattern over flow relative to rated flow: the spring and diaphragm first, then the square of flow. */
const TYPICAL: readonly SharePoint[] = [
  { flowShare: OPEN_SHARE, lossKpa: PSI_KPA },
  { flowShare: 0.25, lossKpa: 1.5 * PSI_KPA },
  { flowShare: 0.5, lossKpa: 2.5 * PSI_KPA },
  { flowShare: 1, lossKpa: 5 * PSI_KPA },
];
const FACTOR: Readonly<Record<Plausible, number>> = { lowest: 0.6, typical: 1, highest: 1.6 };

/**
 * Flow below which a diaphragm valve may fail to close, L/h, where the valve's own figure is not known: makers'
 * figures go from the lower to the upper one.
 */
export const VALVE_LEAST_FLOW: Sourced & { readonly fromLph: number; readonly toLph: number } = {
  fromLph: 0.25 * GPM_LPH,
  toLph: 2 * GPM_LPH,
  source: 'common practice: makers state 0.25 to 2 gpm',
};

/** A check valve set in tubing, where nothing is known of it: pressure that opens it and loss coefficient K open. */
export const CHECK_VALVE: Sourced & { readonly openKpa: number; readonly lossK: number } = {
  openKpa: PSI_KPA,
  lossK: 2.5,
  source:
    'opens at 1 psi: common practice; K of a swing check, open: EPANET 2.2 User Manual, EPA/600/R-20/133 (2020)',
};

/** The pattern that a written valve type names; an unknown one counts as globe. */
export function valvePattern(written: string | null): ValvePattern {
  const text = (written ?? '').toLowerCase();
  const id = /anti-?\s?siphon/.test(text) ? 'anti-siphon' : text.includes('angle') ? 'angle' : 'globe';
  return VALVE_PATTERNS.find((pattern) => pattern.id === id)!;
}

export function zoneValveBySize(size: string): ZoneValve | undefined {
  return ZONE_VALVES.find((entry) => entry.size === size);
}

/** Loss curve of an open zone valve of a nominal size and a pattern. */
export function zoneValveCurve(
  valve: ZoneValve,
  pattern: ValvePattern,
  which: Plausible = 'typical',
): LossPoint[] {
  const factor = pattern.lossFactor * FACTOR[which];
  return lossPoints(
    TYPICAL.map(({ flowShare, lossKpa }) => ({ flowShare, lossKpa: lossKpa * factor })),
    valve.ratedFlowLph,
  );
}
