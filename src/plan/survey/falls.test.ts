import { describe, expect, test } from 'vitest';
import { readSurvey, writePlan, readPlan, type SurveyFile } from '../file.ts';

function read(falls: unknown, length = 'ft'): SurveyFile {
  const units = { length, flow: 'gpm', pressure: 'psi' };
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units, falls }));
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}

describe('falls of a survey', () => {
  test('as a drop in the unit of the file, or in percent; named or numbered', () => {
    const { plan, notices } = read([
      { id: 'walk', from: [0, 0], to: [10, 0], drop: 1 },
      { from: [10, 0], to: { x: 10, y: 20 }, percent: -4 },
      { from: [0, 0], to: [0, 10], dropIn: 6 },
      { from: [0, 0], to: [9, 9], slope: '8 %' },
    ]);
    expect(notices).toEqual([]);
    const falls = plan.falls.toArray();
    expect(falls.map(({ id }) => id)).toEqual(['walk', 'S2', 'S3', 'S4']);
    expect(falls[0]).toMatchObject({ from: [0, 0], by: { kind: 'drop', dropM: expect.closeTo(0.3048, 9) } });
    expect(falls[0]!.to[0]).toBeCloseTo(3.048, 9);
    expect(falls[1]!.by).toEqual({ kind: 'slope', percent: -4 });
    expect(falls[2]!.by).toEqual({ kind: 'drop', dropM: expect.closeTo(0.1524, 9) });
    expect(falls[3]!.by).toEqual({ kind: 'slope', percent: 8 });
    expect(readPlan(writePlan(plan, null))).toMatchObject({ ok: true, value: { notices: [] } });
  });
  test('what says nothing is left out with its place, the rest goes on', () => {
    const { plan, notices } = read(
      [
        { from: [0, 0], to: [10, 0] },
        { from: [0, 0], to: [0.01, 0], drop: 1 },
        { from: [0, 0], to: 'the corner', drop: 1 },
        { from: [0, 0], to: [5, 0], drop: 'unknown', percent: '?' },
        { from: [0, 0], to: [5, 0], drop: 'steep' },
        { from: [0, 0], to: [5, 0], percent: 4000 },
        7,
        { from: [0, 0], to: [5, 0], drop: 0.25, colour: 'red' },
      ],
      'm',
    );
    expect(plan.falls.toArray().map(({ by }) => by)).toEqual([{ kind: 'drop', dropM: 0.25 }]);
    expect(notices.map(({ where }) => where.replace(/\..*/, ''))).toEqual(
      expect.arrayContaining([0, 1, 2, 3, 4, 5, 6, 7].map((i) => `falls[${i}]`)),
    );
  });
  test('where drop and percent disagree the drop counts, and that is said', () => {
    const told = read([{ from: [0, 0], to: [10, 0], drop: 1, percent: 8 }], 'm');
    expect(told.plan.falls.toArray()[0]!.by).toEqual({ kind: 'drop', dropM: 1 });
    expect(told.notices).toEqual([expect.objectContaining({ where: 'falls[0]' })]);
    expect(read([{ from: [0, 0], to: [10, 0], drop: 1, percent: 10 }], 'm').notices).toEqual([]);
  });
  test('none, and what is no list', () => {
    expect(read(undefined).plan.falls.size).toBe(0);
    expect(read('steep').notices).toEqual([expect.objectContaining({ where: 'falls' })]);
  });
});
