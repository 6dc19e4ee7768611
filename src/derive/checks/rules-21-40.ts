import { airRelief } from './air-relief.ts';
import { backflow } from './backflow.ts';
import type { Rule } from './check.ts';
import { deadLegs } from './dead-legs.ts';
import { downhillEmitters } from './downhill-emitters.ts';
import { drainDownRule } from './drain-down.ts';
import { drawingQuality } from './drawing-quality.ts';
import { dripRate } from './drip-rate.ts';
import { emitterNearStem } from './emitter-near-stem.ts';
import { firstRowHardscape } from './first-row-hardscape.ts';
import { flushSpeed } from './flush-speed.ts';
import { jointMatch } from './joint-match.ts';
import { lowPointDrains } from './low-point-drains.ts';
import { lowerThirdSpacing } from './lower-third-spacing.ts';
import { plainEmittersLevels } from './plain-emitters-levels.ts';
import { rowsUpAndDown } from './rows-up-and-down.ts';
import { spacingOverSpread } from './spacing-over-spread.ts';
import { stationTime } from './station-time.ts';
import { tieInGalvanised } from './tie-in-galvanised.ts';
import { unusedHeads } from './unused-heads.ts';
import { waterUseMixed } from './water-use-mixed.ts';

/** Design checks 21 to 40, in their order. */
export const RULES_21_40: readonly Rule[] = [
  emitterNearStem,
  downhillEmitters,
  plainEmittersLevels,
  rowsUpAndDown,
  drainDownRule,
  airRelief,
  lowerThirdSpacing,
  dripRate,
  spacingOverSpread,
  firstRowHardscape,
  deadLegs,
  tieInGalvanised,
  lowPointDrains,
  backflow,
  jointMatch,
  unusedHeads,
  waterUseMixed,
  stationTime,
  flushSpeed,
  drawingQuality,
];
