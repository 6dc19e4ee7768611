import { FOOT_M, GPM_LPH, PSI_KPA } from '../base/units.ts';
import { lossPoints, OPEN_SHARE, type LossPoint, type Plausible, type SharePoint } from './loss.ts';
import type { Entry } from './source.ts';

/**
 * A kind of backflow preventer. What may be used where is set by the water purveyor and the local code; the height
 * rules here only serve to raise a warning. A test by a certified person is due where the code asks for it.
 */
export interface BackflowType extends Entry {
  readonly id: 'AVB' | 'PVB' | 'DC' | 'RP';
  /** Loss curves, flow relative to the rated flow of the size. Get the maker's curve where it matters. */
  readonly curves: Readonly<Record<Plausible, readonly SharePoint[]>>;
  /** Least height above the highest outlet after it, metres; `null` where it does not rely on height. */
  readonly aboveOutletsM: number | null;
  /** Most hours in a day that it may be under pressure; `null` is no limit. */
  readonly mostHoursPerDay: number | null;
  /** Whether a shut-off or control valve may stand after it. */
  readonly valveAfter: boolean;
}

const heights =
  'height, hours and valve rules: city backflow ordinances (Paris TX; Gilbert AZ); the local code decides';
// The rise towards rated flow is from memory, to be checked.
const loss = (range: string) =>
  `${range} at drip flows, rise towards rated flow: common practice, typical values; ${heights}`;

/** Curves over a range in psi: nearly flat, as the springs and not the waterways take most of it. */
function curves(lowPsi: number, highPsi: number): BackflowType['curves'] {
  const at = (flowShare: number, part: number): SharePoint => ({
    flowShare,
    lossKpa: (lowPsi + part * (highPsi - lowPsi)) * PSI_KPA,
  });
  return {
    lowest: [at(OPEN_SHARE, 0), at(0.5, 0.1), at(1, 0.3)],
    typical: [at(OPEN_SHARE, 0.3), at(0.25, 0.45), at(0.5, 0.55), at(1, 0.8)],
    highest: [at(OPEN_SHARE, 0.8), at(0.5, 0.9), at(1, 1)],
  };
}

export const BACKFLOW_TYPES: readonly BackflowType[] = [
  {
    id: 'AVB',
    name: 'atmospheric vacuum breaker',
    curves: curves(1, 3),
    aboveOutletsM: 0.5 * FOOT_M,
    mostHoursPerDay: 12,
    valveAfter: false,
    source: loss('1 to 3 psi'),
  },
  {
    id: 'PVB',
    name: 'pressure vacuum breaker',
    curves: curves(2, 5),
    aboveOutletsM: FOOT_M,
    mostHoursPerDay: null,
    valveAfter: true,
    source: loss('2 to 5 psi'),
  },
  {
    id: 'DC',
    name: 'double check',
    curves: curves(3, 6),
    aboveOutletsM: null,
    mostHoursPerDay: null,
    valveAfter: true,
    source: loss('3 to 6 psi'),
  },
  {
    id: 'RP',
    name: 'reduced-pressure device',
    curves: curves(10, 14),
    aboveOutletsM: null,
    mostHoursPerDay: null,
    valveAfter: true,
    source: loss('10 to 14 psi'),
  },
];

/** Rated flow by nominal size, gpm (ASSE 1013 and 1015 rated flows, from memory). */
const RATED_GPM: Readonly<Record<string, number>> = {
  '3/4': 30,
  '1': 50,
  '1-1/4': 75,
  '1-1/2': 100,
  '2': 160,
};

/** Nominal sizes that backflow curves are known for. */
export const BACKFLOW_SIZES: readonly string[] = ['3/4', '1', '1-1/4', '1-1/2', '2'];

/** A type as written: `RP`, `rpz`, `reduced pressure`, `PVB`, `double check` and the like. */
const WRITTEN: readonly (readonly [RegExp, BackflowType['id']])[] = [
  [/^(?:s?pvb|pressure vacuum|spill)/i, 'PVB'],
  [/^(?:avb|atmospheric|anti-?\s?siphon)/i, 'AVB'],
  [/^(?:rpz?|rpba|rpp|rp device|reduced)/i, 'RP'],
  [/^(?:dc|dcv|dcva|double)/i, 'DC'],
];

export function backflowType(written: string): BackflowType | undefined {
  const id = WRITTEN.find(([pattern]) => pattern.test(written.trim()))?.[1];
  return BACKFLOW_TYPES.find((type) => type.id === id);
}

/**
 * Loss curve of a type in a nominal size (`3/4`, `1` ...); `undefined` where the size is not among those known.
 * Rises from the first point on.
 */
export function backflowCurve(
  type: BackflowType,
  size: string,
  which: Plausible = 'typical',
): LossPoint[] | undefined {
  const ratedGpm = Object.hasOwn(RATED_GPM, size) ? RATED_GPM[size] : undefined;
  return ratedGpm === undefined ? undefined : lossPoints(type.curves[which], ratedGpm * GPM_LPH);
}
