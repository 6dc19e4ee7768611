import type { UnitSystem } from '../base/quantity.ts';
import type { Plan } from '../plan/records.ts';
import { coverageOf, type Coverage } from './existing/coverage/index.ts';
import { flowCheckOf, type FlowCheck } from './existing/flow-check.ts';
import { lateralsOf, tieInsOf, type ZoneLateral, type ZoneTieIns } from './existing/lateral/index.ts';
import { verdictOf, type Verdict } from './existing/verdict/index.ts';
import {
  bedSlope,
  intakeOf,
  pondingOf,
  textureOf,
  type BedSlope,
  type Ponding,
  type SoilIntake,
  type SoilTexture,
} from './soil/index.ts';

/** What decides whether and where an old zone is converted. */
export interface Decision {
  readonly verdict: Verdict;
  readonly tieIns: readonly ZoneTieIns[];
  readonly laterals: readonly ZoneLateral[];
  readonly coverage: Coverage;
  readonly flowChecks: readonly FlowCheck[];
  readonly soil: SoilFigures;
}

/** The soil under the beds in figures; `null` is not known. */
export interface SoilFigures {
  readonly texture: SoilTexture;
  readonly slope: BedSlope | null;
  readonly intake: SoilIntake | null;
  /** At the zone rate of the sprays, mm/h. */
  readonly rateMmPerH: number | null;
  readonly ponding: Ponding | null;
}

/**
 * Gathers the verdict, the ranked tie-ins and the figures behind them.
 * @param units system in which sentences show their figures
 */
export function decisionOf(plan: Plan, units: UnitSystem = 'us'): Decision {
  const coverage = coverageOf(plan);
  const slope = bedSlope(plan);
  const rateMmPerH = coverage.total.rateMmPerH;
  return {
    verdict: verdictOf(plan, units),
    tieIns: tieInsOf(plan, { units }),
    laterals: lateralsOf(plan),
    coverage,
    flowChecks: flowCheckOf(plan),
    soil: {
      texture: textureOf(plan.soil),
      slope,
      intake: intakeOf(plan.soil, slope?.meanPercent ?? null),
      rateMmPerH,
      ponding: rateMmPerH === null ? null : pondingOf(plan.soil, rateMmPerH),
    },
  };
}
