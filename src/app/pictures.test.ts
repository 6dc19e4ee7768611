import type { Remote } from 'comlink';
import { describe, expect, test } from 'vitest';
import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';
import type { PictureApi, PreparedPicture } from './picture-worker.ts';
import { createPictures } from './pictures.ts';
import type { PictureStore } from './pictures.ts';
import { WorkerLost } from './worker-link.ts';
import type { WorkerLink } from './worker-link.ts';

interface FakeBitmap {
  readonly of: string;
  readonly level: number;
  closed: boolean;
  close(): void;
}

/** A worker that takes a picture's text for its id, and refuses what says `damaged`. */
function fakeWorker() {
  const bitmaps: FakeBitmap[] = [];
  async function prepared(blob: Blob): Promise<Result<PreparedPicture>> {
    const of = await blob.text();
    if (of === 'damaged') return bad('yard.jpg', 'damaged', 'again');
    const levels = [0, 1, 2, 3].map((level) => {
      const bitmap: FakeBitmap = { of, level, closed: false, close: () => void (bitmap.closed = true) };
      bitmaps.push(bitmap);
      return bitmap;
    });
    return good({
      pictureId: of,
      widthPx: 8,
      heightPx: 6,
      blob,
      levels: levels as unknown as ImageBitmap[],
    });
  }
  const state = { started: 0, crash: false, calledOff: [] as string[], underWay: () => {} };
  const api = {
    prepare: prepared,
    load: prepared,
    async flatten(blob: Blob, _: string, __: unknown, progress: (share: number) => void) {
      state.underWay();
      progress(0.5);
      return prepared(new Blob([`flat ${await blob.text()}`]));
    },
    callOff: async (job: string) => void state.calledOff.push(job),
  } as unknown as Remote<PictureApi>;
  const start = (): WorkerLink<PictureApi> => {
    state.started++;
    let lost = false;
    return {
      api,
      run: (call) => {
        if (!state.crash) return call(api);
        lost = true;
        return Promise.reject(new WorkerLost('out of memory'));
      },
      end: () => undefined,
      get lost() {
        return lost;
      },
    };
  };
  return { bitmaps, state, start };
}

function memoryStore(): PictureStore & { readonly kept: Map<string, Blob> } {
  const kept = new Map<string, Blob>();
  return {
    kept,
    putPicture: async (id, blob) => {
      kept.set(id, blob);
      return good(undefined);
    },
    getPicture: async (id) => kept.get(id) ?? null,
  };
}

const fileOf = (text: string) => new File([text], `${text}.jpg`);
const shown = (bitmap: ImageBitmap | null) => {
  const fake = bitmap as unknown as FakeBitmap | null;
  return fake && [fake.of, fake.level];
};

describe('pictures', () => {
  test('an added picture is stored and can be drawn at once, at the level for the zoom', async () => {
    const store = memoryStore();
    const pictures = createPictures(store, fakeWorker().start);
    expect(await pictures.add(fileOf('yard'))).toEqual(
      good({ pictureId: 'yard', name: 'yard.jpg', widthPx: 8, heightPx: 6 }),
    );
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
    expect(shown(pictures.bitmapFor('yard', 0.3))).toEqual(['yard', 1]);
    expect(shown(pictures.bitmapFor('yard', 0.01))).toEqual(['yard', 3]);
    expect(store.kept.has('yard')).toBe(true);
    expect(await (await pictures.blobFor('yard'))?.text()).toBe('yard');
  });

  test('a stored picture is loaded when it is first asked for, once, and announced', async () => {
    const store = memoryStore();
    store.kept.set('yard', new Blob(['yard']));
    const worker = fakeWorker();
    const pictures = createPictures(store, worker.start);
    const arrived = new Promise<void>((done) => pictures.subscribe(done));
    expect(pictures.bitmapFor('yard', 1)).toBeNull();
    expect(pictures.bitmapFor('yard', 1)).toBeNull();
    await arrived;
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
    expect(worker.bitmaps).toHaveLength(4);
  });

  test('a picture that is nowhere has a problem, is asked for once, and heals when it is added', async () => {
    const store = memoryStore();
    const pictures = createPictures(store, fakeWorker().start);
    const heard = new Promise<void>((done) => pictures.subscribe(done));
    pictures.bitmapFor('yard', 1);
    expect(pictures.problemOf('yard')).toBeNull();
    await heard;
    expect(pictures.problemOf('yard')?.todo).toContain('add the picture again');
    await pictures.add(fileOf('yard'));
    expect(pictures.problemOf('yard')).toBeNull();
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
  });

  test('a damaged picture changes nothing', async () => {
    const store = memoryStore();
    const pictures = createPictures(store, fakeWorker().start);
    await pictures.add(fileOf('yard'));
    expect(await pictures.add(fileOf('damaged'))).toEqual(bad('yard.jpg', 'damaged', 'again'));
    expect([...store.kept.keys()]).toEqual(['yard']);
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
  });

  test('a lost worker is a problem; the next picture gets a new worker', async () => {
    const worker = fakeWorker();
    const pictures = createPictures(memoryStore(), worker.start);
    worker.state.crash = true;
    const lost = await pictures.add(fileOf('huge'));
    expect(lost).toMatchObject({ ok: false, problem: { where: 'huge.jpg' } });
    worker.state.crash = false;
    expect(await pictures.add(fileOf('yard'))).toMatchObject({ ok: true });
    expect(worker.state.started).toBe(2);
  });

  test('only the last two stay decoded; an older one is loaded again when it is drawn', async () => {
    const worker = fakeWorker();
    const pictures = createPictures(memoryStore(), worker.start);
    for (const name of ['a', 'b', 'c']) await pictures.add(fileOf(name));
    expect(worker.bitmaps.filter((bitmap) => bitmap.closed).map((bitmap) => bitmap.of)).toEqual([
      'a',
      'a',
      'a',
      'a',
    ]);
    const arrived = new Promise<void>((done) => pictures.subscribe(done));
    expect(pictures.bitmapFor('a', 1)).toBeNull();
    await arrived;
    expect(shown(pictures.bitmapFor('a', 1))).toEqual(['a', 0]);
  });

  test('without storage the picture is shown all the same, and the reason can be had', async () => {
    const store: PictureStore = {
      putPicture: async () => bad('stored picture', 'full', 'save a file'),
      getPicture: async () => null,
    };
    const pictures = createPictures(store, fakeWorker().start);
    expect(await pictures.add(fileOf('yard'))).toMatchObject({ ok: true });
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
    expect(pictures.problemOf('yard')?.what).toBe('full');
    expect(await (await pictures.blobFor('yard'))?.text()).toBe('yard');
    // Also after newer ones have taken its place among the decoded.
    await pictures.add(fileOf('b'));
    await pictures.add(fileOf('c'));
    const arrived = new Promise<void>((done) => pictures.subscribe(done));
    expect(pictures.bitmapFor('yard', 1)).toBeNull();
    await arrived;
    expect(shown(pictures.bitmapFor('yard', 1))).toEqual(['yard', 0]);
  });

  describe('laid flat', () => {
    const order = {
      toSource: [1, 0, 0, 0, 1, 0, 0, 0, 1],
      widthPx: 8,
      heightPx: 6,
      source: { widthPx: 8, heightPx: 6 },
    } as const;

    test('a stored picture gives a new one, which is stored and can be drawn', async () => {
      const store = memoryStore();
      store.kept.set('yard', new Blob(['yard']));
      const pictures = createPictures(store, fakeWorker().start);
      const heard: number[] = [];
      const flat = await pictures.flatten(
        'yard',
        'yard.jpg',
        order,
        (share) => heard.push(share),
        new AbortController().signal,
      );
      expect(flat).toEqual(good({ pictureId: 'flat yard', name: 'yard.jpg', widthPx: 8, heightPx: 6 }));
      expect(heard).toEqual([0.5]);
      expect([...store.kept.keys()]).toEqual(['yard', 'flat yard']);
      expect(shown(pictures.bitmapFor('flat yard', 1))).toEqual(['flat yard', 0]);
    });

    test('called off under way the worker is told, and nothing is kept or heard', async () => {
      const store = memoryStore();
      store.kept.set('yard', new Blob(['yard']));
      const worker = fakeWorker();
      const pictures = createPictures(store, worker.start);
      const control = new AbortController();
      worker.state.underWay = () => control.abort();
      const heard: number[] = [];
      expect(
        await pictures.flatten('yard', 'yard.jpg', order, (share) => heard.push(share), control.signal),
      ).toBeNull();
      expect(worker.state.calledOff).toHaveLength(1);
      expect(heard).toEqual([]);
      expect([...store.kept.keys()]).toEqual(['yard']);
      expect(worker.bitmaps.every(({ closed }) => closed)).toBe(true);
      // Called off before it began, it is not begun.
      expect(await pictures.flatten('yard', 'yard.jpg', order, () => undefined, control.signal)).toBeNull();
      expect(worker.bitmaps).toHaveLength(4);
    });

    test('a picture that is not here, or a worker that is lost, is a problem', async () => {
      const worker = fakeWorker();
      const pictures = createPictures(memoryStore(), worker.start);
      const flatten = () =>
        pictures.flatten('yard', 'yard.jpg', order, () => undefined, new AbortController().signal);
      expect(await flatten()).toMatchObject({ ok: false, problem: { where: 'yard.jpg' } });
      expect(worker.state.started).toBe(0);
      await pictures.add(fileOf('yard'));
      worker.state.crash = true;
      expect(await flatten()).toMatchObject({ ok: false, problem: { where: 'yard.jpg' } });
    });
  });

  test('who stops listening hears no more', async () => {
    const pictures = createPictures(memoryStore(), fakeWorker().start);
    let heard = 0;
    const stop = pictures.subscribe(() => heard++);
    await pictures.add(fileOf('a'));
    const before = heard;
    expect(before).toBeGreaterThan(0);
    stop();
    await pictures.add(fileOf('b'));
    expect(heard).toBe(before);
  });
});
