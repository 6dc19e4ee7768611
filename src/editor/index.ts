export * from './camera.ts';
export { showAll, showChosen } from './show-all.ts';
export {
  LAYER_NAMES,
  LOCKABLE,
  mayTouch,
  PLAN_LAYERS,
  shownSubjects,
  type LayerState,
  type PlanLayer,
} from './layers.ts';
export { viewSubjects } from './view-subjects.ts';
export { OPENING } from './opening.ts';
export { countedAs } from './told.ts';
export type { SnapReason } from './snap.ts';
export { allAlike, allInBed, bedOf } from './choose.ts';
export { FIRST_CHOICES, stemSpacing, plantChoice, type Choices } from './choices.ts';
export {
  createEditor,
  mayEditIn,
  shownPlan,
  VIEW_TOOLS,
  VIEWS,
  type Advice,
  type Answer,
  type Editor,
  type EditorState,
  type Offer,
  type Pointer,
  type Report,
  type Saying,
  type ViewName,
} from './store.ts';
export {
  edgeMiddles,
  editableRings,
  headHandles,
  readTape,
  rootZone,
  tapePlaces,
  type Draft,
  type Marking,
  type Selecting,
  type TapeReading,
  type Taping,
  type ToolInput,
  type ToolName,
} from './tools/index.ts';
