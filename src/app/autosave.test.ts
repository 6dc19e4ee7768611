import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';
import { createAutosave } from './autosave.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function bench() {
  const begun: string[] = [];
  const ends: ((result: Result<void>) => Promise<void>)[] = [];
  const autosave = createAutosave<string>((document) => {
    begun.push(document);
    return new Promise((resolve) =>
      ends.push(async (result) => {
        resolve(result);
        await vi.advanceTimersByTimeAsync(0);
      }),
    );
  });
  const states: string[] = [];
  autosave.subscribe((state) => states.push(state.kind));
  return { autosave, begun, ends, states };
}

describe('automatic saving', () => {
  test('writes the newest document within half a second of an edit, once for a burst', async () => {
    const { autosave, begun, ends, states } = bench();
    autosave.edited('a');
    await vi.advanceTimersByTimeAsync(100);
    autosave.edited('b');
    autosave.edited('c');
    await vi.advanceTimersByTimeAsync(399);
    expect(begun).toEqual(['c']);
    await ends[0]!(good(undefined));
    expect(states).toEqual(['saving', 'saved']);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(begun).toEqual(['c']);
  });

  test('edits that never pause are saved while they go on', async () => {
    const { autosave, begun, ends } = bench();
    for (let i = 0; i < 30; i++) {
      autosave.edited(String(i));
      await vi.advanceTimersByTimeAsync(100);
      if (ends.length) await ends.at(-1)!(good(undefined));
    }
    expect(begun.length).toBeGreaterThanOrEqual(5);
  });

  test('an edit during a write is written next; the state stays at saving until it is', async () => {
    const { autosave, begun, ends } = bench();
    autosave.edited('a');
    await vi.advanceTimersByTimeAsync(500);
    autosave.edited('b');
    await ends[0]!(good(undefined));
    expect(autosave.state.kind).toBe('saving');
    await vi.advanceTimersByTimeAsync(500);
    expect(begun).toEqual(['a', 'b']);
    await ends[1]!(good(undefined));
    expect(autosave.state.kind).toBe('saved');
  });

  test('leaving the page writes at once', () => {
    const { autosave, begun } = bench();
    autosave.edited('a');
    void autosave.flush();
    expect(begun).toEqual(['a']);
    void autosave.flush();
    expect(begun).toEqual(['a']);
  });

  test('a failure is told, kept and tried again until it succeeds', async () => {
    const { autosave, begun, ends, states } = bench();
    autosave.edited('a');
    await vi.advanceTimersByTimeAsync(500);
    await ends[0]!(bad('storage', 'full', 'save a file'));
    expect(autosave.state).toMatchObject({ kind: 'failed', problem: { what: 'full' } });
    await vi.advanceTimersByTimeAsync(6_000);
    expect(begun).toEqual(['a', 'a']);
    await ends[1]!(good(undefined));
    expect(states).toEqual(['saving', 'failed', 'saved']);
  });

  test('an edit after a failure is written without waiting for the retry', async () => {
    const { autosave, begun, ends } = bench();
    autosave.edited('a');
    await vi.advanceTimersByTimeAsync(500);
    await ends[0]!(bad('storage', 'full', 'save a file'));
    autosave.edited('b');
    await vi.advanceTimersByTimeAsync(500);
    expect(begun).toEqual(['a', 'b']);
    expect(autosave.state.kind).toBe('failed');
  });

  test('a late answer of an older write does not speak for the newer one', async () => {
    const { autosave, ends } = bench();
    autosave.edited('a');
    await vi.advanceTimersByTimeAsync(500);
    autosave.edited('b');
    await vi.advanceTimersByTimeAsync(500);
    await ends[0]!(good(undefined));
    expect(autosave.state.kind).toBe('saving');
    await ends[1]!(bad('storage', 'full', 'save a file'));
    expect(autosave.state.kind).toBe('failed');
  });
});
