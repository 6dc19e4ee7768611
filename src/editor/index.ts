export * from './camera.ts';
export { showAll } from './show-all.ts';
export { FIRST_CHOICES, plantChoice, type Choices } from './choices.ts';
export {
  createEditor,
  OPENING,
  mayEditIn,
  shownPlan,
  VIEW_TOOLS,
  VIEWS,
  type Answer,
  type Editor,
  type EditorState,
  type Pointer,
  type Report,
  type Saying,
  type ViewName,
} from './store.ts';
export {
  edgeMiddles,
  editableRings,
  headHandles,
  rootZone,
  type Draft,
  type Marking,
  type Selecting,
  type ToolInput,
  type ToolName,
} from './tools/index.ts';
