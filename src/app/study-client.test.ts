import { describe, expect, test } from 'vitest';
import { createStudyServer, type StudyOrder, type StudyRequest } from '../derive/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import { demoPlan } from './demo-plan.ts';
import { patchingStudier } from './study-client.ts';

const order = (plan: StudyOrder['plan']): StudyOrder => ({
  plan,
  scenario: { kind: 'running' },
  friction: 'darcy-weisbach',
  units: 'us',
});

/** A studier whose worker forgets all when told to, as one that the browser has ended and started. */
function bench() {
  let server = createStudyServer();
  const requests: StudyRequest[] = [];
  const studier = patchingStudier({
    async study(request) {
      requests.push(request);
      try {
        return structuredClone(server.study(structuredClone(request)));
      } catch (error) {
        // A worker's errors lose their class on the way.
        throw Object.assign(new Error((error as Error).message), { name: (error as Error).name });
      }
    },
    check: async () => server.check(),
    end: () => undefined,
  });
  return { studier, requests, forget: () => void (server = createStudyServer()) };
}

describe('a study by patches', () => {
  test('sends the whole plan first, then what changed', async () => {
    const { studier, requests } = bench();
    const plan = demoPlan('p');
    await studier.study(order(plan));
    const run = [...plan.runs][0]!;
    await studier.study(order({ ...plan, runs: plan.runs.with({ ...run, name: 'x' }) }));
    expect(requests.map(({ since, number }) => [since, number])).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(requests[1]!.patch).toEqual({
      parts: {},
      tables: { runs: { gone: [], put: [{ ...run, name: 'x' }], order: null } },
    });
  });

  test('a worker that has lost the plan is sent it whole, with the places of all outlets', async () => {
    const { studier, requests, forget } = bench();
    const plan = demoPlan('p');
    const first = await studier.study(order(plan));
    forget();
    const again = await studier.study(order({ ...plan, site: { ...plan.site, name: 'x' } }));
    expect(requests.map(({ since }) => since)).toEqual([0, 1, 0]);
    expect(again.results.outlets).toEqual(first.results.outlets);
    expect((await studier.check()).length).toBeGreaterThan(0);
  });

  test('any other error is passed on', async () => {
    const studier = patchingStudier({
      study: () => Promise.reject(new Error('no bore')),
      check: () => Promise.reject(new Error('no rule')),
      end: () => undefined,
    });
    await expect(studier.study(order(emptyPlan()))).rejects.toThrow('no bore');
    await expect(studier.check()).rejects.toThrow('no rule');
  });
});
