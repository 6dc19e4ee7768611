import type { Problem } from '../base/result.ts';
import type { Notice, StudyOrder, Studies } from '../derive/index.ts';
import { WorkerLost } from './worker-link.ts';

/** One started study: the worker in the app, a fake in tests. */
export interface Studier {
  /** Rejects with `WorkerLost` when the worker is gone, with any other error when it cannot study this plan. */
  study(order: StudyOrder): Promise<Studies>;
  /** All findings on what was studied last; rejects like `study`. */
  check(): Promise<readonly Notice[]>;
  end(): void;
}

export interface StudyClient {
  /** Asks for the study of a plan; the newest request replaces one that still waits. */
  request(order: StudyOrder): void;
  /** True while a plan is being studied or waits. */
  readonly busy: boolean;
  /** Resolves once nothing is studied or waits. */
  idle(): Promise<void>;
  /** Ends the worker; nothing is delivered afterwards. */
  close(): void;
}

export interface StudyEvents {
  /** Delivers results with exactly the order that they answer. */
  readonly onStudies: (order: StudyOrder, studies: Studies) => void;
  /** Delivers the findings that go with the results delivered last, after them. */
  readonly onNotices: (order: StudyOrder, studies: Studies, notices: readonly Notice[]) => void;
  readonly onProblem?: (problem: Problem) => void;
  /** Milliseconds that only rise. */
  readonly now?: () => number;
}

/** While newer plans keep waiting the checks are put off, but not for longer than this, ms. */
const CHECKS_PUT_OFF_MS = 400;

/**
 * One plan is studied, at most one waits: while a pointer drags, only the newest state matters, and every answer still
 * belongs to one whole plan. Results come first, then the findings of the checks, which are left out while something
 * newer waits. A worker that is lost is started again once for the same plan; if that plan brings it down again the
 * plan is given up and reported, and later requests start afresh.
 */
export function createStudyQueue(start: () => Studier, events: StudyEvents): StudyClient {
  const { now = () => performance.now() } = events;
  let studier: Studier | null = null;
  let running: StudyOrder | null = null;
  let waiting: StudyOrder | null = null;
  let closed = false;
  let checkedAt = -Infinity;
  let idlers: (() => void)[] = [];

  /** `close` may have been called while the worker was busy. */
  const isClosed = (): boolean => closed;
  const hasNewer = (): boolean => waiting !== null;

  async function attempt(order: StudyOrder): Promise<void> {
    studier ??= start();
    const own = studier;
    const studies = await own.study(order);
    if (isClosed()) return;
    events.onStudies(order, studies);
    if (hasNewer() && now() - checkedAt < CHECKS_PUT_OFF_MS) return;
    const notices = await own.check();
    if (isClosed()) return;
    checkedAt = now();
    events.onNotices(order, studies, notices);
  }

  async function studyWithOneRestart(order: StudyOrder): Promise<void> {
    try {
      await attempt(order);
    } catch (error) {
      if (!(error instanceof WorkerLost)) throw error;
      studier = null;
      if (isClosed()) return;
      const again = waiting === null;
      events.onProblem?.({
        where: 'pressure calculation',
        what: `The calculation stopped and was started again. ${error.message}`,
        todo: 'Nothing is lost; go on. Save the plan to a file if this comes back.',
      });
      // What waits is newer: it takes the place of the one that was lost.
      if (again) await attempt(order);
    }
  }

  async function work(): Promise<void> {
    while (waiting !== null && !closed) {
      running = waiting;
      waiting = null;
      try {
        await studyWithOneRestart(running);
      } catch (error) {
        if (error instanceof WorkerLost) studier = null;
        if (!isClosed()) events.onProblem?.(givenUp(error));
      }
    }
    running = null;
    rest();
  }

  function rest(): void {
    const done = idlers;
    idlers = [];
    done.forEach((resolve) => resolve());
  }

  return {
    request(order) {
      if (closed) return;
      waiting = order;
      if (running === null) void work();
    },
    get busy() {
      return running !== null || waiting !== null;
    },
    idle() {
      if (running === null && waiting === null) return Promise.resolve();
      return new Promise((resolve) => idlers.push(resolve));
    },
    close() {
      closed = true;
      waiting = null;
      studier?.end();
      studier = null;
      rest();
    },
  };
}

function givenUp(error: unknown): Problem {
  return {
    where: 'pressure calculation',
    what: `The pressures of this plan could not be computed. ${error instanceof Error ? error.message : String(error)}`,
    todo: 'Undo the last change, or save the plan to a file and open it again. Pressures shown before no longer hold.',
  };
}
