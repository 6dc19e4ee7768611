import { flowVariation } from '../../hydraulics/index.ts';
import { outletLawById, outletLawsFor, tubingById, tubingFor } from '../../catalog/index.ts';
import { solveLateral, type LateralChoice } from './single-lateral.ts';

/** What bounds a run: pressures in the range of its outlets, or flows within a tenth of each other besides. */
export type RunLimit = 'min-pressure' | 'flow-variation-10';

export interface LongestRunAsk {
  /** Catalog ids; unknown ones are replaced by the usual dripline and emitter. */
  readonly tubing: string;
  readonly law: string;
  readonly ratedFlowLph: number;
  readonly spacingM: number;
  readonly inletKpa: number;
  /** Rise away from the inlet, percent; negative falls. */
  readonly slopePercent: number;
  readonly limit: RunLimit;
  readonly waterC?: number;
}

/** What stops a run from being longer. */
export type StoppedBy =
  'pressure too low' | 'pressure too high' | 'flow variation' | 'size of the sum' | 'input';

export interface LongestRun {
  /** From the inlet to the last outlet, on the ground; 0 where not even one outlet may be set. */
  readonly lengthM: number;
  readonly outlets: number;
  readonly stoppedBy: StoppedBy;
  /** Lowest and highest pressure at the outlets of that run, kPa; NaN without outlets. */
  readonly lowestKpa: number;
  readonly highestKpa: number;
}

/** Outlets beyond which no run is tried. */
export const MOST_OUTLETS_ON_RUN = 4000;
/** Largest spread of flow over a run, percent of the largest (common practice). */
const VARIATION_PERCENT = 10;
/** Lengths at which a falling run is looked at before halving. */
const SAMPLES = 48;

/**
 * The longest run whose outlets all keep the limit, found by solving single laterals. The lowest pressure only falls as
 * outlets are added, so its bound is found by doubling and halving. Pressure may also be too high at the foot of a
 * falling run, or flows too far apart, over some lengths and not over longer ones, where friction has used up the fall;
 * such a limit is looked for from the longest length down. Values that are not above zero give no run.
 */
export function longestRun(ask: LongestRunAsk): LongestRun {
  const tubing = tubingById(ask.tubing) ?? tubingFor('inline')[0]!;
  const law = outletLawById(ask.law) ?? outletLawsFor('inline')[0]!;
  const none = { lengthM: 0, outlets: 0, lowestKpa: NaN, highestKpa: NaN };
  const { ratedFlowLph, spacingM, inletKpa, slopePercent, waterC = 20 } = ask;
  const isSound =
    [ratedFlowLph, spacingM, inletKpa].every((value) => value > 0 && Number.isFinite(value)) &&
    Number.isFinite(slopePercent);
  if (!isSound) return { ...none, stoppedBy: 'input' };
  const choice: LateralChoice = {
    innerDiameterMm: tubing.innerDiameterMm,
    law,
    ratedFlowLph,
    spacingM,
    inletKpa,
    slopePercent,
    waterC,
  };
  const seen = new Map<number, RunState>();
  const at = (outlets: number): RunState => {
    let state = seen.get(outlets);
    if (!state) seen.set(outlets, (state = stateOf(choice, outlets, ask.limit)));
    return state;
  };
  const answer = (outlets: number, stoppedBy: StoppedBy): LongestRun => {
    if (outlets === 0) return { ...none, stoppedBy };
    const { lowestKpa, highestKpa } = at(outlets);
    return { lengthM: outlets * spacingM, outlets, stoppedBy, lowestKpa, highestKpa };
  };

  const bound = mostThat((n) => !at(n).isLow);
  if (bound === 0) return answer(0, at(1).fault ?? 'pressure too low');
  const beyond = bound < MOST_OUTLETS_ON_RUN ? at(bound + 1).fault : null;
  if (at(bound).fault === null) return answer(bound, beyond ?? 'size of the sum');

  let fails = bound;
  let holds = 0;
  for (let k = 1; k < SAMPLES && holds === 0; k++) {
    const n = Math.max(1, Math.round((bound * (SAMPLES - k)) / SAMPLES));
    if (at(n).fault === null) holds = n;
    else fails = n;
  }
  if (holds === 0) {
    // Short runs lie between the samples.
    while (holds + 1 < fails && at(holds + 1).fault === null) holds++;
    return answer(holds, at(holds + 1).fault!);
  }
  while (fails - holds > 1) {
    const middle = Math.floor((holds + fails) / 2);
    if (at(middle).fault === null) holds = middle;
    else fails = middle;
  }
  return answer(holds, at(fails).fault!);
}

/** The largest number up to the most for which a condition holds that, once broken, stays so. */
function mostThat(holds: (n: number) => boolean): number {
  let good = 0;
  let bad = MOST_OUTLETS_ON_RUN + 1;
  for (let n = 1; n < bad; n = Math.min(2 * n, MOST_OUTLETS_ON_RUN)) {
    if (!holds(n)) bad = n;
    else {
      good = n;
      if (n === MOST_OUTLETS_ON_RUN) return n;
    }
  }
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

interface RunState {
  readonly isLow: boolean;
  readonly fault: StoppedBy | null;
  readonly lowestKpa: number;
  readonly highestKpa: number;
}

function stateOf(choice: LateralChoice, outlets: number, limit: RunLimit): RunState {
  const { law } = choice;
  const { pressureKpa, flowLph } = solveLateral(choice, outlets);
  const lowestKpa = pressureKpa.reduce((a, b) => Math.min(a, b));
  const highestKpa = pressureKpa.reduce((a, b) => Math.max(a, b));
  const isLow = !(lowestKpa >= law.minKpa);
  const variation = flowVariation(flowLph);
  const fault = isLow
    ? 'pressure too low'
    : highestKpa > law.maxKpa
      ? 'pressure too high'
      : limit === 'flow-variation-10' && variation > VARIATION_PERCENT
        ? 'flow variation'
        : null;
  return { isLow, fault, lowestKpa, highestKpa };
}
