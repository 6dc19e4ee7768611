import type { Check } from './check.ts';
import { filterFlow } from './filters.ts';
import { meterFlow } from './meter-flow.ts';
import { lowPressureRule, highPressures } from './outlet-pressures.ts';
import { regulatorFlow } from './regulator-flow.ts';
import { regulatorHeadroom } from './regulator-headroom.ts';
import { fittingPressure } from './static-pressure.ts';
import { valveFlow } from './valve-flow.ts';
import { velocityLimit } from './velocity-limit.ts';

/** The checks whose findings change with the state of the system, not only with the layout. */
export const STATE_CHECKS: readonly Check[] = [
  regulatorHeadroom,
  regulatorFlow,
  filterFlow,
  valveFlow,
  meterFlow,
  lowPressureRule.check,
  highPressures,
  fittingPressure,
  velocityLimit,
];
