import { describe, expect, test } from 'vitest';
import type { Problem } from '../base/result.ts';
import type { Notice, StudyOrder, Studies } from '../derive/index.ts';
import { createStudyQueue } from './study-queue.ts';
import type { Studier } from './study-queue.ts';
import { WorkerLost } from './worker-link.ts';

function planNamed(name: string): StudyOrder {
  return { plan: { name } } as unknown as StudyOrder;
}
const nameOf = (order: StudyOrder) => (order.plan as unknown as { name: string }).name;
const answerTo = (order: StudyOrder) => ({ answers: nameOf(order) }) as unknown as Studies;
const answered = (studies: Studies) => (studies as unknown as { answers: string }).answers;

interface Call {
  readonly name: string;
  answer(): Promise<void>;
  fail(error: Error): Promise<void>;
}

function bench() {
  const calls: Call[] = [];
  const checks: Call[] = [];
  const delivered: (readonly [string, string])[] = [];
  const noticed: (readonly [string, string, string])[] = [];
  const problems: Problem[] = [];
  let started = 0;
  let ended = 0;
  let clock = 0;
  let studied = '';
  /** Checks answer at once unless a test holds them. */
  const held = { checks: false };
  const settle = () => new Promise<void>((done) => setTimeout(done));
  const found = (name: string) => [{ rule: name }] as unknown as readonly Notice[];
  const queue = createStudyQueue(
    (): Studier => {
      started++;
      return {
        study: (order) =>
          new Promise((resolve, reject) =>
            calls.push({
              name: nameOf(order),
              answer: () => {
                studied = nameOf(order);
                resolve(answerTo(order));
                return settle();
              },
              fail: (error) => (reject(error), settle()),
            }),
          ),
        check: () => {
          const name = studied;
          if (!held.checks) return Promise.resolve(found(name));
          return new Promise((resolve, reject) =>
            checks.push({
              name,
              answer: () => (resolve(found(name)), settle()),
              fail: (error) => (reject(error), settle()),
            }),
          );
        },
        end: () => void ended++,
      };
    },
    {
      onStudies: (order, studies) => delivered.push([nameOf(order), answered(studies)]),
      onNotices: (order, studies, notices) =>
        noticed.push([nameOf(order), answered(studies), notices[0]!.rule]),
      onProblem: (problem) => problems.push(problem),
      now: () => clock,
    },
  );
  return {
    queue,
    calls,
    checks,
    held,
    delivered,
    noticed,
    problems,
    counts: () => ({ started, ended }),
    names: () => calls.map((call) => call.name),
    pass: (ms: number) => void (clock += ms),
  };
}

describe('the queue in front of the study', () => {
  test('starts the worker at the first request only', () => {
    const { queue, counts } = bench();
    expect(counts().started).toBe(0);
    queue.request(planNamed('a'));
    expect(counts().started).toBe(1);
    expect(queue.busy).toBe(true);
  });

  test('runs one, keeps only the newest waiting, and pairs each answer with its own plan', async () => {
    const { queue, calls, delivered, names, counts } = bench();
    for (const name of ['a', 'b', 'c', 'd']) queue.request(planNamed(name));
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
    queue.request(planNamed('a'));
    await calls[0]!.answer();
    queue.request(planNamed('b'));
    await calls[1]!.answer();
    expect(names()).toEqual(['a', 'b']);
  });

  test('a lost worker is started again once for the same plan, and the loss is reported', async () => {
    const { queue, calls, delivered, problems, names, counts } = bench();
    queue.request(planNamed('a'));
    await calls[0]!.fail(new WorkerLost('out of memory'));
    expect(names()).toEqual(['a', 'a']);
    expect(counts().started).toBe(2);
    expect(problems).toHaveLength(1);
    expect(problems[0]!.what).toContain('out of memory');
    await calls[1]!.answer();
    expect(delivered).toEqual([['a', 'a']]);
  });

  test('a plan that brings the worker down twice is given up; the next one is served by a new worker', async () => {
    const { queue, calls, delivered, problems, names, counts } = bench();
    queue.request(planNamed('bad'));
    await calls[0]!.fail(new WorkerLost('first'));
    await calls[1]!.fail(new WorkerLost('second'));
    expect(delivered).toEqual([]);
    expect(problems).toHaveLength(2);
    expect(queue.busy).toBe(false);
    queue.request(planNamed('good'));
    await calls[2]!.answer();
    expect(names()).toEqual(['bad', 'bad', 'good']);
    expect(delivered).toEqual([['good', 'good']]);
    expect(counts().started).toBe(3);
  });

  test('after a loss the newer plan that waits is studied instead of the old one', async () => {
    const { queue, calls, delivered, names } = bench();
    queue.request(planNamed('old'));
    queue.request(planNamed('new'));
    await calls[0]!.fail(new WorkerLost('gone'));
    expect(names()).toEqual(['old', 'new']);
    await calls[1]!.answer();
    expect(delivered).toEqual([['new', 'new']]);
  });

  test('an error thrown by the calculation is reported without a restart', async () => {
    const { queue, calls, problems, counts, delivered } = bench();
    queue.request(planNamed('a'));
    await calls[0]!.fail(new Error('pipe 3 has no bore'));
    expect(problems[0]!.what).toContain('pipe 3 has no bore');
    queue.request(planNamed('b'));
    await calls[1]!.answer();
    expect(delivered).toEqual([['b', 'b']]);
    expect(counts().started).toBe(1);
  });

  test('nothing is delivered after closing', async () => {
    const { queue, calls, delivered, problems, counts } = bench();
    queue.request(planNamed('a'));
    queue.request(planNamed('b'));
    queue.close();
    await calls[0]!.answer();
    queue.request(planNamed('c'));
    expect(delivered).toEqual([]);
    expect(problems).toEqual([]);
    expect(counts().ended).toBe(1);
    expect(calls).toHaveLength(1);
  });

  test('findings come after the results that they go with', async () => {
    const { queue, calls, delivered, noticed } = bench();
    queue.request(planNamed('a'));
    await calls[0]!.answer();
    expect(delivered).toEqual([['a', 'a']]);
    expect(noticed).toEqual([['a', 'a', 'a']]);
  });

  test('checks are left out while something newer waits, but not for ever', async () => {
    const { queue, calls, noticed, pass } = bench();
    queue.request(planNamed('first'));
    await calls[0]!.answer();
    for (let i = 0; i < 12; i++) {
      queue.request(planNamed(`p${i}`));
      if (i === 0) continue;
      pass(100);
      await calls[i]!.answer();
    }
    await calls[12]!.answer();
    // Not p0 to p2: 100 to 300 ms after the checks of `first`.
    expect(noticed.map(([name]) => name)).toEqual(['first', 'p3', 'p7', 'p11']);
    noticed.forEach(([order, studies, notice]) => expect([studies, notice]).toEqual([order, order]));
  });

  test('a worker that is lost while it checks is started again once for the same plan', async () => {
    const { queue, calls, checks, held, delivered, noticed, problems, counts } = bench();
    held.checks = true;
    queue.request(planNamed('a'));
    await calls[0]!.answer();
    await checks[0]!.fail(new WorkerLost('gone'));
    await calls[1]!.answer();
    await checks[1]!.answer();
    expect(counts().started).toBe(2);
    expect(problems).toHaveLength(1);
    expect(delivered).toEqual([
      ['a', 'a'],
      ['a', 'a'],
    ]);
    expect(noticed).toEqual([['a', 'a', 'a']]);
  });

  test('an error of a check is told; the results stand and the queue goes on', async () => {
    const { queue, calls, checks, held, delivered, problems } = bench();
    held.checks = true;
    queue.request(planNamed('a'));
    await calls[0]!.answer();
    await checks[0]!.fail(new Error('no such rule'));
    expect(delivered).toEqual([['a', 'a']]);
    expect(problems[0]!.what).toContain('no such rule');
    queue.request(planNamed('b'));
    await calls[1]!.answer();
    expect(delivered.at(-1)).toEqual(['b', 'b']);
  });

  test('is idle only when all is delivered, also after an error and after closing', async () => {
    const { queue, calls, noticed } = bench();
    await queue.idle();
    const seen: string[] = [];
    queue.request(planNamed('a'));
    queue.request(planNamed('b'));
    void queue.idle().then(() => seen.push(`idle after ${noticed.at(-1)?.[0]}`));
    await calls[0]!.answer();
    expect(seen).toEqual([]);
    await calls[1]!.answer();
    expect(seen).toEqual(['idle after b']);
    queue.request(planNamed('c'));
    void queue.idle().then(() => seen.push('idle after an error'));
    await calls[2]!.fail(new Error('no'));
    queue.request(planNamed('d'));
    void queue.idle().then(() => seen.push('idle after closing'));
    queue.close();
    await Promise.resolve();
    expect(seen).toEqual(['idle after b', 'idle after an error', 'idle after closing']);
  });
});
