import type { Problem, Result } from '../base/result.ts';

/** What the person may know about the automatic saving. */
export type SaveState =
  | { readonly kind: 'saved' }
  | { readonly kind: 'saving' }
  | { readonly kind: 'failed'; readonly problem: Problem };

export interface Autosave<Document> {
  /** The document as it is after an edit; it is written within `delayMs`. */
  edited(document: Document): void;
  /** Writes at once what is not written yet, e.g. because the page is being left. */
  flush(): Promise<void>;
  readonly state: SaveState;
  /** Calls `changed` at each change of the state; gives back how to stop that. */
  subscribe(changed: (state: SaveState) => void): () => void;
}

/** From an edit to the start of its writing, milliseconds. */
const DELAY_MS = 300;
/** After a failure the newest document is tried again without a further edit, milliseconds. */
const RETRY_MS = 5_000;

/**
 * Writes the newest document a moment after each edit. The delay counts from the first edit that is not yet
 * written, so that a long burst of edits is saved while it lasts.
 * @param write begins writing before it returns; must not reject
 */
export function createAutosave<Document>(
  write: (document: Document) => Promise<Result<void>>,
  delayMs: number = DELAY_MS,
): Autosave<Document> {
  const listeners = new Set<(state: SaveState) => void>();
  let state: SaveState = { kind: 'saved' };
  let unsaved: { readonly document: Document } | null = null;
  let clock: ReturnType<typeof setTimeout> | null = null;
  let writes = 0;

  function show(next: SaveState): void {
    if (next.kind === state.kind && next.kind !== 'failed') return;
    state = next;
    [...listeners].forEach((changed) => changed(next));
  }

  function schedule(afterMs: number): void {
    clock ??= setTimeout(() => void save(), afterMs);
  }

  async function save(): Promise<void> {
    if (clock !== null) clearTimeout(clock);
    clock = null;
    if (!unsaved) return;
    const writing = unsaved;
    unsaved = null;
    const turn = ++writes;
    const result = await write(writing.document);
    // Only the last write speaks for the state: an earlier one may end later.
    if (turn !== writes) return;
    if (!result.ok) {
      unsaved ??= writing;
      show({ kind: 'failed', problem: result.problem });
      schedule(RETRY_MS);
    } else if (!unsaved) {
      show({ kind: 'saved' });
    }
  }

  return {
    edited(document) {
      unsaved = { document };
      // After a failure stay with that word until a write succeeds, but do not wait for the retry.
      if (state.kind === 'failed' && clock !== null) {
        clearTimeout(clock);
        clock = null;
      }
      if (state.kind !== 'failed') show({ kind: 'saving' });
      schedule(delayMs);
    },
    flush: save,
    get state() {
      return state;
    },
    subscribe(changed) {
      listeners.add(changed);
      return () => void listeners.delete(changed);
    },
  };
}
