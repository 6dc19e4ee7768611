/** Door to plan files: writing, reading, and opening whatever a person chose. */
export { PLAN_FORMAT, writePlan, type Picture } from './write.ts';
export { readPlan, type PlanFile } from './read.ts';
export { PLAN_VERSION } from './migrate.ts';
export { openAnything, type Opened } from './open.ts';
export { readSurvey, SURVEY_FORMAT, SURVEY_VERSION, type SurveyFile } from './survey.ts';
