/** What follows from a plan: ground, network, results, checks, the photo's scale, the existing system. */
export { groundOf, type Ground, type Height, type HeightOrigin } from './ground/index.ts';
export { buildPlanNetwork } from './network/index.ts';
export { FRICTION_LAWS, underLaw, type FrictionLaw } from './network/friction-law.ts';
export { readResults } from './read-results.ts';
export { checkPlan } from './checks/index.ts';
export {
  fitPhoto,
  photoToPlan,
  planToPhoto,
  RESIDUAL_LIMIT_PERCENT,
  type FittedLine,
  type PhotoFit,
} from './photo-fit.ts';
export { existingOf, type Existing } from './existing/index.ts';
export { networkFor, type ScenarioNetwork } from './scenarios/network-for.ts';
export { SCENARIO_KINDS, type Scenario, type ScenarioKind } from './scenarios/scenario.ts';
export {
  FLUSH_SOURCE,
  FLUSH_VELOCITY_MS,
  flushGroups,
  readFlushedRuns,
  readFlushing,
  type FlushedEnd,
  type FlushedRun,
} from './scenarios/flushing.ts';
export { resultsFor, scenarioNotices } from './scenarios/scenario-notices.ts';
export {
  FITTING_RATING_KPA,
  FITTING_SOURCE,
  staticOf,
  type StaticPressures,
} from './scenarios/static-pressures.ts';
export { drainDown, type DrainDown, type DrainedOutlet } from './scenarios/drain-down.ts';
export {
  longestRun,
  type LongestRun,
  type LongestRunAsk,
  type RunLimit,
  type StoppedBy,
} from './limits/longest-run.ts';
export { acceptanceOf, type Acceptance } from './limits/acceptance.ts';
export { detailsOf, studyOf, type Study, type StudyDetails } from './study.ts';
export type * from './results.ts';
