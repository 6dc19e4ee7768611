import { ratesRule } from './application-rates.ts';
import { blankRunRule } from './blank-run.ts';
import type { Rule } from './check.ts';
import { controlOrderRule } from './control-order.ts';
import { dripZonePartsRule } from './drip-zone-parts.ts';
import { feederLengthRule } from './feeder-length.ts';
import { feederSharedRule } from './feeder-shared.ts';
import { filterFlowRule, filterMeshRule } from './filters.ts';
import { flowSpreadRule } from './flow-spread.ts';
import { lowPressureRule } from './outlet-pressures.ts';
import { plantOneEmitterRule } from './plant-one-emitter.ts';
import { plantWithoutEmitterRule } from './plant-without-emitter.ts';
import { regulatorFlowRule } from './regulator-flow.ts';
import { regulatorHeadroomRule } from './regulator-headroom.ts';
import { runLengthRule } from './run-length.ts';
import { sprayHeadsRule } from './spray-heads.ts';
import { highPressureRule } from './static-pressure.ts';
import { valveFlowRule } from './valve-flow.ts';
import { velocityRule } from './velocity-limit.ts';
import { wettedShareRule } from './wetted-share.ts';

/** Design checks 1 to 20, in their order. */
export const RULES_1_20: readonly Rule[] = [
  sprayHeadsRule,
  ratesRule,
  lowPressureRule,
  highPressureRule,
  flowSpreadRule,
  valveFlowRule,
  regulatorFlowRule,
  regulatorHeadroomRule,
  dripZonePartsRule,
  controlOrderRule,
  filterMeshRule,
  filterFlowRule,
  runLengthRule,
  blankRunRule,
  velocityRule,
  feederLengthRule,
  feederSharedRule,
  plantOneEmitterRule,
  plantWithoutEmitterRule,
  wettedShareRule,
];
