import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createPrefsKeeper, DEFAULT_PREFS, readPrefs, writePrefs } from './prefs.ts';
import type { Prefs } from './prefs.ts';

function storeWith(text: string | null) {
  const kept = { text };
  return {
    kept,
    store: () => ({
      getItem: () => kept.text,
      setItem: (_key: string, value: string) => void (kept.text = value),
    }),
  };
}

describe('preferences', () => {
  test('come back as they were written', () => {
    const prefs: Prefs = { units: 'metric', camera: { center: [3.5, -2], pixelsPerMetre: 40 } };
    const { store } = storeWith(null);
    writePrefs(prefs, store);
    expect(readPrefs(store)).toEqual(prefs);
  });

  test.each([
    ['nothing stored', null],
    ['no JSON', '{oops'],
    ['a bare word', '"us"'],
    ['null', 'null'],
    ['unknown units', '{"units":"furlongs"}'],
    ['a camera without a place', '{"camera":{"pixelsPerMetre":4}}'],
    ['a camera of no size', '{"camera":{"center":[1,2],"pixelsPerMetre":0}}'],
    ['a place that is no number', '{"camera":{"center":[1,null],"pixelsPerMetre":3}}'],
  ])('fall back to the defaults: %s', (_what, text) => {
    expect(readPrefs(storeWith(text).store)).toEqual(DEFAULT_PREFS);
  });

  test('storage that is switched off is no error', () => {
    const off = () => {
      throw new Error('denied');
    };
    expect(readPrefs(off)).toEqual(DEFAULT_PREFS);
    expect(() => writePrefs(DEFAULT_PREFS, off)).not.toThrow();
  });
});

describe('keeping preferences', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());
  const at = (pixelsPerMetre: number): Prefs => ({
    units: 'us',
    camera: { center: [0, 0], pixelsPerMetre },
  });

  test('writes a moving view once, after it has come to rest', () => {
    const written: Prefs[] = [];
    const keeper = createPrefsKeeper((prefs) => written.push(prefs), 250);
    for (let i = 1; i <= 60; i++) {
      keeper.changed(at(i));
      vi.advanceTimersByTime(16);
    }
    expect(written).toEqual([]);
    vi.advanceTimersByTime(250);
    expect(written).toEqual([at(60)]);
    vi.advanceTimersByTime(5000);
    expect(written).toHaveLength(1);
  });

  test('writes at once when the page is left, and not again', () => {
    const written: Prefs[] = [];
    const keeper = createPrefsKeeper((prefs) => written.push(prefs), 250);
    keeper.flush();
    keeper.changed(at(5));
    keeper.flush();
    keeper.flush();
    vi.advanceTimersByTime(5000);
    expect(written).toEqual([at(5)]);
  });
});
