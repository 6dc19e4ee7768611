import { curveLoss, headToKpa, lphToM3s } from '../../../hydraulics/index.ts';
import type { UnitSystem } from '../../../base/quantity.ts';
import type { Plan, Supply } from '../../../plan/records.ts';
import { tieInsOf } from '../lateral/index.ts';
import type { ExistingZone } from '../zones.ts';
import { supplyCurve } from '../../network/supply-curve.ts';

/** Pressure to expect where the filter of the drip will be, at the drip's flow. */
export interface PressureAtFilter {
  readonly kpa: number;
  readonly flowLph: number;
  /** Where it holds, in words that follow "at". */
  readonly where: string;
  /** What it rests on, in words. */
  readonly basis: string;
}

/**
 * Pressure at the best tie-in on the old lateral of a zone, after the friction of the old pipes and the lift; before
 * any pipe is drawn that at the valve. `null` where no static pressure is known.
 */
export function pressureAtFilter(
  plan: Plan,
  units: UnitSystem,
  zone: ExistingZone,
  flowLph: number,
): PressureAtFilter | null {
  const valve = valvePressure(plan, zone.supply, flowLph);
  if (!valve || zone.laterals.length === 0) return valve;
  const best = tieInsOf(plan, { units }).find((one) => one.zone === zone.zone)?.candidates[0];
  if (!best || best.pressureKpa === null || best.isValve) return valve;
  return {
    kpa: Math.max(0, best.pressureKpa),
    flowLph: best.flowLph,
    where: `the tie-in ${best.id}`,
    basis: `${valve.basis}, less friction and lift of the old pipe`,
  };
}

/**
 * Pressure at a zone's valve with the drip's flow, kPa: the static pressure there (its own, else the service's; the
 * lowest reading where there is one) less what the measured working points say is lost at that flow. `null` where no
 * static pressure is known.
 */
export function valvePressure(
  { water }: Pick<Plan, 'water'>,
  supply: Supply | null,
  flowLph: number,
): PressureAtFilter | null {
  const usual = supply?.pressureKpa ?? water.staticKpa;
  const lowest = (supply?.pressureKpa ?? null) === null ? water.lowStaticKpa : null;
  const staticKpa = lowest ?? usual;
  if (staticKpa === null) return null;
  const { curve } = supplyCurve(water.staticKpa ?? usual ?? staticKpa, water.workingPoints);
  const lossKpa = curve ? headToKpa(curveLoss(curve, lphToM3s(flowLph))) : 0;
  const kind = lowest === null ? 'static pressure' : 'lowest static pressure';
  const past = water.measuredAt === 'meter' ? ', before the losses past the meter' : '';
  return {
    kpa: Math.max(0, staticKpa - lossKpa),
    flowLph,
    where: 'the valve',
    basis: curve
      ? `${kind} less the loss by the working points${past}`
      : `${kind}${past}; no working point was measured, so nothing is taken off for the service`,
  };
}
