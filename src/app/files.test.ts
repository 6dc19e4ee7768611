import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bad, good } from '../base/result.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Plan } from '../plan/records.ts';
import { pictureIdOf } from './content-id.ts';
import { demoPlan } from './demo-plan.ts';
import { openDemo } from './demo.ts';
import { base64Of, bytesOf, kindOfFile, openPlanFile, planFileName, planFileText } from './files.ts';

/** Pictures in memory: the id from the bytes as in the app, the size as told. */
function pictureShelf(size = { widthPx: 2000, heightPx: 1500 }) {
  const blobs = new Map<string, Blob>();
  return {
    blobs,
    blobFor: async (id: string) => blobs.get(id) ?? null,
    restore: async (blob: Blob, name: string) => {
      const pictureId = pictureIdOf(new Uint8Array(await blob.arrayBuffer()));
      blobs.set(pictureId, blob);
      return { ok: true as const, value: { pictureId, name, ...size } };
    },
  };
}
const fileOf = (text: string, name = 'yard.dripwright.json') => new File([text], name);
const picture = new Blob([Uint8Array.from({ length: 100_000 }, (_, i) => (i * 7919) & 255)], {
  type: 'image/jpeg',
});

async function demoWithPicture(): Promise<{ plan: Plan; shelf: ReturnType<typeof pictureShelf> }> {
  const shelf = pictureShelf();
  const added = await shelf.restore(picture, 'site.png');
  return { plan: demoPlan(added.value.pictureId), shelf };
}

describe('a plan file', () => {
  test('stands alone: opened where nothing is stored, the plan and its picture are the same', async () => {
    const { plan, shelf } = await demoWithPicture();
    const saved = await planFileText(plan, shelf);
    expect(saved.notices).toEqual([]);
    const elsewhere = pictureShelf();
    const opened = await openPlanFile(fileOf(saved.text), elsewhere);
    if (!opened.ok) throw new Error(opened.problem.what);
    expect(opened.value.notices).toEqual([]);
    expect(opened.value.plan).toEqual(plan);
    const blob = elsewhere.blobs.get(plan.photo!.pictureId)!;
    expect(blob.type).toBe('image/jpeg');
    expect(await blob.arrayBuffer()).toEqual(await picture.arrayBuffer());
  });

  test('is saved without a picture that is not stored, and says so', async () => {
    const { plan } = await demoWithPicture();
    const { text, notices } = await planFileText(plan, pictureShelf());
    expect(notices).toMatchObject([{ where: 'site.png' }]);
    const opened = await openPlanFile(fileOf(text), pictureShelf());
    expect(opened).toMatchObject({ ok: true, value: { notices: [{ where: 'picture' }] } });
  });

  test('without its picture opens silently where the picture is stored', async () => {
    const { plan, shelf } = await demoWithPicture();
    const { text } = await planFileText(plan, pictureShelf());
    expect(await openPlanFile(fileOf(text), shelf)).toMatchObject({ ok: true, value: { notices: [] } });
  });

  test('with a picture of another size tells that the scale must be checked', async () => {
    const { plan, shelf } = await demoWithPicture();
    const { text } = await planFileText(plan, shelf);
    const opened = await openPlanFile(fileOf(text), pictureShelf({ widthPx: 1500, heightPx: 2000 }));
    expect(opened).toMatchObject({
      ok: true,
      value: { notices: [{ where: 'picture', what: expect.stringContaining('1500 by 2000') }] },
    });
  });

  test('whose picture is another than it names takes the id of the bytes', async () => {
    const { plan, shelf } = await demoWithPicture();
    const named = { ...plan, photo: { ...plan.photo!, pictureId: 'made-up' } };
    shelf.blobs.set('made-up', picture);
    const opened = await openPlanFile(fileOf((await planFileText(named, shelf)).text), pictureShelf());
    expect(opened).toMatchObject({
      ok: true,
      value: { plan: { photo: { pictureId: plan.photo!.pictureId } } },
    });
  });

  test('with a damaged picture opens without it', async () => {
    const { plan, shelf } = await demoWithPicture();
    const { text } = await planFileText(plan, shelf);
    const damaged = { ...shelf, restore: async () => bad('site.png', 'damaged', 'again') };
    const opened = await openPlanFile(fileOf(text), damaged);
    expect(opened).toMatchObject({
      ok: true,
      value: { plan: { site: plan.site }, notices: [{ what: 'damaged' }] },
    });
  });

  test.each([
    ['no JSON', 'water'],
    ['a foreign file', '{"format":"something-else"}'],
    ['a list', '[1,2,3]'],
    ['nothing', ''],
  ])('%s is refused, naming the file', async (_what, text) => {
    const opened = await openPlanFile(fileOf(text, 'odd.json'), pictureShelf());
    if (opened.ok) throw new Error('It was accepted.');
    expect(opened.problem.where).toContain('odd.json');
    expect(opened.problem.todo).not.toBe('');
  });

  test('over the limit of size is refused before it is read', async () => {
    const huge = { name: 'huge.json', size: 201e6, text: () => Promise.reject(new Error('was read')) };
    const opened = await openPlanFile(huge as unknown as File, pictureShelf());
    expect(opened).toMatchObject({ ok: false, problem: { what: expect.stringContaining('201 MB') } });
  });

  test('that cannot be read is a problem, not a crash', async () => {
    const gone = { name: 'gone.json', size: 10, text: () => Promise.reject(new Error('not found')) };
    const opened = await openPlanFile(gone as unknown as File, pictureShelf());
    expect(opened).toMatchObject({ ok: false, problem: { where: 'gone.json' } });
  });

  test('of a plan without a photo has no picture', async () => {
    const { text } = await planFileText(emptyPlan('bare'), pictureShelf());
    expect(JSON.parse(text)).toMatchObject({ photo: null, picture: null });
  });
});

describe('base64', () => {
  test('bytes come back whatever they are', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), async (bytes) => {
        expect(bytesOf(await base64Of(new Blob([bytes as Uint8Array<ArrayBuffer>])))).toEqual(
          new Uint8Array(bytes),
        );
      }),
      { seed: 20261125 },
    );
  });

  test('slices join without a seam', async () => {
    expect(await base64Of(picture)).toBe(Buffer.from(await picture.arrayBuffer()).toString('base64'));
  });

  test('text that is none gives null', () => {
    expect(bytesOf('§§')).toBeNull();
  });
});

describe('the name of a plan file', () => {
  test.each([
    ['Sample front yard', 'Sample front yard.dripwright.json'],
    ['  ', 'plan.dripwright.json'],
    ['12 Oak / rear: "slope"?', '12 Oak rear slope.dripwright.json'],
    ['../..\\secret', 'secret.dripwright.json'],
    ['Jardín Núñez', 'Jardín Núñez.dripwright.json'],
    ['con', 'con plan.dripwright.json'],
    ['a\u0000b\nc', 'a b c.dripwright.json'],
  ])('%j', (site, name) => {
    expect(planFileName(site)).toBe(name);
  });

  test('is never longer than file systems allow', () => {
    expect(planFileName('x'.repeat(500)).length).toBeLessThanOrEqual(100);
  });
});

test('dropped files are told apart by their first bytes', async () => {
  expect(await kindOfFile(new Blob(['\n {"format":1}']))).toBe('plan');
  expect(await kindOfFile(new Blob(['\ufeff{}']))).toBe('plan');
  expect(await kindOfFile(new Blob([Uint8Array.of(0xff, 0xd8, 0xff, 0xe1)]))).toBe('picture');
  expect(await kindOfFile(new Blob([]))).toBe('picture');
  // A name that says JSON sends broken text to the reader that can say what is wrong; a picture stays one.
  expect(await kindOfFile(new File(['Dear neighbour'], 'plan.JSON'))).toBe('plan');
  expect(await kindOfFile(new File([Uint8Array.of(0xff, 0xd8, 0xff, 0xe1)], 'plan.json'))).toBe('picture');
});

describe('the demo', () => {
  test('opens on its picture', async () => {
    const add = async () => good({ pictureId: 'p1', name: 'site.png', widthPx: 2000, heightPx: 1500 });
    const demo = await openDemo({ add }, async () => picture);
    expect(demo.problems).toEqual([]);
    expect(demo.plan.photo?.pictureId).toBe('p1');
  });

  test('opens without it when it cannot be fetched, and says so', async () => {
    const add = () => Promise.reject(new Error('not reached'));
    const demo = await openDemo({ add }, () => Promise.reject(new Error('404')));
    expect(demo.plan.photo).toBeNull();
    expect(demo.problems).toMatchObject([{ where: 'demo/site.png' }]);
  });
});
