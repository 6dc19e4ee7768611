import type { UnitSystem } from '../../../base/quantity.ts';
import type { Plan, Supply } from '../../../plan/records.ts';
import { tieInsOf } from '../lateral/index.ts';
import type { ExistingZone } from '../zones.ts';
import { UNMEASURED_SUPPLY } from '../../../plan/empty.ts';
import { pressureBehindValve } from '../../network/supply-chain.ts';
import { staticToBegin } from '../lateral/pressure.ts';

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
 * Pressure behind a zone's valve with the drip's flow, kPa, as the network has it: the static pressure there (its own,
 * else the service's; the lowest reading where there is one), less what the working points say is lost and what stands
 * after the place where they were read. `null` where no static pressure is known.
 */
export function valvePressure(
  { water }: Pick<Plan, 'water'>,
  supply: Supply | null,
  flowLph: number,
): PressureAtFilter | null {
  const staticKpa = staticToBegin(water, supply);
  if (staticKpa === null) return null;
  const known: Supply = supply ?? { ...UNMEASURED_SUPPLY, id: '', name: '', at: [0, 0] };
  const kpa = pressureBehindValve(water, known, staticKpa, flowLph) ?? staticKpa;
  const isLowest = (supply?.pressureKpa ?? null) === null && water.lowStaticKpa !== null;
  const kind = isLowest ? 'lowest static pressure' : 'static pressure';
  const measured = water.workingPoints.length > 0;
  return {
    kpa: Math.max(0, kpa),
    flowLph,
    where: 'the valve',
    basis: measured
      ? `${kind} less the loss by the working points and of the valve`
      : `${kind} less what the surveyed parts of the service take; no working point was measured`,
  };
}
