import type * as Comlink from 'comlink';
import type { UnitSystem } from '../base/quantity.ts';
import { createStudyAsker, type Notice, type StudyReply, type StudyRequest } from '../derive/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import { planPatch, type PlanPatch } from '../plan/patch.ts';
import type { Plan } from '../plan/records.ts';
import { createStudyQueue, type Studier, type StudyClient, type StudyEvents } from './study-queue.ts';
import type { StudyApi } from './study-worker.ts';
import { linkWorker } from './worker-link.ts';

export type { StudyClient } from './study-queue.ts';

/** The largest plans take well under a second; half a minute of silence means that the worker is gone. */
const SILENCE_MS = 30_000;

/** What a studier asks of its worker. */
export interface StudyCalls {
  study(request: StudyRequest): Promise<StudyReply>;
  check(): Promise<readonly Notice[]>;
  end(): void;
}

/**
 * A studier that sends plans as patches on what its worker has. A worker that is started anew, or has got out of step,
 * is sent the whole plan.
 */
export function patchingStudier(calls: StudyCalls): Studier {
  const asker = createStudyAsker();
  return {
    async study(order) {
      try {
        return asker.read(await calls.study(asker.request(order)));
      } catch (error) {
        // By name: an error that comes from a worker has lost its class.
        if (!(error instanceof Error && error.name === 'OutOfStep')) throw error;
        return asker.read(await calls.study(asker.request(order, true)));
      }
    },
    check: () => calls.check(),
    end: () => calls.end(),
  };
}

const startWorker = (name: string) =>
  linkWorker<StudyApi>(new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module', name }));

/** Starts the study of plans in a worker (at the first request). See `StudyEvents` for what it delivers. */
export function createStudyClient(events: StudyEvents): StudyClient {
  return createStudyQueue(() => {
    const link = startWorker('study');
    return patchingStudier({
      study: (request) => link.run((api) => api.study(request), SILENCE_MS),
      check: () => link.run((api) => api.check(), SILENCE_MS),
      end: () => link.end(),
    });
  }, events);
}

/** The many solutions of a large plan may take minutes; longer silence means that the worker is gone. */
const LONG_SILENCE_MS = 300_000;

/** Has one long question about a plan answered by a worker of its own, so that neither page nor live answers wait. */
async function askedOnce<R>(
  plan: Plan,
  ask: (api: Comlink.Remote<StudyApi>, whole: PlanPatch) => Promise<R>,
): Promise<R> {
  const link = startWorker('long study');
  try {
    return await link.run((api) => ask(api, planPatch(emptyPlan(), plan)), LONG_SILENCE_MS);
  } finally {
    link.end();
  }
}

/** What is wrong with a plan in any situation. Rejects when the worker is lost or cannot compute it. */
export const situationsOf = (plan: Plan, units: UnitSystem): Promise<readonly Notice[]> =>
  askedOnce(plan, (api, whole) => api.situations(whole, units));

/** Flush ends of a plan to be opened together, group by group. Rejects like `situationsOf`. */
export const flushGroupsOf = (plan: Plan): Promise<readonly (readonly string[])[]> =>
  askedOnce(plan, (api, whole) => api.flushGroups(whole));
