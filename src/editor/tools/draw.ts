import { planToPhoto } from '../../derive/photo-fit.ts';
import { distance } from '../../base/point.ts';
import { selfCrossings } from '../../base/polygon.ts';
import { add, setPhoto } from '../../plan/edits/index.ts';
import type { PhotoMeasure } from '../../plan/records.ts';
import { contourWay, onContour, withContourGuide } from './contour.ts';
import { runSigns, signsSaid, withSigns } from './run-signs.ts';
import { addedTo, type Tool } from './tool.ts';
import { NO_TRACE, trace, type Trace } from './trace.ts';

const AREA_WORD = { bed: 'bed', paving: 'paving', lawn: 'lawn', building: 'building' } as const;

/** Traces beds, paving, lawn and buildings as closed rings. */
export const areaTool: Tool<Trace> = {
  name: 'area',
  start: NO_TRACE,
  handle: (state, input, context) =>
    trace(state, input, context, {
      fewest: 3,
      ring: true,
      tooShort: 'An area needs at least three corners.',
      finish: (outline) => {
        const use = context.choices.areaUse;
        const count = [...context.plan.areas].filter((area) => area.use === use).length + 1;
        const name = `${AREA_WORD[use][0]!.toUpperCase()}${AREA_WORD[use].slice(1)} ${count}`;
        return {
          keep: add(`Draw ${AREA_WORD[use]}`, 'areas', { use, name, outline, holes: [] }),
          select: addedTo('areas'),
          ...(selfCrossings(outline).length
            ? { say: 'The outline crosses itself. Drag a corner so that it does not.' }
            : {}),
        };
      },
    }),
};

/** Draws inline dripline or blank tubing. */
function runTool(kind: 'inline' | 'blank'): Tool<Trace> {
  return {
    name: kind,
    start: NO_TRACE,
    handle: (state, input, context) => {
      const step = trace(state, input, onContour(context), {
        fewest: 2,
        ring: false,
        tooShort: 'A run needs a start and an end.',
        way: (from, towards, lengthM) => contourWay(context, from, towards, lengthM),
        finish: (path) => {
          const name = `Run ${context.plan.runs.size + 1}`;
          const { tubing } = context.choices[kind];
          const inline = kind === 'inline' ? context.choices.inline.inline : null;
          const said = signsSaid(runSigns(context.plan, path, tubing));
          return {
            keep: add(kind === 'inline' ? 'Draw dripline' : 'Draw tubing', 'runs', {
              name,
              path,
              tubing,
              inline,
            }),
            select: addedTo('runs'),
            ...(said ? { say: said } : {}),
          };
        },
      });
      const draft = withSigns(step.draft, context.plan, context.choices[kind].tubing);
      return { ...step, draft: withContourGuide(draft, context) };
    },
  };
}
export const inlineTool = runTool('inline');
export const blankTool = runTool('blank');

/** A line marked on the photo that still waits for its length. */
export interface Measuring {
  readonly name: 'tracing' | 'asking';
  readonly trace: Trace;
  readonly line: Pick<PhotoMeasure, 'a' | 'b'> | null;
}

/** How many lines set the scale; the one after them checks it. */
const FIT_LINES = 2;

/**
 * Marks a measured line on the site photo: two points, then its length. The first two lines set the scale, the
 * third checks it; a fourth replaces the check.
 */
export const measureTool: Tool<Measuring> = {
  name: 'measure',
  start: { name: 'tracing', trace: NO_TRACE, line: null },
  handle: (state, input, context) => {
    const { photo } = context.plan;
    const idle: Measuring = { name: 'tracing', trace: NO_TRACE, line: null };
    const empty = { edit: null, lines: [], dots: [], snap: null, piece: null };
    if (!photo)
      return { state: idle, draft: empty, say: 'Put a site photo under the plan first.', done: true };

    if (state.name === 'asking' && state.line) {
      const [from, to] = state.trace.points as [Trace['points'][0], Trace['points'][0]];
      const waiting = {
        edit: null,
        lines: [{ points: [from, to], closed: false, guide: false }],
        dots: [from, to],
        snap: null,
        piece: { from, to },
      };
      if (input.kind === 'escape' || input.kind === 'back') return { state: idle, draft: empty };
      if (input.kind === 'typed' && input.lengthM !== null && input.lengthM > 0) {
        const fits = photo.measures.filter((measure) => measure.role === 'fit');
        const role = fits.length < FIT_LINES ? 'fit' : 'check';
        // A photo laid flat keeps every check: they are what its flatness is judged by.
        const kept = role === 'fit' || photo.rectification ? photo.measures : fits;
        const measure: PhotoMeasure = { ...state.line, lengthM: input.lengthM, role };
        return {
          state: idle,
          draft: empty,
          keep: setPhoto('Measure on the photo', { ...photo, measures: [...kept, measure] }),
        };
      }
      return {
        state,
        draft: waiting,
        ...(input.kind === 'down' || input.kind === 'enter' || input.kind === 'typed'
          ? { say: 'Type the length of this line as measured on the ground, then press Enter.' }
          : {}),
      };
    }

    // Marks on the photo must be where the person puts them, so nothing is caught on.
    const free = {
      ...context,
      snap: (at: Trace['points'][0]) => ({ at, kind: 'free' as const, guide: null }),
    };
    let marked: Trace['points'] | null = null;
    const step = trace(state.trace, input, free, {
      fewest: 2,
      most: 2,
      ring: false,
      tooShort: 'A measured line needs two ends.',
      finish: (points) => {
        marked = points;
        return {};
      },
    });
    const points = marked as Trace['points'] | null;
    if (!points) return { ...step, state: { name: 'tracing', trace: step.state, line: null } };
    const [from, to] = points as [Trace['points'][0], Trace['points'][0]];
    if (distance(from, to) === 0) return { state: idle, draft: empty };
    return {
      state: {
        name: 'asking',
        trace: { ...NO_TRACE, points },
        line: { a: planToPhoto(photo, from), b: planToPhoto(photo, to) },
      },
      draft: {
        edit: null,
        lines: [{ points: [from, to], closed: false, guide: false }],
        dots: [from, to],
        snap: null,
        piece: { from, to },
      },
      say: 'Type the length of this line as measured on the ground, then press Enter.',
    };
  },
};
