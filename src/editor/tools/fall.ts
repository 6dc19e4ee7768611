import { distance, type Point } from '../../base/point.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { add } from '../../plan/edits/index.ts';
import type { Fall, Plan } from '../../plan/records.ts';
import { addedTo, type Tool, type ToolContext } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

/** Places whose height hangs together: levels and the ends of falls. */
export function groundPlaces(plan: Pick<Plan, 'levels' | 'falls'>): Point[] {
  return [...[...plan.levels].map(({ at }) => at), ...[...plan.falls].flatMap(({ from, to }) => [from, to])];
}

/** The same context, in which the pointer catches on levels and the ends of falls too. */
export function onGroundPlaces(context: ToolContext): ToolContext {
  const places = groundPlaces(context.plan);
  return {
    ...context,
    snap: (raw, request = {}) =>
      context.snap(raw, { ...request, extra: [...(request.extra ?? []), ...places] }),
  };
}

/** Draws how far the ground falls between two places; its figure is set in the panel. */
export const fallTool: Tool<Trace> = {
  name: 'fall',
  start: NO_TRACE,
  handle: (state, input, context) =>
    trace(state, input, onGroundPlaces(context), {
      fewest: 2,
      most: 2,
      ring: false,
      tooShort: 'A fall needs two places: press at the lower one too.',
      finish: ([from, to]) => {
        const { by, asIs } = firstFigure(context, from!, to!);
        return {
          keep: add('Set fall', 'falls', { from: from!, to: to!, by }),
          select: addedTo('falls'),
          say: `${asIs ? 'It falls as the ground is known now. ' : ''}Type the drop, or the slope in percent, in the panel.`,
        };
      },
    }),
};

/**
 * The figure of a new fall until one is typed: that of the choices, or while that is nought the present fall of the
 * ground, to the centimetre or a tenth of a percent, so that the ground stays as it is until something is measured.
 */
function firstFigure(
  { plan, choices }: ToolContext,
  from: Point,
  to: Point,
): { readonly by: Fall['by']; readonly asIs: boolean } {
  const { fall } = choices;
  const ground = groundOf(plan);
  if ((fall.kind === 'drop' ? fall.dropM : fall.percent) !== 0 || ground.knows !== 'slope')
    return { by: fall, asIs: false };
  const dropM = ground.heightAt(from).zM - ground.heightAt(to).zM;
  const percent = (dropM / distance(from, to)) * 100;
  return {
    by:
      fall.kind === 'drop'
        ? { kind: 'drop', dropM: Math.round(dropM * 100) / 100 + 0 }
        : { kind: 'slope', percent: Math.round(percent * 10) / 10 + 0 },
    asIs: true,
  };
}
