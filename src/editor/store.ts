import { createStore, type StoreApi } from 'zustand/vanilla';
import { distance, type Path, type Point } from '../base/point.ts';
import type { UnitSystem } from '../base/quantity.ts';
import type { Problem } from '../base/result.ts';
import { fitPhoto } from '../derive/photo-fit.ts';
import type { FrictionLaw } from '../derive/network/friction-law.ts';
import type { Scenario } from '../derive/scenarios/scenario.ts';
import type { Studies } from '../derive/live/study-server.ts';
import type { Notice } from '../derive/results.ts';
import { pick } from '../drawing/pick.ts';
import { follow } from '../layout/live/index.ts';
import { duplicated, move, remove, type Edit } from '../plan/edits/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import { TABLES, type LinePartKind, type Plan, type Ref } from '../plan/records.ts';
import { PX_PER_MM, type Camera } from './camera.ts';
import { clipOf, pasted, wayIntoBed, wayTo, type Clip } from './clipboard.ts';
import { FIRST_CHOICES, type Choices } from './choices.ts';
import { ALL_SHOWN, mayTouch, type LayerState } from './layers.ts';
import { kept, redone, startHistory, stepped, undone, type History } from './history.ts';
import { toldOf } from './follow-notes.ts';
import { OPENING } from './opening.ts';
import { deletedSaid, heldSaid, redoneSaid, undoneSaid } from './told.ts';
import { snapPoint, snapTargets } from './snap.ts';
import {
  headHandles,
  NO_DRAFT,
  TOOLS,
  type Draft,
  type Step,
  type ToolContext,
  type ToolInput,
  type ToolName,
} from './tools/index.ts';

/** The views, in the order of the job. */
export const VIEWS = ['survey', 'decide', 'layout', 'prove', 'water', 'build', 'teach'] as const;
export type ViewName = (typeof VIEWS)[number];

/** Which tools a view offers; their keys work in every view. The first one is taken when a view opens. */
export const VIEW_TOOLS: Readonly<Record<ViewName, readonly ToolName[]>> = {
  survey: [
    'select',
    'pan',
    'rectify',
    'measure',
    'area',
    'level',
    'fall',
    'section',
    'plant',
    'supply',
    'head',
    'lateral',
    'lasso',
    'row',
    'grid',
    'brush',
    'tape',
  ],
  decide: ['select', 'pan', 'tape'],
  layout: [
    'select',
    'pan',
    'lasso',
    'control',
    'inline',
    'blank',
    'emitter',
    'check',
    'flush',
    'relief',
    'drain',
    'plant',
    'row',
    'grid',
    'brush',
    'tape',
  ],
  prove: ['select', 'pan', 'tape'],
  water: ['select', 'pan', 'tape'],
  build: ['select', 'pan', 'tape'],
  teach: ['select', 'pan', 'tape'],
};

/** Views in which things are drawn and dragged; the others only look, lest a swipe moves the work. */
const DRAWING_VIEWS: readonly ViewName[] = ['survey', 'layout'];
export const mayEditIn = (view: ViewName): boolean => DRAWING_VIEWS.includes(view);

/** A short word to the person at the foot of the canvas. */
export interface Saying {
  readonly text: string;
  readonly tone: 'info' | 'error';
  /** Rises with each saying, so that the same words can be said again. */
  readonly number: number;
}

/** Several things to tell at once, e.g. what was left out of a file. */
export interface Report {
  readonly title: string;
  readonly problems: readonly Problem[];
}

/** What is computed from a plan, kept with what it answers; what is shown may have gone on since. */
export interface Answer extends Studies {
  readonly plan: Plan;
  readonly scenario: Scenario;
  readonly friction: FrictionLaw;
  /** Findings of the calculation and of all checks. */
  readonly notices: readonly Notice[];
  /** False while `notices` are still those of an earlier answer. */
  readonly checked: boolean;
}

/** What is advised, as it is shown on the plan before it is set. */
export interface Advice {
  /** Lines between bands. */
  readonly lines: readonly Path[];
  readonly signs: readonly {
    readonly at: Point;
    readonly kind: 'check valve' | LinePartKind;
    /** The one that is looked at. */
    readonly marked: boolean;
  }[];
}

/** What can be done with an edit that is shown without being kept. */
export interface Offer {
  /** What keeps it, e.g. "Draw these rows". */
  readonly label: string;
  draw(): void;
  drop(): void;
}

export interface EditorState {
  readonly history: History;
  /** How often another plan was opened: what is typed for one plan is not meant for the next. */
  readonly openings: number;
  readonly draft: Draft;
  /** Set while what is shown is only proposed and can be drawn or dropped. */
  readonly offer: Offer | null;
  readonly tool: ToolName;
  readonly toolState: unknown;
  readonly choices: Choices;
  readonly selection: readonly Ref[];
  readonly view: ViewName;
  /** What is solved for: the running zone, unless Prove asks for another situation. */
  readonly scenario: Scenario;
  readonly friction: FrictionLaw;
  readonly camera: Camera;
  readonly units: UnitSystem;
  readonly answer: Answer | null;
  /** Index into the answer's outlets that the person looks at. */
  readonly outlet: number | null;
  /** Places that a list of the panel shows besides what is chosen; gone with the next choice or change. */
  readonly marked: readonly Point[];
  readonly saying: Saying | null;
  readonly report: Report | null;
  /** Lines and open signs of what is advised, drawn over the plan; part of neither plan nor history. */
  readonly advice: Advice | null;
  /** Whether beds are tinted by their slope. */
  readonly showSlopes: boolean;
  /** Whether Lay out shows the soil that gets wet, and which root zones. */
  readonly showWetted: boolean;
  readonly showRoots: 'off' | 'now' | 'mature';
  /** The line along which the ground is seen from the side. */
  readonly section: Path | null;
  /** Layers of the plan that are hidden or locked. */
  readonly layers: LayerState;
  /** Snapping is off while this is true. */
  readonly snapOff: boolean;
  /** Things copied, to be pasted here or into another plan. */
  readonly clip: Clip | null;
  /** Where the keys hold the pen, while no pointer does. */
  readonly crosshair: Point | null;
}

/** How near the pointer must come, screen pixels; fingers are thicker. */
const REACH_PX = { fine: 9, coarse: 18 } as const;
export type Pointer = keyof typeof REACH_PX;

/** The plan with the draft's edit applied: what is shown and solved while a gesture lasts. */
export function shownPlan(state: Pick<EditorState, 'history' | 'draft'>): Plan {
  return state.draft.edit ? draftedPlan(state.history.plan, state.draft.edit) : state.history.plan;
}

const drafted = new WeakMap<Edit, { from: Plan; plan: Plan }>();
function draftedPlan(plan: Plan, edit: Edit): Plan {
  const known = drafted.get(edit);
  if (known?.from === plan) return known.plan;
  const next = follow(plan, edit.apply(plan), { drafted: true }).plan;
  drafted.set(edit, { from: plan, plan: next });
  return next;
}

export interface Editor {
  readonly store: StoreApi<EditorState>;
  /** Hands an input to the tool in hand. */
  input(input: ToolInput, pointer?: Pointer): void;
  chooseTool(tool: ToolName, choices?: Partial<Choices>): void;
  setChoices(choices: Partial<Choices>): void;
  commit(edit: Edit): void;
  /**
   * Shows an edit without keeping it, e.g. while a slider moves; it stays while the pointer and tools are used, until
   * null or another view ends that. With an offer the plan says so, and the edit can be drawn or dropped there.
   */
  preview(edit: Edit | null, offer?: Offer): void;
  /** Hides what is only shown (a preview) while sheets of the kept plan are made; it comes back when switched off. */
  showKeptOnly(on: boolean): void;
  undo(): void;
  redo(): void;
  /** Chooses records; `marked` are places that no record stands for, shown with them. */
  select(refs: readonly Ref[], marked?: readonly Point[]): void;
  removeSelection(): void;
  duplicateSelection(offsetM: number): void;
  /** Keeps copies of what is chosen; says whether there was anything to copy. */
  copySelection(): boolean;
  /** Sets the copies in with their middle at a place; without one where the pointer last was, else in the middle. */
  paste(at?: Point): void;
  /** Copies what is chosen into another bed, at the same place from its lower left corner. */
  copyToBed(areaId: string): void;
  setCrosshair(at: Point | null): void;
  nudgeSelection(dx: number, dy: number): void;
  show(view: ViewName): void;
  setScenario(scenario: Scenario): void;
  setFriction(law: FrictionLaw): void;
  setCamera(camera: Camera): void;
  setUnits(units: UnitSystem): void;
  setAnswer(answer: Answer | null): void;
  lookAt(outlet: number | null): void;
  /** Shows what is advised until null or another view. */
  setAdvice(advice: Advice | null): void;
  setShowSlopes(show: boolean): void;
  setShowWetted(show: boolean): void;
  setShowRoots(show: EditorState['showRoots']): void;
  setSection(section: Path | null): void;
  setSnapOff(off: boolean): void;
  /** Hides and locks layers; what was chosen on them is let go. */
  setLayers(layers: LayerState): void;
  /** Chooses all that is shown and not locked. */
  selectAll(): void;
  say(text: string, tone?: Saying['tone']): void;
  report(report: Report | null): void;
  /** Opens another plan as one more step of history, so that undo brings back the one before. */
  open(plan: Plan): void;
  /** Opens the plan of the last visit; there is nothing to go back to. */
  start(plan: Plan): void;
  /** What lies under a point at the present zoom; on a handle of the chosen head, that head. */
  under(at: Point, pointer?: Pointer): readonly Ref[];
}

/**
 * The camera for which the site photo stays where it is on the screen although its scale has changed: whoever fits
 * the scale looks at the photo, and should not lose it.
 */
function photoHeldStill(camera: Camera, before: Plan, after: Plan): Camera {
  const { photo } = after;
  if (!photo || !before.photo || photo === before.photo || photo.pictureId !== before.photo.pictureId)
    return camera;
  const grown = fitPhoto(photo).metresPerPixel / fitPhoto(before.photo).metresPerPixel;
  if (grown === 1 || !Number.isFinite(grown)) return camera;
  const [x, y] = photo.corner;
  return {
    ...camera,
    pixelsPerMetre: camera.pixelsPerMetre / grown,
    center: [x + (camera.center[0] - x) * grown, y + (camera.center[1] - y) * grown],
  };
}

const RUNNING: Scenario = { kind: 'running' };
const NO_PLACES: readonly Point[] = [];
const USUAL_LAW: FrictionLaw = 'darcy-weisbach';

const LOOKS_ONLY = 'This view only looks. Change the plan in Survey or Lay out.';

/** What of a list passes; the very same list where all does, so that nobody is woken by an equal one. */
function left<T>(list: readonly T[], passes: (one: T) => boolean): readonly T[] {
  return list.every(passes) ? list : list.filter(passes);
}

const exists = (plan: Plan, ref: Ref) => plan[ref.table].has(ref.id);

/** The one store and the only ways to change it. */
export function createEditor(plan: Plan = emptyPlan(), units: UnitSystem = 'us'): Editor {
  const store = createStore<EditorState>(() => ({
    history: startHistory(plan),
    openings: 0,
    draft: NO_DRAFT,
    offer: null,
    tool: 'select',
    toolState: TOOLS.select.start,
    choices: FIRST_CHOICES,
    selection: [],
    view: 'survey',
    scenario: RUNNING,
    friction: USUAL_LAW,
    camera: { center: [5, 5], pixelsPerMetre: 40, widthPx: 800, heightPx: 600 },
    units,
    answer: null,
    outlet: null,
    marked: NO_PLACES,
    saying: null,
    report: null,
    advice: null,
    showSlopes: false,
    showWetted: false,
    showRoots: 'off',
    section: null,
    layers: ALL_SHOWN,
    snapOff: false,
    clip: null,
    crosshair: null,
  }));
  const { getState, setState } = store;
  /** The draft between gestures: nothing, or the edit that is shown without being kept. */
  let resting: Draft = NO_DRAFT;
  /** While this is up nothing is shown that is not kept: sheets speak of the kept plan. */
  let keptOnly = false;
  const atRest = (): Draft => (keptOnly ? NO_DRAFT : resting);
  const withPreview = (draft: Draft): Draft => {
    if (draft === NO_DRAFT || keptOnly) return atRest();
    return resting.edit && !draft.edit ? { ...draft, edit: resting.edit } : draft;
  };

  const context = (pointer: Pointer): ToolContext => {
    const { history, choices, selection, camera, snapOff, view, layers } = getState();
    const toleranceM = REACH_PX[pointer] / camera.pixelsPerMetre;
    const targets = snapTargets(history.plan);
    return {
      plan: history.plan,
      mayEdit: mayEditIn(view),
      choices,
      selection,
      toleranceM,
      snapOff,
      snap: (raw, request = {}) =>
        snapOff
          ? { at: raw, kind: 'free', guide: null }
          : snapPoint(targets, raw, { toleranceM, ...request }),
      mayTouch: (ref) => mayTouch(layers, ref),
      pick: (at) =>
        pick(history.plan, at, toleranceM, PX_PER_MM / camera.pixelsPerMetre).filter((ref) =>
          mayTouch(layers, ref),
        ),
    };
  };

  const say: Editor['say'] = (text, tone = 'info') =>
    setState(({ saying }) => ({ saying: { text, tone, number: (saying?.number ?? 0) + 1 } }));

  const setHistory = (history: History) =>
    setState((state) => ({
      history,
      saying: null,
      marked: NO_PLACES,
      camera: photoHeldStill(state.camera, state.history.plan, history.plan),
      selection: left(state.selection, (ref) => exists(history.plan, ref)),
    }));

  /** Those of the records that can be chosen and changed; says so where some cannot. */
  const touchable = (refs: readonly Ref[]): readonly Ref[] => {
    const { layers } = getState();
    const free = left(refs, (ref) => mayTouch(layers, ref));
    const held = free === refs ? null : heldSaid(layers, refs);
    if (held) say(held);
    return free;
  };

  const chooseTool: Editor['chooseTool'] = (tool, choices) =>
    setState((state) => ({
      tool,
      toolState: TOOLS[tool].start,
      draft: atRest(),
      saying: null,
      outlet: null,
      ...(choices ? { choices: { ...state.choices, ...choices } } : {}),
    }));

  const commit: Editor['commit'] = (edit) => {
    const { history, notes } = kept(getState().history, edit);
    setHistory(history);
    if (notes.length) say(toldOf(notes));
  };

  /** Where the pointer last was on the plan. */
  let lastAt: Point | null = null;

  const set = (label: string, clip: Clip, way: Point): void => {
    if (!mayEditIn(getState().view)) return say(LOOKS_ONLY);
    const held = heldSaid(
      getState().layers,
      TABLES.filter((table) => clip.records[table]?.length).map((table) => ({ table })),
    );
    if (held) return say(held);
    const { plan: next, refs, lost } = pasted(getState().history.plan, clip, way);
    commit({ label, apply: () => next });
    setState(({ history }) => ({ selection: refs.filter((ref) => exists(history.plan, ref)) }));
    if (lost) say(`${lost} ${lost === 1 ? 'part was' : 'parts were'} left out: no tubing lies there.`);
  };

  /** Whether a move has changed nothing: most do, and nobody is to be woken by them. */
  const rests = (step: Step<unknown>, given: ToolInput): boolean => {
    const { toolState, draft } = getState();
    return (
      given.kind === 'move' &&
      step.state === toolState &&
      withPreview(step.draft) === draft &&
      !step.keep &&
      step.select === undefined &&
      step.section === undefined &&
      !step.say &&
      !step.done
    );
  };

  /** Why a press of Select met nothing, where it lies on a thing of a locked layer. */
  const heldUnder = (given: ToolInput, pointer: Pointer): string | null => {
    const { tool, layers, history, camera } = getState();
    if (given.kind !== 'down' || tool !== 'select' || !layers.locked.length) return null;
    const all = pick(
      history.plan,
      given.at,
      REACH_PX[pointer] / camera.pixelsPerMetre,
      PX_PER_MM / camera.pixelsPerMetre,
    );
    if (all.some((ref) => mayTouch(layers, ref))) return null;
    const isHidden = (ref: Ref) => !mayTouch({ ...layers, locked: [] }, ref);
    return heldSaid(
      layers,
      all.filter((ref) => !isHidden(ref)),
    );
  };

  const input: Editor['input'] = (given, pointer = 'fine') => {
    if ('at' in given) lastAt = given.at;
    const { tool, toolState, history } = getState();
    const step = TOOLS[tool].handle(toolState, given, context(pointer));
    if (rests(step, given)) return;
    const { history: next, notes } = step.keep ? kept(history, step.keep) : { history, notes: [] };
    const wanted = typeof step.select === 'function' ? step.select(history.plan, next.plan) : step.select;
    setState((state) => ({
      toolState: step.state,
      draft: withPreview(step.draft),
      history: next,
      camera: photoHeldStill(state.camera, history.plan, next.plan),
      selection: left(wanted ?? state.selection, (ref) => exists(next.plan, ref)),
      ...(step.section === undefined ? {} : { section: step.section }),
      ...(step.select === undefined && !step.keep ? {} : { marked: NO_PLACES }),
    }));
    const said = [step.say, notes.length ? toldOf(notes) : ''].filter(Boolean).join(' ');
    if (said) say(said);
    else if (step.keep) setState({ saying: null });
    const held = step.keep ? null : heldUnder(given, pointer);
    if (held) say(held);
    if (step.done) chooseTool('select');
  };

  return {
    store,
    input,
    chooseTool,
    setChoices: (choices) => setState((state) => ({ choices: { ...state.choices, ...choices } })),
    commit,
    preview(edit, offer) {
      resting = edit ? { ...NO_DRAFT, edit } : NO_DRAFT;
      setState({ draft: atRest(), offer: (edit && offer) ?? null });
    },
    showKeptOnly(on) {
      keptOnly = on;
      setState({ draft: atRest() });
    },
    undo() {
      const { draft, tool, history } = getState();
      // An unfinished gesture is what a person wants to take back first: its last corner, or the whole drag.
      if (draft.dots.length) return input({ kind: 'back' });
      setState({ draft: atRest(), toolState: TOOLS[tool].start, outlet: null });
      const dragging = tool === 'select' && draft.edit !== null && draft.edit !== resting.edit;
      const last = history.past.at(-1);
      if (dragging || !last) return;
      setHistory(undone(history));
      say(undoneSaid(last.label, last.plan));
    },
    redo() {
      const { history } = getState();
      const next = history.future.at(-1);
      if (!next) return;
      setHistory(redone(history));
      setState({ outlet: null });
      say(redoneSaid(next.label, next.plan));
    },
    select: (refs, marked = NO_PLACES) => setState({ selection: touchable(refs), marked }),
    removeSelection() {
      const { selection } = getState();
      const free = touchable(selection);
      if (!free.length) return;
      const { history, notes } = kept(getState().history, remove('Delete', free));
      setHistory(history);
      say([deletedSaid(free), notes.length ? toldOf(notes) : ''].filter(Boolean).join(' '));
    },
    duplicateSelection(offsetM) {
      const { history } = getState();
      const selection = touchable(getState().selection);
      if (!selection.length) return;
      const { plan: next, copies } = duplicated(history.plan, selection, offsetM, -offsetM);
      commit({ label: 'Duplicate', apply: () => next });
      setState({ selection: copies });
    },
    copySelection() {
      const { selection, history } = getState();
      const clip = clipOf(history.plan, selection);
      if (!clip) return false;
      setState({ clip });
      say(`${selection.length} ${selection.length === 1 ? 'thing' : 'things'} copied.`);
      return true;
    },
    paste(at) {
      const { clip, camera } = getState();
      if (!clip) return say('Nothing is copied yet. Choose things and copy them first.');
      set('Paste', clip, wayTo(clip, at ?? lastAt ?? camera.center));
    },
    copyToBed(areaId) {
      const { selection, history } = getState();
      const clip = clipOf(history.plan, selection);
      const bed = history.plan.areas.get(areaId);
      if (clip && bed) set('Copy to bed', clip, wayIntoBed(clip, bed));
    },
    setCrosshair(at) {
      if (getState().crosshair !== at) setState({ crosshair: at });
    },
    nudgeSelection(dx, dy) {
      const { view } = getState();
      const selection = touchable(getState().selection);
      if (selection.length && mayEditIn(view)) commit(move('Move', selection, dx, dy));
    },
    show(view) {
      if (view === getState().view) return;
      if (resting.edit) {
        resting = NO_DRAFT;
        setState({ draft: NO_DRAFT, offer: null });
      }
      // Other views and the sheets speak of the running zone.
      setState({
        view,
        selection: [],
        marked: NO_PLACES,
        outlet: null,
        saying: null,
        advice: null,
        scenario: RUNNING,
        friction: USUAL_LAW,
      });
      if (!VIEW_TOOLS[view].includes(getState().tool)) chooseTool('select');
    },
    setScenario: (scenario) => setState({ scenario }),
    setFriction: (friction) => setState({ friction }),
    setCamera: (camera) => setState({ camera }),
    setUnits: (next) => setState({ units: next }),
    setAnswer: (answer) =>
      setState(({ outlet }) => ({ answer, outlet: answer?.results.outlets[outlet ?? -1] ? outlet : null })),
    lookAt: (outlet) => {
      if (getState().outlet !== outlet) setState({ outlet });
    },
    setAdvice: (advice) => {
      if (getState().advice !== advice) setState({ advice });
    },
    setShowSlopes: (showSlopes) => setState({ showSlopes }),
    setShowWetted: (showWetted) => setState({ showWetted }),
    setShowRoots: (showRoots) => setState({ showRoots }),
    setSection: (section) => setState({ section }),
    setLayers: (layers) =>
      setState(({ selection }) => ({ layers, selection: left(selection, (ref) => mayTouch(layers, ref)) })),
    selectAll() {
      const { history, layers } = getState();
      // A fill is chosen through its bed.
      const tables = TABLES.filter((table) => table !== 'fills' && mayTouch(layers, { table }));
      setState({
        selection: tables.flatMap((table) => [...history.plan[table]].map(({ id }) => ({ table, id }))),
      });
    },
    setSnapOff: (snapOff) => {
      if (getState().snapOff !== snapOff) setState({ snapOff });
    },
    say,
    report: (report) => setState({ report }),
    open(next) {
      resting = NO_DRAFT;
      setState({ offer: null });
      chooseTool('select');
      setHistory(stepped(getState().history, next, OPENING));
      setState({
        openings: getState().openings + 1,
        selection: [],
        outlet: null,
        answer: null,
        section: null,
      });
    },
    start(next) {
      setState({
        history: startHistory(next),
        openings: getState().openings + 1,
        selection: [],
        marked: NO_PLACES,
        outlet: null,
        answer: null,
        section: null,
      });
    },
    under(at, pointer = 'fine') {
      const { pick: pickAt, plan: now, selection, toleranceM } = context(pointer);
      const handle = headHandles(now, selection).some((spot) => distance(spot.at, at) <= toleranceM);
      return handle ? [...selection, ...pickAt(at)] : pickAt(at);
    },
  };
}
