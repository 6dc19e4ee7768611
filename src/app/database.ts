import { openDB } from 'idb';
import type { DBSchema } from 'idb';
import { bad, good } from '../base/result.ts';
import type { Result } from '../base/result.ts';

/** A stored plan that could not be read whole, kept as it was. */
export interface AsidePlan {
  readonly text: string;
  readonly keptAt: string;
  readonly why: string;
}

/** What the browser keeps between visits. Every call may reject: storage can be full, cleared or taken away. */
export interface Database {
  readPlan(): Promise<string | undefined>;
  /** Hands the write to the browser before it returns, so that it also works while the page is being left. */
  writePlan(text: string): Promise<void>;
  keepAside(plan: AsidePlan): Promise<void>;
  asidePlans(): Promise<readonly AsidePlan[]>;
  putPicture(pictureId: string, blob: Blob): Promise<void>;
  getPicture(pictureId: string): Promise<Blob | undefined>;
  pictureIds(): Promise<readonly string[]>;
  deletePicture(pictureId: string): Promise<void>;
}

interface Schema extends DBSchema {
  plans: { key: string; value: string };
  aside: { key: number; value: AsidePlan };
  pictures: { key: string; value: Blob };
}

const NAME = 'dripwright';
const VERSION = 1;
const CURRENT = 'current';
/** A browser that neither opens nor refuses is treated as one that refuses. */
const OPENING_MS = 5_000;
/** `strict`: a save that is reported done is on the disk, not only on its way. */
const STRICT = { durability: 'strict' } as const;

const todo = 'Work goes on in this window. Save the plan to a file before you close it.';

/**
 * Opens the browser's storage. Fails, in words for a person, where it is switched off (private windows, strict
 * privacy settings), blocked by another window or written by a newer version.
 * @param onLost called when the browser takes the storage away later
 */
export async function openDatabase(onLost: () => void): Promise<Result<Database>> {
  if (typeof indexedDB === 'undefined') {
    return bad('browser storage', 'This browser offers no storage to this page.', todo);
  }
  try {
    const opening = openDB<Schema>(NAME, VERSION, {
      upgrade(db) {
        db.createObjectStore('plans');
        db.createObjectStore('aside', { autoIncrement: true });
        db.createObjectStore('pictures');
      },
      blocking: (_current, _blocked, event) => {
        // A newer version waits in another window: give way, and say so here.
        (event.target as IDBDatabase).close();
        onLost();
      },
      terminated: onLost,
    });
    const db = await withinTime(opening, OPENING_MS);
    return good({
      readPlan: () => db.get('plans', CURRENT),
      async writePlan(text) {
        const change = db.transaction('plans', 'readwrite', STRICT);
        const put = change.store.put(text, CURRENT);
        change.commit();
        await Promise.all([put, change.done]);
      },
      async keepAside(plan) {
        const change = db.transaction('aside', 'readwrite', STRICT);
        await Promise.all([change.store.add(plan), change.done]);
      },
      asidePlans: () => db.getAll('aside'),
      async putPicture(pictureId, blob) {
        const change = db.transaction('pictures', 'readwrite', STRICT);
        const known = await change.store.getKey(pictureId);
        if (known === undefined) await change.store.put(blob, pictureId);
        await change.done;
      },
      getPicture: (pictureId) => db.get('pictures', pictureId),
      pictureIds: () => db.getAllKeys('pictures'),
      deletePicture: (pictureId) => db.delete('pictures', pictureId),
    });
  } catch (error) {
    return bad('browser storage', whyNot(error), todo);
  }
}

/** What a storage error means to a person. */
export function whyNot(error: unknown): string {
  const name = error instanceof Error ? error.name : '';
  if (name === 'QuotaExceededError') return 'The storage that the browser gives this page is full.';
  if (name === 'VersionError') return 'A newer version of this program has stored plans in this browser.';
  if (name === 'SecurityError' || name === 'InvalidStateError' || name === 'NotFoundError') {
    return 'The browser does not let this page store anything, as in a private window.';
  }
  return `The browser's storage does not work. ${error instanceof Error ? error.message : String(error)}`;
}

function withinTime<T>(promise: Promise<T>, limitMs: number): Promise<T> {
  return new Promise((resolve, reject) => {
    const clock = setTimeout(() => reject(new Error('It did not open in time.')), limitMs);
    promise.finally(() => clearTimeout(clock)).then(resolve, reject);
  });
}
