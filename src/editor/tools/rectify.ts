import { distance, type Point } from '../../base/point.ts';
import { photoToPlan, planToPhoto } from '../../derive/photo-fit.ts';
import type { SitePhoto } from '../../plan/records.ts';
import { NO_DRAFT, type Draft, type Step, type Tool } from './tool.ts';

/** Marks set so far, in pixels of the photo, and what the pointer does. */
export interface Marking {
  readonly name: 'marking';
  /** Picture that the marks lie on; with another one they mean nothing. */
  readonly pictureId: string | null;
  readonly marks: readonly Point[];
  /** The mark that follows the pointer. */
  readonly held: number | null;
  /** The mark that goes to the next place pressed, once all four are set. */
  readonly chosen: number | null;
  /** Where the pointer is, in pixels of the photo; null outside it. */
  readonly pointer: Point | null;
}

const NO_MARKS: Marking = {
  name: 'marking',
  pictureId: null,
  marks: [],
  held: null,
  chosen: null,
  pointer: null,
};
const COUNT = 4;

function draftOf(state: Marking, photo: SitePhoto): Draft {
  const dots = state.marks.map((mark) => photoToPlan(photo, mark));
  const open = dots.length > 0 && dots.length < COUNT && state.pointer;
  const points = open ? [...dots, photoToPlan(photo, state.pointer)] : dots;
  return { ...NO_DRAFT, lines: [{ points, closed: points.length > 2, guide: false }], dots };
}

const inside = (photo: SitePhoto, [x, y]: Point): boolean =>
  x >= 0 && y >= 0 && x <= photo.widthPx && y <= photo.heightPx;
const within = (photo: SitePhoto, [x, y]: Point): Point => [
  Math.min(Math.max(x, 0), photo.widthPx),
  Math.min(Math.max(y, 0), photo.heightPx),
];

/**
 * Sets four marks on the photo, in order round a figure on the ground. A mark can be dragged at any time; once all are
 * set, pressing one and then another place moves it there, which is the way for fingers. What was measured between the
 * marks is typed in the panel.
 */
export const rectifyTool: Tool<Marking> = {
  name: 'rectify',
  start: NO_MARKS,
  handle: (before, input, context): Step<Marking> => {
    const { photo } = context.plan;
    if (!photo) {
      return { state: NO_MARKS, draft: NO_DRAFT, say: 'Put a site photo under the plan first.', done: true };
    }
    const state: Marking =
      before.pictureId === photo.pictureId ? before : { ...NO_MARKS, pictureId: photo.pictureId };
    const stay = (next: Partial<Marking>, say?: string): Step<Marking> => {
      const now = { ...state, ...next };
      return { state: now, draft: draftOf(now, photo), ...(say ? { say } : {}) };
    };
    const moved = (index: number, to: Point): readonly Point[] =>
      state.marks.map((mark, i) => (i === index ? to : mark));

    switch (input.kind) {
      case 'move': {
        const px = planToPhoto(photo, input.at);
        const pointer = inside(photo, px) ? px : null;
        return state.held === null
          ? stay({ pointer })
          : stay({ pointer, marks: moved(state.held, within(photo, px)) });
      }
      case 'down': {
        const px = planToPhoto(photo, input.at);
        const near = nearest(state.marks, photo, input.at, context.toleranceM);
        if (near !== null) {
          return stay(
            { held: near, chosen: near },
            state.marks.length === COUNT ? `Mark ${near + 1}: drag it, or press its new place.` : undefined,
          );
        }
        if (!inside(photo, px)) return stay({ pointer: null }, 'This place is not on the photo.');
        if (state.marks.length < COUNT) {
          const marks = [...state.marks, px];
          return stay(
            { marks, pointer: px, chosen: null },
            marks.length === COUNT
              ? 'Type what was measured between the marks in the panel. Drag a mark to set it more closely.'
              : undefined,
          );
        }
        if (state.chosen !== null) {
          // Held still, so that the mark can be put right before the press ends.
          return stay({ marks: moved(state.chosen, px), held: state.chosen, chosen: null, pointer: px });
        }
        return stay({ pointer: px }, 'All four marks are set. Drag one to move it.');
      }
      case 'up':
        return stay({ held: null });
      case 'back':
        return stay({ marks: state.marks.slice(0, -1), held: null, chosen: null });
      case 'escape':
        if (state.held !== null) return stay({ held: null, chosen: null });
        return state.marks.length
          ? { state: NO_MARKS, draft: NO_DRAFT }
          : { state: NO_MARKS, draft: NO_DRAFT, done: true };
      case 'double':
      case 'enter':
      case 'typed':
        return stay(
          {},
          state.marks.length < COUNT
            ? `Press at mark ${state.marks.length + 1} of ${COUNT}.`
            : 'Type what was measured between the marks in the panel, then press Flatten there.',
        );
    }
  },
};

/** The mark within reach of a place on the plan, the nearest first. */
function nearest(marks: readonly Point[], photo: SitePhoto, at: Point, reachM: number): number | null {
  let found: number | null = null;
  let least = reachM;
  marks.forEach((mark, i) => {
    const away = distance(photoToPlan(photo, mark), at);
    if (away <= least) {
      least = away;
      found = i;
    }
  });
  return found;
}
