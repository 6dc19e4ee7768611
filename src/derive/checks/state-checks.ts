import type { Check } from './check.ts';
import { controlFlowRange } from './control-flow-range.ts';
import { dryOutlets } from './dry-outlets.ts';
import { meterFlow } from './meter-flow.ts';
import { outletPressures } from './outlet-pressures.ts';
import { regulatorHeadroom } from './regulator-headroom.ts';
import { valveFlow } from './valve-flow.ts';
import { velocityLimit } from './velocity-limit.ts';

/** The rules whose findings change with the state of the system, not only with the layout. */
export const STATE_CHECKS: readonly Check[] = [
  regulatorHeadroom,
  controlFlowRange,
  valveFlow,
  meterFlow,
  dryOutlets,
  outletPressures,
  velocityLimit,
];
