import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readPlan, readSurvey, writePlan } from './file.ts';

const text = readFileSync(new URL('../../tests/fixtures/survey-small.json', import.meta.url), 'utf8');

/** Places inside of a value: the keys on the way to every part of it. */
function waysInto(value: unknown, way: readonly string[] = []): (readonly string[])[] {
  if (typeof value !== 'object' || value === null) return [way];
  return [way, ...Object.entries(value).flatMap(([key, part]) => waysInto(part, [...way, key]))];
}
const WAYS = waysInto(JSON.parse(text)).filter(
  ([part]) => part !== undefined && !['format', 'version', 'units'].includes(part),
);

function damaged(way: readonly string[], junk: unknown): Record<string, unknown> {
  const survey = JSON.parse(text) as Record<string, unknown>;
  let inner = survey;
  for (const key of way.slice(0, -1)) inner = inner[key] as Record<string, unknown>;
  inner[way.at(-1)!] = junk;
  return survey;
}

const junk = fc.oneof(
  fc.jsonValue({ maxDepth: 2 }),
  fc.constantFrom(
    null,
    '',
    'unknown',
    -1,
    1e300,
    '1/0',
    [],
    {},
    [[]],
    [{}],
    [null],
    { x: 'a' },
    { __proto__: null },
  ),
);

test('no damage at any place of a survey stops the rest, and what is read can be saved and read again', () => {
  fc.assert(
    fc.property(fc.constantFrom(...WAYS), junk, (way, value) => {
      const read = readSurvey(JSON.stringify(damaged(way, value)));
      if (!read.ok) throw new Error(`${read.problem.where}: ${read.problem.what}`);
      const { plan, notices } = read.value;
      const again = readPlan(writePlan(plan, null));
      if (!again.ok) throw new Error(again.problem.what);
      expect(again.value.notices).toEqual([]);
      for (const notice of notices) expect(notice.where && notice.what && notice.todo).toBeTruthy();
      // One damaged place touches one table; the others stay whole.
      const whole = [
        plan.heads.size === 4,
        plan.laterals.size === 3,
        plan.plants.size === 2,
        plan.areas.size === 3,
      ];
      expect(whole.filter((is) => !is).length).toBeLessThanOrEqual(1);
    }),
    { seed: 20_260_103, numRuns: 1500 },
  );
});
