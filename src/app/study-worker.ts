import * as Comlink from 'comlink';
import type { UnitSystem } from '../base/quantity.ts';
import {
  columnsOf,
  createStudyServer,
  flushGroups,
  scenarioNotices,
  type Notice,
  type StudyReply,
  type StudyRequest,
} from '../derive/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import { patched, type PlanPatch } from '../plan/patch.ts';

const server = createStudyServer();

const api = {
  study(request: StudyRequest): StudyReply {
    const reply = server.study(request);
    return Comlink.transfer(reply, columnsOf(reply));
  },
  check: (): readonly Notice[] => server.check(),
  /** What is wrong in any situation. The patch makes the plan of an empty one; the mirror is left alone. */
  situations: (whole: PlanPatch, units: UnitSystem): readonly Notice[] =>
    scenarioNotices(patched(emptyPlan(), whole), units),
  /** Flush ends to be opened together, group by group. */
  flushGroups: (whole: PlanPatch): readonly (readonly string[])[] => flushGroups(patched(emptyPlan(), whole)),
};
export type StudyApi = typeof api;

Comlink.expose(api, self);
