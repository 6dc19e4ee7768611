import { describe, expect, test } from 'vitest';
import { createEditor } from '../editor/index.ts';
import { add, changePart } from '../plan/edits/index.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Notice, Studies, StudyOrder } from '../derive/index.ts';
import { studyWhatIsShown } from './live-study.ts';
import type { StudyEvents } from './study-queue.ts';

const level = (zM: number) => add('Add level', 'levels', { at: [0, 0], zM });
const studiesNamed = (name: string) =>
  ({ results: { notices: [{ rule: `solver ${name}` }], outlets: [], name } }) as unknown as Studies;
const found = (name: string) => [{ rule: name }] as unknown as readonly Notice[];

/** An editor with a study that answers when it is told to. */
function bench() {
  const editor = createEditor();
  const orders: StudyOrder[] = [];
  const frames: (() => void)[] = [];
  let events!: StudyEvents;
  let finish: (() => void)[] = [];
  const live = studyWhatIsShown(
    editor,
    (given) => {
      events = given;
      return {
        request: (order) => void orders.push(order),
        get busy() {
          return finish.length > 0;
        },
        idle: () => new Promise((resolve) => finish.push(resolve)),
        close: () => undefined,
      };
    },
    (call) => void frames.push(call),
  );
  return {
    editor,
    orders,
    live,
    frame: () => frames.splice(0).forEach((call) => call()),
    results: (order: StudyOrder, name: string) => events.onStudies(order, studiesNamed(name)),
    notices: (order: StudyOrder, name: string) => events.onNotices(order, studiesNamed(name), found(name)),
    problem: (what: string) => events.onProblem?.({ where: 'x', what, todo: 'Undo.' }),
    finish: () => {
      finish.forEach((resolve) => resolve());
      finish = [];
    },
    answer: () => {
      const { answer } = editor.store.getState();
      return answer && [(answer.results as unknown as { name: string }).name, answer.checked];
    },
    rules: () => editor.store.getState().answer?.notices.map(({ rule }) => rule),
  };
}

describe('the study of what is shown', () => {
  test('is asked for once a frame, with the newest plan', () => {
    const { editor, orders, frame } = bench();
    expect(orders).toHaveLength(1);
    editor.commit(level(1));
    editor.commit(level(2));
    expect(orders).toHaveLength(1);
    frame();
    expect(orders).toHaveLength(2);
    expect(orders[1]!.plan).toBe(editor.store.getState().history.plan);
    editor.setCamera({ ...editor.store.getState().camera, pixelsPerMetre: 9 });
    frame();
    expect(orders).toHaveLength(2);
  });

  test('is asked for again in other units, in another situation, by another law', () => {
    const { editor, orders, frame } = bench();
    editor.setUnits('metric');
    frame();
    editor.setScenario({ kind: 'static' });
    frame();
    editor.setFriction('hazen-williams');
    frame();
    expect(orders.slice(1).map(({ units, scenario, friction }) => [units, scenario.kind, friction])).toEqual([
      ['metric', 'running', 'darcy-weisbach'],
      ['metric', 'static', 'darcy-weisbach'],
      ['metric', 'static', 'hazen-williams'],
    ]);
  });

  test('results show first; until the checks are done the findings shown before stay', () => {
    const { editor, orders, frame, results, notices, answer, rules } = bench();
    results(orders[0]!, 'a');
    notices(orders[0]!, 'a');
    expect(answer()).toEqual(['a', true]);
    expect(rules()).toEqual(['solver a', 'a']);
    editor.commit(level(1));
    frame();
    results(orders[1]!, 'b');
    expect(answer()).toEqual(['b', false]);
    expect(rules()).toEqual(['solver a', 'a']);
    notices(orders[1]!, 'b');
    expect(rules()).toEqual(['solver b', 'b']);
  });

  test('while a gesture lasts the answer to an earlier corner shows, after it was dropped it does not', () => {
    const { editor, orders, frame, results, answer } = bench();
    results(orders[0]!, 'kept');
    editor.preview(level(1));
    frame();
    editor.preview(level(2));
    frame();
    expect(orders).toHaveLength(3);
    results(orders[1]!, 'corner 1');
    expect(answer()).toEqual(['corner 1', false]);
    editor.preview(null);
    results(orders[2]!, 'corner 2');
    expect(answer()).toEqual(['corner 1', false]);
    frame();
    results(orders[3]!, 'kept again');
    expect(answer()).toEqual(['kept again', false]);
  });

  test('the answer to an earlier step shows, that to an undone one does not', () => {
    const { editor, orders, frame, results, answer } = bench();
    editor.commit(level(1));
    frame();
    editor.commit(level(2));
    results(orders[1]!, 'first step');
    expect(answer()).toEqual(['first step', false]);
    frame();
    editor.undo();
    results(orders[2]!, 'second step');
    expect(answer()).toEqual(['first step', false]);
  });

  test('the answer to a plan that another has taken the place of never shows', () => {
    const { editor, orders, frame, results, answer } = bench();
    editor.commit(level(1));
    frame();
    editor.open(emptyPlan('another'));
    results(orders[1]!, 'before');
    expect(answer()).toBeNull();
    frame();
    expect(orders.at(-1)!.plan.site.name).toBe('another');
    results(orders.at(-1)!, 'another');
    expect(answer()).toEqual(['another', false]);
    editor.undo();
    editor.redo();
    expect(answer()).toEqual(['another', false]);
  });

  test('an answer in another situation than is looked at does not show', () => {
    const { editor, orders, results, answer } = bench();
    editor.setScenario({ kind: 'static' });
    results(orders[0]!, 'running');
    expect(answer()).toBeNull();
  });

  test('is settled when the plan as it is now was studied, also before the next frame', async () => {
    const { editor, orders, live, finish } = bench();
    editor.commit(changePart('Name', 'site', { name: 'x' }));
    let settled = false;
    const waiting = live.settled().then(() => (settled = true));
    expect(orders.at(-1)!.plan.site.name).toBe('x');
    await Promise.resolve();
    expect(settled).toBe(false);
    finish();
    await waiting;
  });

  test('a problem is said', () => {
    const { editor, problem } = bench();
    problem('It stopped.');
    expect(editor.store.getState().saying).toMatchObject({ text: 'It stopped. Undo.', tone: 'error' });
  });
});
