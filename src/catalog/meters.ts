import { GPM_LPH, PSI_KPA } from '../base/units.ts';
import type { LossPoint } from './loss.ts';
import type { Entry } from './source.ts';

/** A displacement water meter by its nominal size, inches. */
export interface Meter extends Entry {
  readonly size: string;
  /** Safe maximum flow, L/h; designers use about three quarters of it. */
  readonly safeMaxLph: number;
  /** Loss at the safe maximum flow, kPa; it grows with the square of flow. */
  readonly lossAtMaxKpa: number;
}

/** Share of a meter's safe maximum flow that designs keep to (common practice, from memory). */
export const METER_DESIGN_SHARE = 0.75;

// From memory, to be checked.
const source =
  'ANSI/AWWA C700, displacement meters: safe maximum flow, loss there under 15 psi; 11 to 13 psi taken: common practice, typical values';

const meter = (size: string, maxGpm: number, lossPsi: number): Meter => ({
  id: `meter-${size}`,
  name: `${size} in meter`,
  size,
  safeMaxLph: maxGpm * GPM_LPH,
  lossAtMaxKpa: lossPsi * PSI_KPA,
  source,
});

export const METERS: readonly Meter[] = [
  meter('5/8', 20, 11),
  meter('3/4', 30, 13),
  meter('1', 50, 13),
  meter('1-1/2', 100, 13),
  meter('2', 160, 13),
];

/** The meter of a nominal size as the catalog writes it, such as `5/8` or `1-1/2`. */
export function meterBySize(size: string): Meter | undefined {
  return METERS.find((entry) => entry.size === size);
}

/** Loss of a meter at a flow of 0 or more, L/h, in kPa: loss at the maximum times (flow / maximum) squared. */
export function meterLossKpa(meter: Meter, flowLph: number): number {
  return meter.lossAtMaxKpa * (flowLph / meter.safeMaxLph) ** 2;
}

/** The same as points up to the safe maximum; a square law goes on above it. */
export function meterCurve(meter: Meter): LossPoint[] {
  return [0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1].map((share) => {
    const flowLph = share * meter.safeMaxLph;
    return { flowLph, lossKpa: meterLossKpa(meter, flowLph) };
  });
}
