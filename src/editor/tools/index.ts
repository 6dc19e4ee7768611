import { areaTool, blankTool, inlineTool, measureTool } from './draw.ts';
import { controlTool, emitterTool, levelTool, plantTool, supplyTool } from './place.ts';
import { fallTool } from './fall.ts';
import { headTool } from './head.ts';
import { lassoTool } from './lasso.ts';
import { lateralTool } from './lateral.ts';
import { checkTool, drainTool, flushTool, reliefTool } from './run-parts.ts';
import { brushTool } from './plant-brush.ts';
import { gridTool } from './plant-grid.ts';
import { rowTool } from './plant-row.ts';
import { rectifyTool } from './rectify.ts';
import { sectionTool } from './section.ts';
import { tapeTool } from './tape.ts';
import { selectTool } from './select.ts';
import { NO_DRAFT, type Tool, type ToolName } from './tool.ts';

/** Moves the view only; the canvas does the panning. */
const panTool: Tool<{ readonly name: 'panning' }> = {
  name: 'pan',
  start: { name: 'panning' },
  handle: (state, input) => ({ state, draft: NO_DRAFT, ...(input.kind === 'escape' ? { done: true } : {}) }),
};

/** Every tool by name. Their states are private to them, hence `unknown` outside. */
export const TOOLS = {
  select: selectTool,
  pan: panTool,
  measure: measureTool,
  rectify: rectifyTool,
  area: areaTool,
  level: levelTool,
  fall: fallTool,
  section: sectionTool,
  head: headTool,
  lateral: lateralTool,
  plant: plantTool,
  supply: supplyTool,
  control: controlTool,
  inline: inlineTool,
  blank: blankTool,
  emitter: emitterTool,
  check: checkTool,
  flush: flushTool,
  relief: reliefTool,
  drain: drainTool,
  lasso: lassoTool,
  row: rowTool,
  grid: gridTool,
  brush: brushTool,
  tape: tapeTool,
} as unknown as Record<ToolName, Tool<unknown>>;

export {
  NO_DRAFT,
  type Draft,
  type Step,
  type Tool,
  type ToolContext,
  type ToolInput,
  type ToolName,
} from './tool.ts';
export type { Marking } from './rectify.ts';
export { readTape, tapePlaces, type TapeReading, type Taping } from './tape.ts';
export { headHandles } from './head.ts';
export { edgeMiddles, editableRings, type Selecting } from './select.ts';
export { rootZone, STEM_CLEARANCE_M } from '../../derive/root-zone.ts';
