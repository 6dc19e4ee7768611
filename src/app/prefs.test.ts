import { describe, expect, test } from 'vitest';
import { DEFAULT_PREFS, readPrefs, writePrefs } from './prefs.ts';
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
