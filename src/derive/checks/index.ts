import type { UnitSystem } from '../../base/quantity.ts';
import type { Plan } from '../../plan/records.ts';
import type { Notice, PlanNetwork, Results } from '../results.ts';
import { shownSource } from '../wording.ts';
import { limitOf, type Check } from './check.ts';
import { backflowHeight } from './backflow-height.ts';
import { backflowVacuum } from './backflow-vacuum.ts';
import { checkValveDirection } from './check-valve-direction.ts';
import { deadEnds } from './dead-ends.ts';
import { lossLeftOut } from './loss-left-out.ts';
import { meterFlow } from './meter-flow.ts';
import { staticPressure } from './static-pressure.ts';
import { bareRuns } from './bare-runs.ts';
import { controlFlowRange } from './control-flow-range.ts';
import { downhillEmitters } from './downhill-emitters.ts';
import { dryOutlets } from './dry-outlets.ts';
import { fallClosure } from './fall-closure.ts';
import { fallsApart } from './falls-apart.ts';
import { feederLength } from './feeder-length.ts';
import { joinedSupplies } from './joined-supplies.ts';
import { outletPressures } from './outlet-pressures.ts';
import { outlineCrossing } from './outline-crossing.ts';
import { outsideLevels } from './outside-levels.ts';
import { photoResidual } from './photo-residual.ts';
import { plantWithoutEmitter } from './plant-without-emitter.ts';
import { regulatorHeadroom } from './regulator-headroom.ts';
import { sleeveUnderPaving } from './sleeve-under-paving.ts';
import { sprayHeads } from './spray-heads.ts';
import { pressureReadings } from './pressure-readings.ts';
import { supplyPressure } from './supply-pressure.ts';
import { valveFlow } from './valve-flow.ts';
import { velocityLimit } from './velocity-limit.ts';

/** The rules in the order in which their findings are shown. */
export const CHECKS: readonly Check[] = [
  supplyPressure,
  pressureReadings,
  joinedSupplies,
  sprayHeads,
  bareRuns,
  checkValveDirection,
  regulatorHeadroom,
  controlFlowRange,
  valveFlow,
  meterFlow,
  dryOutlets,
  outletPressures,
  staticPressure,
  velocityLimit,
  feederLength,
  plantWithoutEmitter,
  downhillEmitters,
  deadEnds,
  sleeveUnderPaving,
  outsideLevels,
  fallClosure,
  fallsApart,
  lossLeftOut,
  backflowHeight,
  backflowVacuum,
  outlineCrossing,
  photoResidual,
];

/**
 * Holds a plan and its results against the rules of the trade.
 * @param plan the plan as it is now; may be newer than the results
 * @param units system in which figures are shown
 */
export function checkPlan(
  plan: Plan,
  planNetwork: PlanNetwork,
  results: Results,
  units: UnitSystem,
): Notice[] {
  const input = { plan, planNetwork, results, units, limit: limitOf(plan) };
  return CHECKS.flatMap((check) => check(input)).map((notice) =>
    notice.source === undefined ? notice : { ...notice, source: shownSource(notice.source) },
  );
}
