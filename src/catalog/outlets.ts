import type { Entry } from './source.ts';

/** How an outlet's flow follows its pressure; the rated flow is chosen apart (`OutletChoice`). */
export interface OutletLaw extends Entry {
  readonly use: 'inline' | 'point';
  readonly compensating: boolean;
  /** Exponent x of q = k h^x; for a compensating outlet that below its range. */
  readonly exponent: number;
  /** Pressure at which a plain outlet gives its rated flow, kPa; for a compensating one where its range begins. */
  readonly ratedKpa: number;
  /** Pressures between which the outlet may be used, kPa. */
  readonly minKpa: number;
  readonly maxKpa: number;
  /** Length of tubing that stands for the loss at one emitter body or barb, metres. */
  readonly extraLengthM: number;
  /** Usual rated flows, L/h. */
  readonly flowsLph: readonly number[];
}

const PSI = 6.894757;
const GPH = 3.785412;
const plainRange = 'common practice: turbulent path, exponent 0.5; usual working range';
const pcRange = 'common practice: regulating band from 5 to 10 psi up to 50 to 60 psi';

export const OUTLET_LAWS: readonly OutletLaw[] = [
  {
    id: 'inline-pc',
    name: 'pressure-compensating',
    use: 'inline',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 7 * PSI,
    minKpa: 7 * PSI,
    maxKpa: 58 * PSI,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GPH, 0.4 * GPH, 0.6 * GPH, 0.9 * GPH],
    source: pcRange,
  },
  {
    id: 'inline-plain',
    name: 'not compensating',
    use: 'inline',
    compensating: false,
    exponent: 0.5,
    ratedKpa: 15 * PSI,
    minKpa: 8 * PSI,
    maxKpa: 30 * PSI,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GPH, 0.4 * GPH, 0.6 * GPH, 0.9 * GPH],
    source: plainRange,
  },
  {
    id: 'point-pc',
    name: 'pressure-compensating',
    use: 'point',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 10 * PSI,
    minKpa: 10 * PSI,
    maxKpa: 50 * PSI,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GPH, 1 * GPH, 2 * GPH, 4 * GPH],
    source: pcRange,
  },
  {
    id: 'point-plain',
    name: 'not compensating',
    use: 'point',
    compensating: false,
    exponent: 0.5,
    ratedKpa: 15 * PSI,
    minKpa: 8 * PSI,
    maxKpa: 30 * PSI,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GPH, 1 * GPH, 2 * GPH, 4 * GPH],
    source: plainRange,
  },
];

export function outletLawById(id: string): OutletLaw | undefined {
  return OUTLET_LAWS.find((law) => law.id === id);
}

export function outletLawsFor(use: OutletLaw['use']): readonly OutletLaw[] {
  return OUTLET_LAWS.filter((law) => law.use === use);
}
