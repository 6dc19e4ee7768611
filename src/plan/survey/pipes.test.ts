import { expect, test } from 'vitest';
import { readSurvey } from '../file.ts';

function depthsOf(length: string, ...pipes: Record<string, unknown>[]) {
  const result = readSurvey(
    JSON.stringify({
      format: 'survey',
      version: 1,
      units: { length },
      pipes: pipes.map((pipe, i) => ({ from: `A${i}`, to: `B${i}`, a: [0, i], b: [5, i], ...pipe })),
    }),
  );
  if (!result.ok) throw new Error(result.problem.what);
  const { plan, notices } = result.value;
  return { depths: [...plan.laterals].map(({ depthM }) => depthM), where: notices.map(({ where }) => where) };
}

test('the depth of a pipe is in the unit of length, or in the one that it names', () => {
  const { depths, where } = depthsOf(
    'ft',
    { depth: 1 },
    { depthIn: 12 },
    { depthCm: 30.48 },
    { depth: '12 in' },
    { depth: -1 },
    { depth: 'unknown' },
    {},
  );
  depths.slice(0, 5).forEach((depth) => expect(depth).toBeCloseTo(0.3048, 9));
  expect(depths.slice(5)).toEqual([null, null]);
  expect(where).toEqual([]);
});

test('a depth that cannot be is named and counts as not measured', () => {
  const { depths, where } = depthsOf('ft', { depth: 400 }, { depth: 'deep' }, { depth: true });
  expect(depths).toEqual([null, null, null]);
  expect(where).toEqual(['pipes[0].depth', 'pipes[1].depth', 'pipes[2].depth']);
});
