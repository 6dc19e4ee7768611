import type { Studies, StudyOrder, Notice } from '../derive/index.ts';
import { OPENING, shownPlan, type Editor, type EditorState } from '../editor/index.ts';
import type { Plan } from '../plan/records.ts';
import type { StudyClient, StudyEvents } from './study-queue.ts';

/** Keeps the answer with what is shown. */
export interface LiveStudy {
  /** Resolves once the answer to the plan as it is now is there, or cannot be had. */
  settled(): Promise<void>;
}

/**
 * Has what is shown studied, drafts included, and keeps the answer with it.
 * @param nextFrame calls back once before the next picture; a pointer moves more often than the screen shows it
 */
export function studyWhatIsShown(
  editor: Editor,
  createClient: (events: StudyEvents) => StudyClient,
  nextFrame: (call: () => void) => void,
): LiveStudy {
  /** The kept plan that an order's draft was made on. */
  const keptFor = new WeakMap<StudyOrder, Plan>();
  let asked: StudyOrder | null = null;

  const show = (order: StudyOrder, studies: Studies, notices: readonly Notice[] | null): void => {
    const state = editor.store.getState();
    if (!belongs(state, order, keptFor.get(order)!)) return;
    const { plan, scenario, friction } = order;
    editor.setAnswer({
      plan,
      scenario,
      friction,
      ...studies,
      notices: notices ? [...studies.results.notices, ...notices] : (state.answer?.notices ?? []),
      checked: notices !== null,
    });
  };
  const client = createClient({
    onStudies: (order, studies) => show(order, studies, null),
    onNotices: show,
    onProblem: (problem) => editor.say(`${problem.what} ${problem.todo}`, 'error'),
  });

  const ask = (): void => {
    const state = editor.store.getState();
    const { scenario, friction, units } = state;
    const plan = shownPlan(state);
    const same =
      asked?.plan === plan &&
      asked.scenario === scenario &&
      asked.friction === friction &&
      asked.units === units;
    // An answer that was taken away, as when a plan is opened, is asked for again.
    if (same && (state.answer || client.busy)) return;
    asked = { plan, scenario, friction, units };
    keptFor.set(asked, state.history.plan);
    client.request(asked);
  };

  let due = false;
  editor.store.subscribe((state, before) => {
    const same =
      state.history.plan === before.history.plan &&
      state.draft.edit === before.draft.edit &&
      state.scenario === before.scenario &&
      state.friction === before.friction &&
      state.units === before.units &&
      (state.answer !== null || before.answer === null);
    if (due || same) return;
    due = true;
    nextFrame(() => {
      if (due) ask();
      due = false;
    });
  });
  ask();

  return {
    settled() {
      if (due) ask();
      due = false;
      return client.idle();
    },
  };
}

/**
 * Whether an answer may be shown now: its plan is shown, or lies on the way to what is shown, as an earlier corner of
 * the same gesture or an earlier step since the plan was opened. What was undone, dropped or replaced never shows.
 */
export function belongs(
  state: Pick<EditorState, 'history' | 'draft' | 'scenario' | 'friction'>,
  { plan, scenario, friction }: Pick<StudyOrder, 'plan' | 'scenario' | 'friction'>,
  keptPlan: Plan,
): boolean {
  if (scenario !== state.scenario || friction !== state.friction) return false;
  if (plan === shownPlan(state)) return true;
  if (keptPlan === state.history.plan) return state.draft.edit !== null;
  const { past } = state.history;
  for (let i = past.length - 1; i >= 0 && past[i]!.label !== OPENING; i--) {
    if (past[i]!.plan === plan) return true;
  }
  return false;
}
