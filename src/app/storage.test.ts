import { describe, expect, test } from 'vitest';
import { bad, good } from '../base/result.ts';
import { emptyPlan } from '../plan/empty.ts';
import { readPlan, writePlan } from '../plan/file.ts';
import type { AsidePlan, Database } from './database.ts';
import { createStorage } from './storage.ts';

function memoryDatabase(plan?: string) {
  const kept = { plan, aside: [] as AsidePlan[], pictures: new Map<string, Blob>() };
  const database: Database = {
    readPlan: async () => kept.plan,
    writePlan: async (text) => void (kept.plan = text),
    keepAside: async (aside) => void kept.aside.push(aside),
    asidePlans: async () => kept.aside,
    putPicture: async (id, blob) => void kept.pictures.set(id, blob),
    getPicture: async (id) => kept.pictures.get(id),
    pictureIds: async () => [...kept.pictures.keys()],
    deletePicture: async (id) => void kept.pictures.delete(id),
  };
  return { kept, database };
}
const alone = async () => true;
const now = () => '2026-11-25T10:00:00.000Z';

function planNamed(name: string) {
  return emptyPlan(name);
}
function planWithPicture(pictureId: string) {
  const plan = emptyPlan('Yard');
  const photo = {
    pictureId,
    name: 'yard.jpg',
    widthPx: 100,
    heightPx: 80,
    corner: [0, 8] as const,
    turnDeg: 0,
    assumedWidthM: 10,
    measures: [],
    strength: 1,
    rectification: null,
  };
  return { ...plan, photo };
}

describe('the plan of the last visit', () => {
  test('is empty at the first visit, without a word', async () => {
    const storage = createStorage(async () => good(memoryDatabase().database), alone, now);
    expect(await storage.loadLast()).toEqual({ plan: null, problems: [] });
  });

  test('comes back as it was saved, the picture kept apart without a notice', async () => {
    const { kept, database } = memoryDatabase();
    const plan = planWithPicture('abc123');
    const first = createStorage(async () => good(database), alone, now);
    await first.loadLast();
    await first.putPicture('abc123', new Blob(['picture']));
    first.autosave.edited(plan);
    await first.autosave.flush();
    expect(first.autosave.state.kind).toBe('saved');
    expect(kept.plan).toBe(writePlan(plan, null));

    const second = createStorage(async () => good(database), alone, now);
    const last = await second.loadLast();
    expect(last.problems).toEqual([]);
    expect(last.plan).toEqual(plan);
    expect(await (await second.getPicture('abc123'))?.text()).toBe('picture');
    expect(await second.getPicture('other')).toBeNull();
  });

  test('a plan that cannot be read is put aside as it was and reported', async () => {
    const { kept, database } = memoryDatabase('{"format":"dripwright-plan","version":1,"site":');
    const storage = createStorage(async () => good(database), alone, now);
    const last = await storage.loadLast();
    expect(last.plan).toBeNull();
    expect(last.problems.length).toBeGreaterThanOrEqual(2);
    expect(kept.aside).toEqual([expect.objectContaining({ text: kept.plan, keptAt: now() })]);
    storage.autosave.edited(planNamed('new'));
    await storage.autosave.flush();
    expect(kept.aside[0]!.text).toContain('"site":');
    expect(readPlan(kept.plan!)).toMatchObject({ ok: true, value: { plan: { site: { name: 'new' } } } });
  });

  test('a plan with one faulty record opens without it, and the whole text is put aside', async () => {
    const text = writePlan(planNamed('Yard'), null).replace(
      '"levels": []',
      '"levels": [{"id":"L1","at":"here"}]',
    );
    const { kept, database } = memoryDatabase(text);
    const last = await createStorage(async () => good(database), alone, now).loadLast();
    expect(last.plan?.site.name).toBe('Yard');
    expect(last.problems.some((problem) => problem.where.includes('levels[0]'))).toBe(true);
    await createStorage(async () => good(database), alone, now).loadLast();
    expect(kept.aside.map((plan) => plan.text)).toEqual([text]);
  });

  test('pictures that no stored plan names are removed, those of plans put aside are not', async () => {
    const { kept, database } = memoryDatabase(writePlan(planWithPicture('inuse'), null));
    kept.aside.push({ text: 'damaged "pictureId":"aside"', keptAt: '', why: '' });
    for (const id of ['inuse', 'aside', 'left-over']) kept.pictures.set(id, new Blob([id]));
    await createStorage(async () => good(database), alone, now).loadLast();
    expect([...kept.pictures.keys()]).toEqual(['inuse', 'aside']);
  });
});

describe('work goes on', () => {
  test('without any storage: the reason is told, nothing throws, and storage is tried again', async () => {
    const { kept, database } = memoryDatabase();
    let allowed = false;
    const storage = createStorage(
      async () => (allowed ? good(database) : bad('browser storage', 'switched off', 'save a file')),
      alone,
      now,
    );
    expect(await storage.loadLast()).toMatchObject({ plan: null, problems: [{ what: 'switched off' }] });
    storage.autosave.edited(planNamed('a'));
    await storage.autosave.flush();
    expect(storage.autosave.state).toMatchObject({ kind: 'failed', problem: { what: 'switched off' } });
    expect(await storage.putPicture('p', new Blob([]))).toMatchObject({ ok: false });
    expect(await storage.getPicture('p')).toBeNull();
    allowed = true;
    await storage.autosave.flush();
    expect(storage.autosave.state.kind).toBe('saved');
    expect(kept.plan).toContain('"a"');
  });

  test('when the storage is full', async () => {
    const { database } = memoryDatabase();
    const full = Object.assign(new Error('no room'), { name: 'QuotaExceededError' });
    const storage = createStorage(
      async () => good({ ...database, writePlan: () => Promise.reject(full) }),
      alone,
      now,
    );
    await storage.loadLast();
    storage.autosave.edited(planNamed('a'));
    await storage.autosave.flush();
    expect(storage.autosave.state).toMatchObject({
      kind: 'failed',
      problem: { what: expect.stringContaining('full') },
    });
  });

  test('in a second window: it does not overwrite the first, and takes over when that is closed', async () => {
    const { kept, database } = memoryDatabase(writePlan(planNamed('first'), null));
    let firstCloses = async () => {};
    const storage = createStorage(
      async () => good(database),
      async (onAlone) => {
        firstCloses = onAlone;
        return false;
      },
      now,
    );
    const last = await storage.loadLast();
    expect(last.plan?.site.name).toBe('first');
    expect(last.problems.at(-1)?.what).toContain('another window');
    storage.autosave.edited(planNamed('second'));
    await storage.autosave.flush();
    expect(storage.autosave.state.kind).toBe('failed');
    expect(kept.plan).toContain('"first"');
    await firstCloses();
    expect(storage.autosave.state.kind).toBe('saved');
    expect(kept.plan).toContain('"second"');
    expect((await storage.asidePlans())[0]!.text).toContain('"first"');
  });
});
