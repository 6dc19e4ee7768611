import { addPlants, plantsAlong, TRIANGLE, type Stems } from '../../layout/plants/index.ts';
import type { Point } from '../../base/point.ts';
import { stemSpacing, type Choices } from '../choices.ts';
import { addedTo, type Draft, type Tool } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

/** Stems for a line, by the choices of the tool. */
export function rowStems(path: readonly Point[], choices: Choices): Stems {
  const spacingM = stemSpacing(choices);
  const rowSpacingM = choices.row.rowSpacingM ?? (choices.row.stagger ? spacingM * TRIANGLE : spacingM);
  return plantsAlong(path, { ...choices.row, spacingM, rowSpacingM });
}

export const plantsCounted = (count: number): string =>
  `${count.toLocaleString('en')} ${count === 1 ? 'plant' : 'plants'}`;

/** A draft that shows stems and says how many. */
export function withStems(draft: Draft, stems: Stems, at: Point, choices: Choices, gone = false): Draft {
  if (!stems.ok) return { ...draft, word: { at, text: stems.why } };
  return {
    ...draft,
    stems: { points: stems.points, radiusM: choices.plant.canopyMatureM / 2, gone },
    word: { at, text: plantsCounted(stems.points.length) },
  };
}

/** Plants along a drawn line, or along several side by side. */
export const rowTool: Tool<Trace> = {
  name: 'row',
  start: NO_TRACE,
  handle: (state, input, context) => {
    const { choices } = context;
    const step = trace(state, input, context, {
      fewest: 2,
      ring: false,
      tooShort: 'A row of plants needs a start and an end.',
      finish: (path) => {
        const stems = rowStems(path, choices);
        if (!stems.ok) return { say: stems.why };
        if (stems.points.length === 0) return { say: 'The line is shorter than the way to the first plant.' };
        return {
          keep: addPlants(`Plant a row of ${stems.points.length}`, stems.points, choices.plant),
          select: addedTo('plants'),
          say: `${plantsCounted(stems.points.length)} set.`,
        };
      },
    });
    const path = step.draft.lines[0]?.points ?? [];
    return path.length > 1
      ? { ...step, draft: withStems(step.draft, rowStems(path, choices), path.at(-1)!, choices) }
      : step;
  },
};
