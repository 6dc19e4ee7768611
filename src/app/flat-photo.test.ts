import { describe, expect, test } from 'vitest';
import { bad, good } from '../base/result.ts';
import type { Point } from '../base/point.ts';
import type { Measured } from '../derive/index.ts';
import { createEditor } from '../editor/index.ts';
import { setPhoto } from '../plan/edits/index.ts';
import type { SitePhoto } from '../plan/records.ts';
import { flatteningFor } from './flat-photo.ts';
import type { Pictures } from './pictures.ts';

const PHOTO: SitePhoto = {
  pictureId: 'taken',
  name: 'yard.jpg',
  widthPx: 1000,
  heightPx: 800,
  corner: [0, 8],
  turnDeg: 0,
  assumedWidthM: 10,
  measures: [],
  strength: 1,
  rectification: null,
};
const MARKS = [
  [200, 700],
  [800, 700],
  [700, 300],
  [300, 300],
] as const satisfies readonly Point[];
const MEASURED: Measured = { marks: MARKS, sidesM: [4, 5, 4, 5], diagonalsM: [null, null] };

/** Pictures of which the named ones are at hand; a flat one gets the name of what it was made from. */
function shelf(here: readonly string[]) {
  const orders: unknown[] = [];
  let answer: Pictures['flatten'] = async (pictureId, name, order) => {
    orders.push(order);
    const { widthPx, heightPx } = order;
    return good({ pictureId: `flat of ${pictureId}`, name, widthPx, heightPx });
  };
  return {
    orders,
    answer(next: Pictures['flatten']) {
      answer = next;
    },
    pictures: {
      flatten: ((...given) => answer(...given)) as Pictures['flatten'],
      blobFor: async (id: string) => (here.includes(id) ? new Blob([id]) : null),
    },
  };
}
function started(here: readonly string[] = ['taken'], photo: SitePhoto | null = PHOTO) {
  const editor = createEditor();
  if (photo) editor.commit(setPhoto('Place photo', photo));
  const kept = shelf(here);
  const flattening = flatteningFor(editor, kept.pictures);
  const apply = (measured = MEASURED, stop = new AbortController().signal) =>
    flattening.apply(measured, [], () => undefined, stop);
  return { editor, kept, flattening, apply, photo: () => editor.store.getState().history.plan.photo };
}

describe('laying the photo flat', () => {
  test('is one edit, which undo takes back and redo does again', async () => {
    const { editor, apply, photo } = started();
    const past = editor.store.getState().history.past.length;
    editor.chooseTool('rectify');
    expect(await apply()).toBeNull();
    expect(photo()).toMatchObject({ pictureId: 'flat of taken', rectification: { marks: MARKS } });
    expect(editor.store.getState().history.past).toHaveLength(past + 1);
    expect(editor.store.getState().tool).toBe('select');
    editor.undo();
    expect(photo()).toBe(PHOTO);
    editor.redo();
    expect(photo()?.pictureId).toBe('flat of taken');
  });
  test('made again it starts from the picture as taken, or from the flat one where that is gone', async () => {
    for (const [here, source] of [
      [['taken', 'flat of taken'], 'taken'],
      [['flat of taken'], 'flat of taken'],
    ] as const) {
      const { apply, photo } = started(here);
      await apply();
      const { widthPx, heightPx } = photo()!;
      const marks = [
        [0.3 * widthPx, 0.8 * heightPx],
        [0.6 * widthPx, 0.8 * heightPx],
        [0.6 * widthPx, 0.5 * heightPx],
        [0.3 * widthPx, 0.5 * heightPx],
      ] as const;
      expect(await apply({ marks, sidesM: [3, 3, 3, 3], diagonalsM: [null, null] })).toBeNull();
      expect(photo()?.rectification?.source.pictureId).toBe(source);
    }
  });
  test('what fails is told and leaves the plan as it is', async () => {
    const { editor, kept, apply } = started();
    const { plan } = editor.store.getState().history;
    const untouched = () => expect(editor.store.getState().history.plan).toBe(plan);
    expect((await apply({ ...MEASURED, sidesM: [4, 5, 3, 5] }))?.where).toBe('diagonals');
    untouched();
    kept.answer(async () => bad('yard.jpg', 'damaged', 'again'));
    expect((await apply())?.what).toBe('damaged');
    untouched();
    kept.answer(async () => null);
    expect(await apply()).toBeNull();
    untouched();
    expect((await started([], null).apply())?.where).toBe('site photo');
  });
  test('called off at the last moment it changes nothing', async () => {
    const { editor, kept, apply } = started();
    const { plan } = editor.store.getState().history;
    const control = new AbortController();
    kept.answer(async (pictureId, name, { widthPx, heightPx }) => {
      control.abort();
      return good({ pictureId, name, widthPx, heightPx });
    });
    expect(await apply(MEASURED, control.signal)).toBeNull();
    expect(editor.store.getState().history.plan).toBe(plan);
  });
  test('a photo changed meanwhile stays as it was changed', async () => {
    const { editor, kept, apply, photo } = started();
    kept.answer(async (pictureId, name, { widthPx, heightPx }) => {
      editor.commit(setPhoto('Turn photo', { ...PHOTO, turnDeg: 5 }));
      return good({ pictureId, name, widthPx, heightPx });
    });
    expect((await apply())?.what).toMatch(/changed while/);
    expect(photo()).toMatchObject({ pictureId: 'taken', turnDeg: 5 });
  });
});

describe('taking it back', () => {
  test('shows the picture as taken, in its place', async () => {
    const { editor, apply, flattening, photo } = started();
    await apply();
    await flattening.takeBack();
    expect(photo()).toMatchObject({ pictureId: 'taken', widthPx: 1000, rectification: null, measures: [] });
    editor.undo();
    expect(photo()?.pictureId).toBe('flat of taken');
  });
  test('is told where that picture is not in this browser', async () => {
    const { editor, apply, flattening, photo } = started([]);
    await apply();
    const flat = photo();
    await flattening.takeBack();
    expect(photo()).toBe(flat);
    expect(editor.store.getState().saying).toMatchObject({ tone: 'error' });
    expect(editor.store.getState().saying?.text).toMatch(/not stored in this browser/);
  });
});
