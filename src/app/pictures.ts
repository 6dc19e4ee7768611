import * as Comlink from 'comlink';
import { bad, good } from '../base/result.ts';
import type { Problem, Result } from '../base/result.ts';
import { LEVELS, levelFor } from './picture-levels.ts';
import type { FlatOrder, PictureApi, PreparedPicture } from './picture-worker.ts';
import { WorkerLost, linkWorker } from './worker-link.ts';
import type { WorkerLink } from './worker-link.ts';

export interface AddedPicture {
  readonly pictureId: string;
  /** Name of the file that it came from. */
  readonly name: string;
  /** Size of the upright stored copy. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Where stored copies are kept between visits. */
export interface PictureStore {
  putPicture(pictureId: string, blob: Blob): Promise<Result<void>>;
  getPicture(pictureId: string): Promise<Blob | null>;
}

export interface Pictures {
  /** Reads a JPEG, PNG or WebP (opened, dropped or pasted) and stores its upright copy, free of the camera's notes. */
  add(file: Blob, name?: string): Promise<Result<AddedPicture>>;
  /**
   * Makes and stores the flat picture of a stored one, in the background.
   * @param progress hears the share of the work that is done, 0 to 1
   * @param stop calls the work off; the answer then is null, and nothing is kept
   */
  flatten(
    pictureId: string,
    name: string,
    order: Omit<FlatOrder, 'job'>,
    progress: (share: number) => void,
    stop: AbortSignal,
  ): Promise<Result<AddedPicture> | null>;
  /** Takes in a stored copy from a plan file. Its id comes from its bytes; compare it with the plan's. */
  restore(blob: Blob, name: string): Promise<Result<AddedPicture>>;
  /**
   * The picture at the size that suits the zoom, to be drawn stretched over the whole picture's place; `null`
   * while it loads (subscribers hear when it is there) or when there is none.
   * @param screenPixelsPerPicturePixel device pixels that one pixel of the whole picture covers
   */
  bitmapFor(pictureId: string, screenPixelsPerPicturePixel: number): ImageBitmap | null;
  /** The stored copy, for a plan file or a printed sheet. */
  blobFor(pictureId: string): Promise<Blob | null>;
  /** Why a picture cannot be shown; `null` while nothing is wrong. */
  problemOf(pictureId: string): Problem | null;
  /** Calls `changed` whenever a picture has come or failed; gives back how to stop that. */
  subscribe(changed: () => void): () => void;
}

/** Decoded pictures take 65 MB each at most; the last two are kept, so that undoing a change of photo is quick. */
const KEPT_DECODED = 2;

type Decoded = { readonly levels: readonly ImageBitmap[] };

export function createPictures(
  store: PictureStore,
  start: () => WorkerLink<PictureApi> = startWorker,
): Pictures {
  const blobs = new Map<string, Blob>();
  const decoded = new Map<string, Decoded>();
  const loading = new Set<string>();
  const problems = new Map<string, Problem>();
  /** Shown, but not stored for the next visit. */
  const unstored = new Map<string, Problem>();
  const listeners = new Set<() => void>();
  let link: WorkerLink<PictureApi> | null = null;
  let jobs = 0;

  const notify = () => [...listeners].forEach((changed) => changed());

  async function inWorker(
    name: string,
    call: Parameters<WorkerLink<PictureApi>['run']>[0],
  ): Promise<Result<PreparedPicture>> {
    try {
      if (!link || link.lost) link = start();
      return (await link.run(call)) as Result<PreparedPicture>;
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      return bad(
        name,
        `The picture could not be read. ${why}`,
        error instanceof WorkerLost
          ? 'It may be too large for the memory of this device: save a smaller copy as JPEG and open that.'
          : 'Save it as a new JPEG in a picture viewer and open that.',
      );
    }
  }

  function keep(picture: PreparedPicture): void {
    const { pictureId, levels, blob } = picture;
    decoded.get(pictureId)?.levels.forEach((level) => level.close());
    decoded.delete(pictureId);
    decoded.set(pictureId, { levels });
    blobs.set(pictureId, blob);
    problems.delete(pictureId);
    for (const [oldest, { levels: old }] of decoded) {
      if (decoded.size <= KEPT_DECODED) break;
      decoded.delete(oldest);
      old.forEach((level) => level.close());
    }
    notify();
  }

  async function takeIn(prepared: Result<PreparedPicture>, name: string): Promise<Result<AddedPicture>> {
    if (!prepared.ok) return prepared;
    const { pictureId, widthPx, heightPx, blob } = prepared.value;
    keep(prepared.value);
    const stored = await store.putPicture(pictureId, blob);
    // The picture is there and can be worked on; only the next visit would miss it.
    if (stored.ok) unstored.delete(pictureId);
    else unstored.set(pictureId, stored.problem);
    notify();
    return good({ pictureId, name, widthPx, heightPx });
  }

  async function blobFor(pictureId: string): Promise<Blob | null> {
    return blobs.get(pictureId) ?? (await store.getPicture(pictureId));
  }

  async function load(pictureId: string): Promise<void> {
    loading.add(pictureId);
    try {
      const blob = await blobFor(pictureId);
      const name = 'site photo';
      const picture = blob
        ? await inWorker(name, (api) => api.load(blob, name))
        : bad(
            name,
            'The picture of this plan is not stored in this browser.',
            'Open the plan file that holds it, or add the picture again.',
          );
      // A stored copy keeps the id under which the plan knows it.
      if (picture.ok) keep({ ...picture.value, pictureId });
      else problems.set(pictureId, picture.problem);
    } finally {
      loading.delete(pictureId);
      notify();
    }
  }

  return {
    async add(file, name = nameOf(file)) {
      return takeIn(await inWorker(name, (api) => api.prepare(file, name)), name);
    },
    async flatten(pictureId, name, order, progress, stop) {
      const blob = await blobFor(pictureId);
      if (!blob) {
        return bad(
          name,
          'The picture of this plan is not stored in this browser.',
          'Open the plan file that holds it, or add the picture again.',
        );
      }
      const job = `flat ${++jobs}`;
      const callOff = () => void link?.api.callOff(job).catch(() => undefined);
      stop.addEventListener('abort', callOff);
      try {
        if (stop.aborted) return null;
        const made = await inWorker(name, (api) =>
          api.flatten(
            blob,
            name,
            { ...order, job },
            Comlink.proxy((share: number) => {
              if (!stop.aborted) progress(share);
            }),
          ),
        );
        if (!stop.aborted) return await takeIn(made, name);
        if (made.ok) made.value.levels.forEach((level) => level.close());
        return null;
      } finally {
        stop.removeEventListener('abort', callOff);
      }
    },
    async restore(blob, name) {
      return takeIn(await inWorker(name, (api) => api.load(blob, name)), name);
    },
    bitmapFor(pictureId, screenPixelsPerPicturePixel) {
      const picture = decoded.get(pictureId);
      if (picture) return picture.levels[levelFor(screenPixelsPerPicturePixel, LEVELS)] ?? null;
      if (!loading.has(pictureId) && !problems.has(pictureId)) void load(pictureId);
      return null;
    },
    blobFor,
    problemOf: (pictureId) => problems.get(pictureId) ?? unstored.get(pictureId) ?? null,
    subscribe(changed) {
      listeners.add(changed);
      return () => void listeners.delete(changed);
    },
  };
}

function nameOf(file: Blob): string {
  const name = 'name' in file && typeof file.name === 'string' ? file.name : '';
  return name || 'pasted picture';
}

function startWorker(): WorkerLink<PictureApi> {
  return linkWorker<PictureApi>(
    new Worker(new URL('./picture-worker.ts', import.meta.url), { type: 'module', name: 'pictures' }),
  );
}
