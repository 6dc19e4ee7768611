import { GALLON_L, PSI_KPA } from '../base/units.ts';
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

const plainRange = 'common practice: turbulent path, exponent 0.5; usual working range';
const pcRange = 'common practice: regulating band from 5 to 10 psi up to 50 to 60 psi';

export const OUTLET_LAWS: readonly OutletLaw[] = [
  {
    id: 'inline-pc',
    name: 'pressure-compensating',
    use: 'inline',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 7 * PSI_KPA,
    minKpa: 7 * PSI_KPA,
    maxKpa: 58 * PSI_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GALLON_L, 0.4 * GALLON_L, 0.6 * GALLON_L, 0.9 * GALLON_L],
    source: pcRange,
  },
  {
    id: 'inline-plain',
    name: 'not compensating',
    use: 'inline',
    compensating: false,
    exponent: 0.5,
    ratedKpa: 15 * PSI_KPA,
    minKpa: 8 * PSI_KPA,
    maxKpa: 30 * PSI_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GALLON_L, 0.4 * GALLON_L, 0.6 * GALLON_L, 0.9 * GALLON_L],
    source: plainRange,
  },
  {
    id: 'point-pc',
    name: 'pressure-compensating',
    use: 'point',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 10 * PSI_KPA,
    minKpa: 10 * PSI_KPA,
    maxKpa: 50 * PSI_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L, 4 * GALLON_L],
    source: pcRange,
  },
  {
    id: 'point-plain',
    name: 'not compensating',
    use: 'point',
    compensating: false,
    exponent: 0.5,
    ratedKpa: 15 * PSI_KPA,
    minKpa: 8 * PSI_KPA,
    maxKpa: 30 * PSI_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L, 4 * GALLON_L],
    source: plainRange,
  },
];

export function outletLawById(id: string): OutletLaw | undefined {
  return OUTLET_LAWS.find((law) => law.id === id);
}

export function outletLawsFor(use: OutletLaw['use']): readonly OutletLaw[] {
  return OUTLET_LAWS.filter((law) => law.use === use);
}
