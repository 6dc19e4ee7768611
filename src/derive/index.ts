/** What follows from a plan: ground, network, results, checks, the photo's scale, the existing system. */
export { dropOf, groundOf, percentOf, type Ground, type Height, type HeightOrigin } from './ground/index.ts';
export {
  contourIntervals,
  contoursOf,
  contoursOfPlan,
  heightRange,
  MOST_CONTOURS,
  type Contour,
  type ContourLine,
} from './ground/contours.ts';
export {
  bedSlopes,
  SLOPE_CLASSES_SOURCE,
  SLOPE_LIMITS,
  slopeClassesOf,
  slopeClassOf,
  type BedSlopes,
  type SlopeClass,
} from './ground/slope-classes.ts';
export {
  crossSection,
  LEVEL_NEAR_M,
  THING_NEAR_M,
  type CrossSection,
  type SectionMark,
} from './ground/section.ts';
export { groundNotices } from './checks/falls-apart.ts';
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
export {
  atSize,
  examineMarks,
  flatteningOf,
  photoLaidFlat,
  photoTakenBack,
  pictureAsTaken,
  warpRows,
  type Flattening,
  type HeldLength,
  type Measured,
} from './photo-rectify/index.ts';
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
export {
  columnsOf,
  createStudyAsker,
  createStudyServer,
  type Standing,
  type Studies,
  type StudyOrder,
  type StudyReply,
  type StudyRequest,
  type SituationFigures,
} from './live/study-server.ts';
