import * as Comlink from 'comlink';

/** A worker that may die: calls to it end with a `WorkerLost` instead of waiting for ever. */
export interface WorkerLink<Api> {
  readonly api: Comlink.Remote<Api>;
  /** Runs one call; rejects with `WorkerLost` when the worker crashes or stays silent for `silenceMs`. */
  run<R>(call: (api: Comlink.Remote<Api>) => Promise<R>, silenceMs?: number): Promise<R>;
  /** Ends the worker; calls under way are rejected. */
  end(): void;
  /** True once the worker has crashed, stayed silent or been ended: start a new one. */
  readonly lost: boolean;
}

/** The worker is gone, as opposed to an error thrown by the code in it. */
export class WorkerLost extends Error {
  override readonly name = 'WorkerLost';
}

/** What is needed of a Worker; tests give their own. */
export type WorkerLike = Comlink.Endpoint & { terminate(): void };

/**
 * Wraps a worker whose code calls `Comlink.expose(api, self)`. A crash reaches the page as an `error` event, but
 * a worker that ran out of memory may say nothing at all, hence the limit on silence.
 */
export function linkWorker<Api>(worker: WorkerLike): WorkerLink<Api> {
  const api = Comlink.wrap<Api>(worker);
  const waiting = new Set<(why: WorkerLost) => void>();
  let lost = false;

  function lose(why: string): void {
    if (lost) return;
    lost = true;
    worker.terminate();
    const error = new WorkerLost(why);
    for (const reject of [...waiting]) reject(error);
    waiting.clear();
  }

  worker.addEventListener('error', (event) => {
    // Handled here and reported as a problem; the console need not repeat it.
    event.preventDefault?.();
    const message = (event as Partial<ErrorEvent>).message;
    lose(
      message
        ? `The background worker stopped: ${message}`
        : 'The background worker stopped or could not be loaded.',
    );
  });
  worker.addEventListener('messageerror', () =>
    lose('A message of the background worker could not be read.'),
  );

  return {
    api,
    get lost() {
      return lost;
    },
    run(call, silenceMs = 60_000) {
      if (lost) return Promise.reject(new WorkerLost('The background worker was already stopped.'));
      return new Promise((resolve, reject) => {
        const clock = setTimeout(
          () => lose(`The background worker gave no answer for ${silenceMs / 1000} s.`),
          silenceMs,
        );
        const fail = (why: Error) => {
          clearTimeout(clock);
          waiting.delete(fail);
          reject(why);
        };
        waiting.add(fail);
        call(api).then((value) => {
          clearTimeout(clock);
          waiting.delete(fail);
          resolve(value);
        }, fail);
      });
    },
    end: () => lose('The background worker was ended.'),
  };
}
