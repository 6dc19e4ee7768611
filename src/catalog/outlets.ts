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
  /**
   * Coefficient of variation of new outlets at one pressure (standard deviation over mean); overridden where a
   * maker's figure is known.
   */
  readonly cv: number;
  /** With a built-in check: pressure below which it lets nothing out, kPa; `null` without one. */
  readonly closingKpa: number | null;
  /** Length of tubing that stands for the loss at one emitter body or barb, metres. */
  readonly extraLengthM: number;
  /** Usual rated flows, L/h. */
  readonly flowsLph: readonly number[];
}

// The bound is from memory, to be checked.
const variation = 'variation 0.05: bound of the best class of point sources, ASAE EP405';
const plainRange = `common practice: turbulent path, exponent 0.5; usual working range; ${variation}`;
const pcRange = `common practice: regulating band from 5 to 10 psi up to 50 to 60 psi; ${variation}`;
const checkRange = `${pcRange}; closes below about 2 psi, which holds back 4.6 ft of water: common practice`;
const CV = 0.05;
/** 4.6 ft of water are 2.0 psi. */
const CLOSING_KPA = 2 * PSI_KPA;

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
    cv: CV,
    closingKpa: null,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GALLON_L, 0.4 * GALLON_L, 0.6 * GALLON_L, 0.9 * GALLON_L],
    source: pcRange,
  },
  {
    id: 'inline-pc-check',
    name: 'pressure-compensating with check',
    use: 'inline',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 7 * PSI_KPA,
    minKpa: 7 * PSI_KPA,
    maxKpa: 58 * PSI_KPA,
    cv: CV,
    closingKpa: CLOSING_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.26 * GALLON_L, 0.4 * GALLON_L, 0.6 * GALLON_L, 0.9 * GALLON_L],
    source: checkRange,
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
    cv: CV,
    closingKpa: null,
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
    cv: CV,
    closingKpa: null,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L, 4 * GALLON_L],
    source: pcRange,
  },
  {
    id: 'point-pc-check',
    name: 'pressure-compensating with check',
    use: 'point',
    compensating: true,
    exponent: 0.5,
    ratedKpa: 10 * PSI_KPA,
    minKpa: 10 * PSI_KPA,
    maxKpa: 50 * PSI_KPA,
    cv: CV,
    closingKpa: CLOSING_KPA,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L, 4 * GALLON_L],
    source: checkRange,
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
    cv: CV,
    closingKpa: null,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L, 4 * GALLON_L],
    source: plainRange,
  },
  {
    id: 'point-long-path',
    name: 'long path, laminar',
    use: 'point',
    compensating: false,
    exponent: 1,
    ratedKpa: 15 * PSI_KPA,
    minKpa: 5 * PSI_KPA,
    maxKpa: 30 * PSI_KPA,
    cv: CV,
    closingKpa: null,
    extraLengthM: 0.1,
    flowsLph: [0.5 * GALLON_L, 1 * GALLON_L, 2 * GALLON_L],
    source: `common practice: laminar path, exponent 1, flow rises with the water's warmth; ${variation}`,
  },
];

export function outletLawById(id: string): OutletLaw | undefined {
  return OUTLET_LAWS.find((law) => law.id === id);
}

export function outletLawsFor(use: OutletLaw['use']): readonly OutletLaw[] {
  return OUTLET_LAWS.filter((law) => law.use === use);
}
