import { FIRST_SPRAY } from '../../catalog/index.ts';
import { distance, type Point } from '../../base/point.ts';
import { add, middleDeg, pulledHandle, pulledPattern, type HeadHandle } from '../../plan/edits/index.ts';
import { polar } from '../../base/point.ts';
import type { Head, HeadPattern, Plan, Ref } from '../../plan/records.ts';
import { addedTo, NO_DRAFT, type Draft, type Step, type Tool, type ToolContext } from './tool.ts';

/** Directions catch on multiples of this, degrees, unless snapping is off. */
const STEP_DEG = 5;
/** A head this near to another is taken for the same one, metres. */
const SAME_HEAD_M = 0.05;

export const stepOf = (context: Pick<ToolContext, 'snapOff'>): number => (context.snapOff ? 0 : STEP_DEG);

/** Sector that a head is given when one is pulled out before any was chosen. */
const FIRST_SECTOR: HeadPattern = {
  kind: 'sector',
  radiusM: FIRST_SPRAY.radiusM,
  startDeg: 0,
  sweepDeg: FIRST_SPRAY.sweepDeg,
};

/** At rest, or pressed at a place: `to` is set once the pointer has been pulled away from it. */
export type PlacingHead =
  { readonly name: 'placing' } | { readonly name: 'pulling'; readonly at: Point; readonly to: Point | null };

const REST: PlacingHead = { name: 'placing' };

function headEdit(at: Point, to: Point | null, context: ToolContext) {
  const { head } = context.choices;
  const pattern = to ? pulledPattern(head.pattern ?? FIRST_SECTOR, at, to, stepOf(context)) : head.pattern;
  return add('Place spray head', 'heads', { ...head, at, pattern });
}

/**
 * Places old spray heads: a press sets one like the choices in the panel; pulled away before it is let go, the
 * pointer gives the middle direction and the radius of its sector.
 */
export const headTool: Tool<PlacingHead> = {
  name: 'head',
  start: REST,
  handle: (state, input, context): Step<PlacingHead> => {
    const shown = (next: PlacingHead & { name: 'pulling' }): Draft => ({
      ...NO_DRAFT,
      edit: headEdit(next.at, next.to, context),
      lines: next.to ? [{ points: [next.at, next.to], closed: false, guide: true }] : [],
    });
    switch (input.kind) {
      case 'move': {
        if (state.name === 'pulling') {
          const far = distance(state.at, input.at) > context.toleranceM;
          // Once pulled out it stays pulled out, also on the way back.
          const to = far || state.to ? input.at : null;
          const next = { ...state, to };
          return { state: next, draft: shown(next) };
        }
        const snap = context.snap(input.at);
        return { state, draft: { ...NO_DRAFT, edit: headEdit(snap.at, null, context), snap } };
      }
      case 'down': {
        const { at } = context.snap(input.at);
        const there = [...context.plan.heads].find((head) => distance(head.at, at) <= SAME_HEAD_M);
        if (there) {
          return {
            state: REST,
            draft: NO_DRAFT,
            select: [{ table: 'heads', id: there.id }],
            say: `Head ${there.id} stands here already; its facts are in the panel.`,
          };
        }
        const next = { name: 'pulling', at, to: null } as const;
        return { state: next, draft: shown(next) };
      }
      case 'up': {
        if (state.name !== 'pulling') return { state, draft: NO_DRAFT };
        return {
          state: REST,
          draft: NO_DRAFT,
          keep: headEdit(state.at, state.to, context),
          select: addedTo('heads'),
        };
      }
      case 'escape':
        return state.name === 'pulling'
          ? { state: REST, draft: NO_DRAFT }
          : { state: REST, draft: NO_DRAFT, done: true };
      case 'back':
        return { state: REST, draft: NO_DRAFT };
      default:
        return { state, draft: state.name === 'pulling' ? shown(state) : NO_DRAFT };
    }
  },
};

/** A place by which the ground that a head wets can be pulled into shape. */
export interface HandleSpot {
  readonly id: string;
  readonly handle: HeadHandle;
  readonly at: Point;
}

function spotsOf(head: Head): HandleSpot[] {
  const { id, at, pattern } = head;
  if (!pattern) return [];
  if (pattern.kind === 'strip') {
    if (pattern.directionDeg === null) return [];
    return [
      { id, handle: 'length', at: polar(at, pattern.lengthM / 2, pattern.directionDeg) },
      { id, handle: 'width', at: polar(at, pattern.widthM / 2, pattern.directionDeg + 90) },
    ];
  }
  const { radiusM, startDeg, sweepDeg } = pattern;
  const radius: HandleSpot = { id, handle: 'radius', at: polar(at, radiusM, middleDeg(pattern)) };
  const end: HandleSpot = { id, handle: 'end', at: polar(at, radiusM, startDeg + sweepDeg) };
  // A full circle is opened by its end, which lies on its start.
  return sweepDeg >= 360
    ? [radius, end]
    : [radius, end, { id, handle: 'start', at: polar(at, radiusM, startDeg) }];
}

/** Handles of the chosen head; several heads at once have none, lest they cover one another. */
export function headHandles(plan: Plan, selection: readonly Ref[]): HandleSpot[] {
  const [only] = selection;
  if (selection.length !== 1 || only?.table !== 'heads') return [];
  const head = plan.heads.get(only.id);
  return head ? spotsOf(head) : [];
}

/** The shape that a head takes when one of its handles is pulled to a place. */
export function handlePulled(
  plan: Plan,
  { id, handle }: Pick<HandleSpot, 'id' | 'handle'>,
  to: Point,
  stepDeg: number,
): HeadPattern | null {
  const head = plan.heads.get(id);
  return head?.pattern ? pulledHandle(head.pattern, head.at, handle, to, stepDeg) : null;
}
