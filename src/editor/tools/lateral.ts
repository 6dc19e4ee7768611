import { addLaterals } from '../../plan/edits/index.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import type { Tool } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

/** The pieces that an edit drew, without the second halves of pipes that it cut. */
function drawn(before: Plan, after: Plan): readonly Ref[] {
  const cut = [...before.laterals].flatMap((old) => {
    const now = after.laterals.get(old.id);
    return now && now.b !== old.b ? [{ from: now.b, to: old.b }] : [];
  });
  return [...after.laterals]
    .filter(({ id, a, b }) => !before.laterals.has(id) && !cut.some(({ from, to }) => a === from && b === to))
    .map(({ id }) => ({ table: 'laterals', id }));
}

/**
 * Traces the old buried pipe from its valve: every straight part of the chain becomes one piece, named at its ends by
 * the valve, head or joint there; a chain that begins or ends on the middle of a pipe makes a tee.
 */
export const lateralTool: Tool<Trace> = {
  name: 'lateral',
  start: NO_TRACE,
  handle: (state, input, context) =>
    trace(state, input, context, {
      fewest: 2,
      ring: false,
      tooShort: 'A pipe needs a start and an end.',
      finish: (path) => {
        const keep = addLaterals('Draw old pipe', path, context.choices.lateral);
        if (keep.apply(context.plan) === context.plan)
          return { say: 'There is a pipe between these places already, or they are one joint.' };
        return { keep, select: drawn };
      },
    }),
};
