import * as Comlink from 'comlink';
import { describe, expect, test } from 'vitest';
import { WorkerLost, linkWorker } from './worker-link.ts';
import type { WorkerLike } from './worker-link.ts';

interface Api {
  double(n: number): number;
  fail(): void;
  hang(): Promise<void>;
}

/** A worker in this thread: messages go through a real channel, crashes are fired by hand. */
function fakeWorker() {
  const { port1, port2 } = new MessageChannel();
  const api: Api = {
    double: (n) => n * 2,
    fail() {
      throw new Error('no bore');
    },
    hang: () => new Promise(() => undefined),
  };
  Comlink.expose(api, port2);
  const listeners = new Map<string, ((event: never) => void)[]>();
  let ended = 0;
  const worker: WorkerLike = {
    postMessage: port1.postMessage.bind(port1),
    removeEventListener: port1.removeEventListener.bind(port1),
    start: () => port1.start(),
    addEventListener(type: string, listener: EventListenerOrEventListenerObject) {
      if (type === 'message') port1.addEventListener(type, listener);
      else listeners.set(type, [...(listeners.get(type) ?? []), listener as (event: never) => void]);
    },
    terminate() {
      ended++;
      port1.close();
      port2.close();
    },
  };
  const fire = (type: string, event: object) => listeners.get(type)?.forEach((hear) => hear(event as never));
  return { worker, fire, ended: () => ended };
}

describe('a link to a worker', () => {
  test('gives answers and the errors of the code in it, and stays', async () => {
    const { worker } = fakeWorker();
    const link = linkWorker<Api>(worker);
    expect(await link.run((api) => api.double(21))).toBe(42);
    await expect(link.run((api) => api.fail())).rejects.toThrow('no bore');
    expect(link.lost).toBe(false);
    expect(await link.run((api) => api.double(4))).toBe(8);
    link.end();
  });

  test('a crash ends the calls under way and all later ones', async () => {
    const { worker, fire, ended } = fakeWorker();
    const link = linkWorker<Api>(worker);
    const call = link.run((api) => api.hang());
    fire('error', { message: 'out of memory', preventDefault: () => undefined });
    await expect(call).rejects.toThrow(WorkerLost);
    await expect(call).rejects.toThrow('out of memory');
    expect(link.lost).toBe(true);
    expect(ended()).toBe(1);
    await expect(link.run((api) => api.double(1))).rejects.toThrow(WorkerLost);
  });

  test('silence counts as a crash', async () => {
    const { worker } = fakeWorker();
    const link = linkWorker<Api>(worker);
    await expect(link.run((api) => api.hang(), 20)).rejects.toThrow('0.02 s');
    expect(link.lost).toBe(true);
  });
});
