import type { UnitSystem } from '../base/quantity.ts';
import type { Point } from '../base/point.ts';

/** How this person last looked at plans. Kept in this browser, never in a plan. */
export interface Prefs {
  readonly units: UnitSystem;
  readonly camera: CameraPrefs | null;
}

export interface CameraPrefs {
  /** Place on the plan in the middle of the screen, metres. */
  readonly center: Point;
  readonly pixelsPerMetre: number;
}

export const DEFAULT_PREFS: Prefs = { units: 'us', camera: null };

const KEY = 'dripwright.prefs';

/** What is needed of `localStorage`; it may throw at every touch where storage is switched off. */
export type PrefsStore = Pick<globalThis.Storage, 'getItem' | 'setItem'>;

/** Reads the preferences; whatever is missing or faulty takes its default. */
export function readPrefs(store: () => PrefsStore = () => localStorage): Prefs {
  try {
    const value: unknown = JSON.parse(store().getItem(KEY) ?? '{}');
    if (typeof value !== 'object' || value === null) return DEFAULT_PREFS;
    const { units, camera } = value as Record<string, unknown>;
    return {
      units: units === 'us' || units === 'metric' ? units : DEFAULT_PREFS.units,
      camera: readCamera(camera),
    };
  } catch {
    return DEFAULT_PREFS;
  }
}

/** Keeps the preferences if the browser lets it; they are not worth an error. */
export function writePrefs(prefs: Prefs, store: () => PrefsStore = () => localStorage): void {
  try {
    store().setItem(KEY, JSON.stringify(prefs));
  } catch {
    // Switched off or full: the next visit starts with the defaults.
  }
}

/** A moving view is written once it has rested for this long, ms. */
const REST_MS = 250;

export interface PrefsKeeper {
  /** The preferences as they are now; written a moment after the last change. */
  changed(prefs: Prefs): void;
  /** Writes at once what is not written yet. */
  flush(): void;
}

/** Keeps preferences without writing at every step of a moving view: each write holds up the page. */
export function createPrefsKeeper(
  write: (prefs: Prefs) => void = writePrefs,
  restMs: number = REST_MS,
): PrefsKeeper {
  let unwritten: Prefs | null = null;
  let clock: ReturnType<typeof setTimeout> | null = null;
  const flush = (): void => {
    if (clock !== null) clearTimeout(clock);
    clock = null;
    if (unwritten) write(unwritten);
    unwritten = null;
  };
  return {
    changed(prefs) {
      unwritten = prefs;
      if (clock !== null) clearTimeout(clock);
      clock = setTimeout(flush, restMs);
    },
    flush,
  };
}

function readCamera(value: unknown): CameraPrefs | null {
  if (typeof value !== 'object' || value === null) return null;
  const { center, pixelsPerMetre } = value as Record<string, unknown>;
  if (!Array.isArray(center) || typeof pixelsPerMetre !== 'number') return null;
  const [x, y] = center as unknown[];
  const sound = [x, y].every((n) => typeof n === 'number' && Number.isFinite(n)) && pixelsPerMetre > 0;
  return sound ? { center: [x as number, y as number], pixelsPerMetre } : null;
}
