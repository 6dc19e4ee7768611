/** What follows from a plan: ground, network, results, checks, the photo's scale, the existing system. */
export { groundOf, type Ground, type Height, type HeightOrigin } from './ground/index.ts';
export { buildPlanNetwork } from './network/index.ts';
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
export { studyOf, type Study } from './study.ts';
export type * from './results.ts';
