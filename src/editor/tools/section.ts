import { onGroundPlaces } from './fall.ts';
import type { Tool } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

/** Lays a cross-section between two places. It is looked at, not kept with the plan. */
export const sectionTool: Tool<Trace> = {
  name: 'section',
  start: NO_TRACE,
  handle: (state, input, context) =>
    trace(state, input, onGroundPlaces(context), {
      fewest: 2,
      most: 2,
      ring: false,
      tooShort: 'A cross-section needs two places.',
      finish: (section) => ({ section }),
    }),
};
