import { describe, expect, test } from 'vitest';
import type { Problem } from '../base/result.ts';
import type { PlanNetwork } from '../derive/results.ts';
import type { Network, Solution } from '../hydraulics/network.ts';
import { createSolverQueue } from './solver-queue.ts';
import type { Solver } from './solver-queue.ts';
import { WorkerLost } from './worker-link.ts';

function networkNamed(name: string): PlanNetwork {
  return { network: { name } } as unknown as PlanNetwork;
}
const nameOf = (network: Network) => (network as unknown as { name: string }).name;
const answerTo = (network: Network) => ({ answers: nameOf(network) }) as unknown as Solution;

interface Call {
  readonly name: string;
  answer(): Promise<void>;
  fail(error: Error): Promise<void>;
}

function bench() {
  const calls: Call[] = [];
  const delivered: (readonly [string, string])[] = [];
  const problems: Problem[] = [];
  let started = 0;
  let ended = 0;
  const settle = () => new Promise<void>((done) => setTimeout(done));
  const queue = createSolverQueue(
    (): Solver => {
      started++;
      return {
        solve: (network) =>
          new Promise((resolve, reject) =>
            calls.push({
              name: nameOf(network),
              answer: () => (resolve(answerTo(network)), settle()),
              fail: (error) => (reject(error), settle()),
            }),
          ),
        end: () => void ended++,
      };
    },
    {
      onSolution: (planNetwork, solution) =>
        delivered.push([nameOf(planNetwork.network), (solution as unknown as { answers: string }).answers]),
      onProblem: (problem) => problems.push(problem),
    },
  );
  return {
    queue,
    calls,
    delivered,
    problems,
    counts: () => ({ started, ended }),
    names: () => calls.map((call) => call.name),
  };
}

describe('the queue in front of the solver', () => {
  test('starts the solver at the first request only', () => {
    const { queue, counts } = bench();
    expect(counts().started).toBe(0);
    queue.request(networkNamed('a'));
    expect(counts().started).toBe(1);
    expect(queue.busy).toBe(true);
  });

  test('runs one, keeps only the newest waiting, and pairs each answer with its own network', async () => {
    const { queue, calls, delivered, names, counts } = bench();
    for (const name of ['a', 'b', 'c', 'd']) queue.request(networkNamed(name));
    expect(names()).toEqual(['a']);
    await calls[0]!.answer();
    expect(names()).toEqual(['a', 'd']);
    await calls[1]!.answer();
    expect(delivered).toEqual([
      ['a', 'a'],
      ['d', 'd'],
    ]);
    expect(queue.busy).toBe(false);
    expect(counts().started).toBe(1);
  });

  test('a request made from within the delivery is served next', async () => {
    const { queue, calls, names } = bench();
    queue.request(networkNamed('a'));
    await calls[0]!.answer();
    queue.request(networkNamed('b'));
    await calls[1]!.answer();
    expect(names()).toEqual(['a', 'b']);
  });

  test('a lost solver is started again once for the same network, and the loss is reported', async () => {
    const { queue, calls, delivered, problems, names, counts } = bench();
    queue.request(networkNamed('a'));
    await calls[0]!.fail(new WorkerLost('out of memory'));
    expect(names()).toEqual(['a', 'a']);
    expect(counts().started).toBe(2);
    expect(problems).toHaveLength(1);
    expect(problems[0]!.what).toContain('out of memory');
    await calls[1]!.answer();
    expect(delivered).toEqual([['a', 'a']]);
  });

  test('a network that brings the solver down twice is given up; the next one is served by a new solver', async () => {
    const { queue, calls, delivered, problems, names, counts } = bench();
    queue.request(networkNamed('bad'));
    await calls[0]!.fail(new WorkerLost('first'));
    await calls[1]!.fail(new WorkerLost('second'));
    expect(delivered).toEqual([]);
    expect(problems).toHaveLength(2);
    expect(queue.busy).toBe(false);
    queue.request(networkNamed('good'));
    await calls[2]!.answer();
    expect(names()).toEqual(['bad', 'bad', 'good']);
    expect(delivered).toEqual([['good', 'good']]);
    expect(counts().started).toBe(3);
  });

  test('after a loss the newer network that waits is solved instead of the old one', async () => {
    const { queue, calls, delivered, names } = bench();
    queue.request(networkNamed('old'));
    queue.request(networkNamed('new'));
    await calls[0]!.fail(new WorkerLost('gone'));
    expect(names()).toEqual(['old', 'new']);
    await calls[1]!.answer();
    expect(delivered).toEqual([['new', 'new']]);
  });

  test('an error thrown by the calculation is reported without a restart', async () => {
    const { queue, calls, problems, counts, delivered } = bench();
    queue.request(networkNamed('a'));
    await calls[0]!.fail(new Error('pipe 3 has no bore'));
    expect(problems[0]!.what).toContain('pipe 3 has no bore');
    queue.request(networkNamed('b'));
    await calls[1]!.answer();
    expect(delivered).toEqual([['b', 'b']]);
    expect(counts().started).toBe(1);
  });

  test('nothing is delivered after closing', async () => {
    const { queue, calls, delivered, problems, counts } = bench();
    queue.request(networkNamed('a'));
    queue.request(networkNamed('b'));
    queue.close();
    await calls[0]!.answer();
    queue.request(networkNamed('c'));
    expect(delivered).toEqual([]);
    expect(problems).toEqual([]);
    expect(counts().ended).toBe(1);
    expect(calls).toHaveLength(1);
  });
});
