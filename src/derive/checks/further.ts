import { bendTight } from './bends.ts';
import type { Rule } from './check.ts';
import { checkValveDirectionRule } from './check-valve-direction.ts';
import { fallClosureRule } from './fall-closure.ts';
import { fallsApartRule } from './falls-apart.ts';
import { joinedSuppliesRule } from './joined-supplies.ts';
import { lossLeftOutRule } from './loss-left-out.ts';
import { meterFlowRule } from './meter-flow.ts';
import { outlineCrossingRule } from './outline-crossing.ts';
import { outsideLevelsRule } from './outside-levels.ts';
import { pressureReadingsRule } from './pressure-readings.ts';
import { runsCross } from './runs-cross.ts';
import { sleeveUnderPavingRule } from './sleeve-under-paving.ts';
import { supplyPressureRule } from './supply-pressure.ts';

/** Rules beyond the forty design checks. */
export const FURTHER_RULES: readonly Rule[] = [
  supplyPressureRule,
  pressureReadingsRule,
  joinedSuppliesRule,
  checkValveDirectionRule,
  meterFlowRule,
  sleeveUnderPavingRule,
  outsideLevelsRule,
  fallClosureRule,
  fallsApartRule,
  lossLeftOutRule,
  outlineCrossingRule,
  bendTight,
  runsCross,
];
