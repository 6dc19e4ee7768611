/** Fills a bed with rows of dripline and their headers. */
export {
  BOUNDS,
  type FillChoices,
  type Filled,
  type FillFigures,
  type FillNote,
  type FillPattern,
  type HeaderKind,
  type NewRun,
  type RowDirection,
} from './choices.ts';
export { fillDefaults, type FillDefaults } from './defaults.ts';
export { fillBed } from './fill-bed.ts';
export { clearedOf, fillEdit, runsInBed, runsReplaced } from './fill-edit.ts';
export { withFilled, withoutRuns, type FilledPlace } from './put-fill.ts';
