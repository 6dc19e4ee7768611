import { bad, good } from '../base/result.ts';
import type { Problem, Result } from '../base/result.ts';
import { readPlan, writePlan } from '../plan/file.ts';
import type { Plan } from '../plan/records.ts';
import { createAutosave } from './autosave.ts';
import type { Autosave } from './autosave.ts';
import { openDatabase, whyNot } from './database.ts';
import type { AsidePlan, Database } from './database.ts';
import type { PictureStore } from './pictures.ts';

export interface LastWork {
  /** The plan of the last visit; `null` at the first one, or when it could not be read. */
  readonly plan: Plan | null;
  /** What the person should know: storage switched off, parts of the plan left out. */
  readonly problems: readonly Problem[];
}

export interface Storage extends PictureStore {
  /** Reads the plan of the last visit. A plan that cannot be read whole is kept aside, never overwritten. */
  loadLast(): Promise<LastWork>;
  /** Copies of plans put aside, for a person who misses something; empty when there are none or no storage. */
  asidePlans(): Promise<readonly AsidePlan[]>;
  /** Saves the plan after each edit; the picture is stored once, by `putPicture`. */
  readonly autosave: Autosave<Plan>;
}

/** Waits for the sole right to write the stored plan; see `aloneInBrowser`. */
export type Alone = (onAlone: () => Promise<void>) => Promise<boolean>;

const anotherWindow = {
  where: 'automatic saving',
  what: 'A plan is open in another window of this browser, which saves there.',
  todo: 'Close the other window, or save this plan to a file; this window does not save by itself until then.',
};

/**
 * The browser's storage as the app uses it. Where there is none, all goes on in memory: nothing here rejects or
 * throws, and the reason is told once by `loadLast` and again by the state of the autosave.
 */
export function createStorage(
  open: (onLost: () => void) => Promise<Result<Database>> = openDatabase,
  alone: Alone = aloneInBrowser,
  now: () => string = () => new Date().toISOString(),
): Storage {
  let database: Database | null = null;
  let mayWrite = false;
  let trouble: Problem | null = null;

  async function tryOpening(): Promise<void> {
    const opened = await open(() => {
      database = null;
      opening = null;
    });
    if (opened.ok) {
      database = opened.value;
      trouble = null;
    } else {
      trouble = opened.problem;
    }
  }
  let opening: Promise<void> | null = null;
  const ready = () => (opening ??= tryOpening());

  /** Runs one call to the database; its failure becomes a problem. */
  async function attempt<T>(where: string, call: (database: Database) => Promise<T>): Promise<Result<T>> {
    if (!database) await ready();
    if (!database) {
      // Tried afresh next time: a person may meanwhile allow storage or close what blocks it.
      opening = null;
      return { ok: false, problem: trouble! };
    }
    try {
      return good(await call(database));
    } catch (error) {
      return bad(where, whyNot(error), 'Save the plan to a file before you close this window.');
    }
  }

  async function readLast(): Promise<LastWork> {
    const stored = await attempt('stored plan', (db) => db.readPlan());
    if (!stored.ok) return { plan: null, problems: [stored.problem] };
    if (stored.value === undefined) return { plan: null, problems: [] };
    const text = stored.value;
    const read = readPlan(text);
    const problems = read.ok
      ? read.value.notices.filter((notice) => notice.where !== 'picture')
      : [read.problem];
    if (problems.length === 0 && read.ok) {
      return { plan: read.value.plan, problems };
    }
    const why = problems.map((problem) => `${problem.where}: ${problem.what}`).join('\n');
    const kept = await attempt('stored plan', async (db) => {
      const known = (await db.asidePlans()).some((plan) => plan.text === text);
      if (!known) await db.keepAside({ text, keptAt: now(), why });
    });
    const aside: Problem = kept.ok
      ? {
          where: 'stored plan',
          what: 'The plan of the last visit could not be read whole; a copy was put aside as it was.',
          todo: 'Check the plan, or open the last file that you saved.',
        }
      : kept.problem;
    return { plan: read.ok ? read.value.plan : null, problems: [aside, ...problems] };
  }

  /** Removes pictures that no stored plan names any more, e.g. after a photo was replaced. */
  async function tidyPictures(): Promise<void> {
    await attempt('stored pictures', async (db) => {
      const texts = [(await db.readPlan()) ?? '', ...(await db.asidePlans()).map((plan) => plan.text)];
      for (const id of await db.pictureIds()) {
        if (!texts.some((text) => text.includes(id))) await db.deletePicture(id);
      }
    });
  }

  const autosave = createAutosave<Plan>((plan) => {
    if (database && !mayWrite) return Promise.resolve({ ok: false, problem: anotherWindow });
    // The text is made and handed over before the first wait: the page may be closing.
    return attempt('automatic saving', (db) => db.writePlan(writePlan(plan, null)));
  });

  return {
    autosave,
    async loadLast() {
      await ready();
      mayWrite = await alone(async () => {
        // The other window is closed: what it saved last gives way to this plan, but is not lost.
        const text = await attempt('stored plan', (db) => db.readPlan());
        if (text.ok && text.value !== undefined) {
          const other = text.value;
          await attempt('stored plan', (db) =>
            db.keepAside({ text: other, keptAt: now(), why: 'saved last by another window' }),
          );
        }
        mayWrite = true;
        await autosave.flush();
      });
      const last = await readLast();
      if (mayWrite) await tidyPictures();
      return mayWrite || !database ? last : { ...last, problems: [...last.problems, anotherWindow] };
    },
    async asidePlans() {
      const found = await attempt('plans put aside', (db) => db.asidePlans());
      return found.ok ? found.value : [];
    },
    putPicture: (pictureId, blob) => attempt('stored picture', (db) => db.putPicture(pictureId, blob)),
    async getPicture(pictureId) {
      const found = await attempt('stored picture', (db) => db.getPicture(pictureId));
      return found.ok ? (found.value ?? null) : null;
    },
  };
}

/** How long a page that is being reloaded may take to give up its right, milliseconds. */
const HANDOVER_MS = 1_500;

/**
 * True when this window alone may write. False while another one does; `onAlone` is called once it has gone.
 * Browsers without locks are trusted to have one window.
 */
export async function aloneInBrowser(onAlone: () => Promise<void>): Promise<boolean> {
  if (typeof navigator === 'undefined' || !navigator.locks) return true;
  return new Promise((answer) => {
    let late = false;
    const clock = setTimeout(() => {
      late = true;
      answer(false);
    }, HANDOVER_MS);
    navigator.locks
      .request('dripwright-plan', async () => {
        clearTimeout(clock);
        answer(true);
        if (late) await onAlone();
        // Held until the window closes.
        await new Promise<never>(() => undefined);
      })
      .catch(() => answer(true));
  });
}

/** Saves at once when the page is hidden or left; gives back how to stop that. */
export function saveOnLeaving(autosave: Autosave<Plan>, page: Document = document): () => void {
  return whenLeaving(() => void autosave.flush(), page);
}

/** Calls back whenever the page is hidden or left; gives back how to stop that. */
export function whenLeaving(leave: () => void, page: Document = document): () => void {
  const hide = () => {
    if (page.visibilityState === 'hidden') leave();
  };
  page.addEventListener('visibilitychange', hide);
  page.defaultView?.addEventListener('pagehide', leave);
  return () => {
    page.removeEventListener('visibilitychange', hide);
    page.defaultView?.removeEventListener('pagehide', leave);
  };
}
