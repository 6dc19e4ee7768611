import { areaTool, blankTool, inlineTool, measureTool } from './draw.ts';
import { controlTool, emitterTool, levelTool, plantTool, supplyTool } from './place.ts';
import { checkTool, flushTool } from './run-parts.ts';
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
  area: areaTool,
  level: levelTool,
  plant: plantTool,
  supply: supplyTool,
  control: controlTool,
  inline: inlineTool,
  blank: blankTool,
  emitter: emitterTool,
  check: checkTool,
  flush: flushTool,
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
export { edgeMiddles, editableRings, type Selecting } from './select.ts';
export { rootZone, STEM_CLEARANCE_M } from './place.ts';
