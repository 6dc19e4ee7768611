import type { Path, Point } from '../../base/point.ts';
import type { Edit } from '../../plan/edits/index.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import type { Choices } from '../choices.ts';
import type { Snap, SnapRequest } from '../snap.ts';

export type ToolName =
  | 'select'
  | 'pan'
  | 'measure'
  | 'area'
  | 'rectify'
  | 'level'
  | 'fall'
  | 'section'
  | 'head'
  | 'lateral'
  | 'plant'
  | 'supply'
  | 'control'
  | 'inline'
  | 'blank'
  | 'emitter'
  | 'check'
  | 'flush'
  | 'relief'
  | 'drain'
  | 'lasso'
  | 'row'
  | 'grid'
  | 'brush'
  | 'tape';

/** What a person does, in plan metres; `typed` comes from the length and direction fields. */
export type ToolInput =
  | { readonly kind: 'move' | 'up' | 'double'; readonly at: Point }
  | { readonly kind: 'down'; readonly at: Point; readonly add: boolean }
  | { readonly kind: 'typed'; readonly lengthM: number | null; readonly directionDeg: number | null }
  | { readonly kind: 'enter' | 'escape' | 'back' };

/** What a tool may look at. */
export interface ToolContext {
  readonly plan: Plan;
  /** False in views that only look: nothing is dragged or deleted there. */
  readonly mayEdit: boolean;
  readonly choices: Choices;
  readonly selection: readonly Ref[];
  /** How near counts as on it, metres at the present zoom. */
  readonly toleranceM: number;
  /** Whether the person holds the key that switches snapping off. */
  readonly snapOff: boolean;
  /** `unsnapped` while the person holds the key that switches snapping off. */
  snap(raw: Point, request?: Omit<SnapRequest, 'toleranceM'>): Snap;
  /** Whether a record can be chosen: its layer is shown and not locked. */
  mayTouch(ref: Ref): boolean;
  /** What lies under a point, uppermost first. */
  pick(at: Point): readonly Ref[];
}

/** Shown while a gesture lasts, outside the plan. */
export interface Draft {
  /** Applied to the plan for show and for the solver, kept only at the gesture's end. */
  readonly edit: Edit | null;
  readonly lines: readonly {
    readonly points: readonly Point[];
    readonly closed: boolean;
    readonly guide: boolean;
  }[];
  readonly dots: readonly Point[];
  readonly snap: Snap | null;
  /** The piece being drawn, for the length and direction fields. */
  readonly piece: {
    readonly from: Point;
    readonly to: Point;
    /** Along its way, metres, where that is not straight. */
    readonly lengthM?: number;
  } | null;
  /** Plants to be set, or to be taken away, with their canopies. */
  readonly stems?: { readonly points: readonly Point[]; readonly radiusM: number; readonly gone: boolean };
  /** Reach of a brush. */
  readonly brush?: { readonly at: Point; readonly radiusM: number };
  /** Places at which the shape drawn cannot be built as it is. */
  readonly signs?: readonly { readonly at: Point; readonly kind: 'bend' | 'cross' }[];
  /** A word beside a place: how many, or what is wrong there. */
  readonly word?: { readonly at: Point; readonly text: string };
}

export const NO_DRAFT: Draft = { edit: null, lines: [], dots: [], snap: null, piece: null };

/** What follows from an input: the tool's next state, and perhaps a draft, an edit to keep, a new selection. */
export interface Step<S> {
  readonly state: S;
  readonly draft: Draft;
  readonly keep?: Edit;
  readonly select?: readonly Ref[] | ((before: Plan, after: Plan) => readonly Ref[]);
  /** A word to the person: why nothing happened. */
  readonly say?: string;
  /** Line of a cross-section to be shown; null ends it. */
  readonly section?: Path | null;
  /** Leave for the selection tool. */
  readonly done?: boolean;
}

/** A tool: a function with named states, tested without a canvas. */
export interface Tool<S> {
  readonly name: ToolName;
  readonly start: S;
  handle(state: S, input: ToolInput, context: ToolContext): Step<S>;
}

/** The records that an edit added to one table. */
export function addedTo(table: Ref['table']): (before: Plan, after: Plan) => readonly Ref[] {
  return (before, after) =>
    [...after[table]].filter(({ id }) => !before[table].has(id)).map(({ id }) => ({ table, id }));
}
