import { useSyncExternalStore, type ReactElement } from 'react';
import type { Problem } from '../base/result.ts';
import { createEditor, OPENING, showAll, type Editor } from '../editor/index.ts';
import { setPhoto } from '../plan/edits/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Plan, SitePhoto } from '../plan/records.ts';
import { Screen } from '../screen/Screen.tsx';
import type { SaveState, Services } from '../screen/services.ts';
import { openDemo } from './demo.ts';
import { base64Of, download, kindOfFile, openPlanFile, planFileName, savePlanFile } from './files.ts';
import { createPlantImport } from './plant-import.ts';
import { flatteningFor } from './flat-photo.ts';
import { studyWhatIsShown, type LiveStudy } from './live-study.ts';
import { createPictures, type AddedPicture, type Pictures } from './pictures.ts';
import { createPrefsKeeper, readPrefs } from './prefs.ts';
import { printSheets } from './printing.ts';
import { createStorage, saveOnLeaving, whenLeaving, type Storage } from './storage.ts';
import { createStudyClient, flushGroupsOf, situationsOf } from './study-client.ts';

/** Width on the ground that a photo gets until it is measured, metres. */
const ASSUMED_WIDTH_M = 20;

/** A photo record for a picture that is new to the plan; lies with its lower left corner on the plan's zero. */
function placedPhoto(added: AddedPicture): SitePhoto {
  const heightM = (ASSUMED_WIDTH_M * added.heightPx) / added.widthPx;
  return {
    ...added,
    corner: [0, heightM],
    turnDeg: 0,
    assumedWidthM: ASSUMED_WIDTH_M,
    measures: [],
    strength: 0.85,
    rectification: null,
  };
}

function tell(editor: Editor, title: string, problems: readonly Problem[]): void {
  if (problems.length) editor.report({ title, problems });
}

function servicesFor(
  editor: Editor,
  pictures: Pictures,
  storage: Storage,
  live: () => LiveStudy | null,
): Services {
  const openPlan = (plan: Plan) => {
    editor.open(plan);
    showAll(editor);
    editor.say(`${plan.site.name || 'A new plan'} is open. Undo brings back the plan before.`);
  };
  const takePicture = async (file: Blob) => {
    const added = await pictures.add(file);
    if (!added.ok) return tell(editor, 'The picture was not taken in', [added.problem]);
    const { photo } = editor.store.getState().history.plan;
    // A new copy of the same scene keeps the place, not the measured lines: they hold for other pixels.
    editor.commit(
      setPhoto(
        'Place photo',
        photo ? { ...placedPhoto(added.value), corner: photo.corner } : placedPhoto(added.value),
      ),
    );
    editor.show('survey');
    showAll(editor);
  };
  const takePlan = async (file: File) => {
    const opened = await openPlanFile(file, pictures);
    if (!opened.ok) return tell(editor, 'The file was not opened; your plan is as it was', [opened.problem]);
    openPlan(opened.value.plan);
    tell(editor, `${file.name} is open, with these remarks`, opened.value.notices);
  };
  const plantImport = createPlantImport((problem) =>
    tell(editor, 'The plant list was not read; your plan is as it was', [problem]),
  );
  const computed = <T,>(answer: Promise<T>): Promise<T | null> =>
    answer.catch((error: unknown) => {
      const what = error instanceof Error ? error.message : String(error);
      tell(editor, 'The situations were not computed', [
        { where: 'pressure calculation', what, todo: 'Try again; the plan is as it was.' },
      ]);
      return null;
    });
  let shownState: SaveState = { kind: 'idle' };
  return {
    pictures,
    plantImport,
    async take(blob) {
      const kind = await kindOfFile(blob);
      const file = blob instanceof File ? blob : new File([blob], 'pasted file', { type: blob.type });
      if (kind === 'picture') await takePicture(blob);
      else if (kind === 'plants') await plantImport.open(file);
      else await takePlan(file);
    },
    saveText(text, name, mediaType) {
      const planFile = planFileName(editor.store.getState().history.plan.site.name);
      download(new Blob([text], { type: mediaType }), planFile.replace(/\.dripwright\.json$/, ` ${name}`));
    },
    async savePlan() {
      const saved = await savePlanFile(editor.store.getState().history.plan, pictures);
      if (!saved.ok) return tell(editor, 'The plan was not saved', [saved.problem]);
      tell(editor, `${saved.value.name} was saved, with this remark`, saved.value.notices);
    },
    newPlan() {
      openPlan(emptyPlan());
      editor.show('survey');
    },
    openDemo() {
      void openDemo(pictures).then(({ plan, problems }) => {
        openPlan(plan);
        tell(editor, 'The demo plan is open, with this remark', problems);
      });
    },
    studied: async () => live()?.settled(),
    situations: (plan) => computed(situationsOf(plan, editor.store.getState().units)),
    flushGroups: (plan) => computed(flushGroupsOf(plan)),
    async print(sheets) {
      const { plan } = editor.store.getState().history;
      const name = planFileName(plan.site.name).replace(/\.dripwright\.json$/, '.pdf');
      try {
        await printSheets(sheets, name, plan.photo?.pictureId, pictures);
      } catch (error) {
        const what = error instanceof Error ? error.message : String(error);
        tell(editor, 'The PDF was not made', [
          { where: name, what, todo: 'Reload the page and print again; the plan is saved.' },
        ]);
      }
    },
    async pictureUrl(pictureId) {
      const blob = await pictures.blobFor(pictureId);
      return blob && `data:${blob.type};base64,${await base64Of(blob)}`;
    },
    flattening: flatteningFor(editor, pictures),
    saveState: () => shownState,
    onSaveState: (changed) =>
      storage.autosave.subscribe((state) => {
        shownState =
          state.kind === 'failed'
            ? { kind: 'failed', why: `${state.problem.what} ${state.problem.todo}` }
            : { kind: state.kind };
        changed();
      }),
  };
}

/** Keeps plan and preferences as they change. */
function keepWork(editor: Editor, storage: Storage): void {
  const prefs = createPrefsKeeper();
  editor.store.subscribe((state, before) => {
    if (state.history.plan !== before.history.plan) storage.autosave.edited(state.history.plan);
    if (state.units !== before.units || state.camera !== before.camera) {
      const { center, pixelsPerMetre } = state.camera;
      prefs.changed({ units: state.units, camera: { center, pixelsPerMetre } });
    }
  });
  whenLeaving(prefs.flush);
  saveOnLeaving(storage.autosave);
}

/** Undoing or redoing the opening of a plan shows all of the plan that comes back. */
function showWhatComesBack(editor: Editor): void {
  editor.store.subscribe(({ history }, { history: before }) => {
    if (history.plan === before.plan) return;
    const undone = history.past.length < before.past.length && before.past.at(-1)?.label === OPENING;
    const redone = history.future.length < before.future.length && history.past.at(-1)?.label === OPENING;
    if (undone || redone) showAll(editor);
  });
}

/** A flag that React can watch. */
function createFlag() {
  let up = false;
  const watchers = new Set<() => void>();
  return {
    get: () => up,
    raise() {
      up = true;
      watchers.forEach((watch) => watch());
    },
    watch(changed: () => void) {
      watchers.add(changed);
      return () => void watchers.delete(changed);
    },
  };
}

/** Opens the plan of the last visit, or the demo at the first one, and wires everything up. */
export function startApp(render: (page: ReactElement) => void): void {
  const prefs = readPrefs();
  const editor = createEditor(emptyPlan(), prefs.units);
  const storage = createStorage();
  const pictures = createPictures(storage);
  let live: LiveStudy | null = null;
  const services = servicesFor(editor, pictures, storage, () => live);
  const ready = createFlag();

  function Page(): ReactElement {
    return <Screen shop={{ editor, services }} ready={useSyncExternalStore(ready.watch, ready.get)} />;
  }
  render(<Page />);

  void (async () => {
    const last = await storage.loadLast();
    if (last.plan) {
      editor.start(last.plan);
      const { camera } = editor.store.getState();
      if (prefs.camera) editor.setCamera({ ...camera, ...prefs.camera });
      else showAll(editor);
      tell(editor, 'Your last plan, with these remarks', last.problems);
    } else {
      const { plan, problems } = await openDemo(pictures);
      editor.start(plan);
      showAll(editor);
      tell(editor, 'Remarks', [...last.problems, ...problems]);
    }
    keepWork(editor, storage);
    showWhatComesBack(editor);
    live = studyWhatIsShown(editor, createStudyClient, (call) => requestAnimationFrame(call));
    ready.raise();
  })();
}
