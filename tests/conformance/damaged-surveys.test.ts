import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { BAD_FILE, runStudy, STUDIED } from '../../src/app/study-command.ts';

/**
 * Surveys with parts missing or wrong, studied as a person would: never a crash, never a figure that is none, and
 * what is wrong is named with its place. Sources are the project's own fixture and the sibling folder ../shared/sites.
 */

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const SURVEYS = [
  'tests/fixtures/survey-small.json',
  'tests/fixtures/survey-tree.json',
  '../shared/sites/site-1.json',
  '../shared/sites/site-3.json',
  '../shared/sites/site-6.json',
]
  .map((name) => path.join(root, name))
  .filter(existsSync);

type Json = Record<string, unknown>;
const read = (file: string): Json => JSON.parse(readFileSync(file, 'utf8')) as Json;

function study(survey: unknown, ...args: string[]) {
  let out = '';
  let error = '';
  const code = runStudy(['damaged.json', ...args], {
    read: () => JSON.stringify(survey),
    out: (text) => (out += text),
    error: (text) => (error += text),
  });
  return { code, out, error };
}

/** Studies a damaged survey; gives its figures, or null where the file was refused with a place and a way out. */
function soundly(survey: unknown): Json | null {
  const { code, out, error } = study(survey, '--json');
  if (code === BAD_FILE) {
    expect(out).toBe('');
    expect(error).toMatch(/^damaged\.json could not be used\.\n\S+: .+\. .+\n$/s);
    return null;
  }
  expect(code).toBe(STUDIED);
  expect(out).not.toMatch(/\b(?:NaN|undefined|Infinity)\b/);
  const figures = JSON.parse(out) as Json;
  expect(['convert', 'split', 'leave']).toContain((figures['verdict'] as Json)['outcome']);
  return figures;
}

/** The same value with every number turned into a text that is none, every `nth` or all. */
function withWords(value: unknown, nth = 1): unknown {
  let count = 0;
  const walk = (part: unknown): unknown => {
    if (typeof part === 'number') return count++ % nth === 0 ? 'twelve-ish' : part;
    if (Array.isArray(part)) return part.map(walk);
    if (typeof part !== 'object' || part === null) return part;
    return Object.fromEntries(Object.entries(part).map(([key, inner]) => [key, walk(inner)]));
  };
  return walk(value);
}

describe.each(SURVEYS.map((file) => [path.basename(file), file]))('%s', (_name, file) => {
  const survey = read(file);
  const parts = Object.keys(survey).filter((key) => !['format', 'version'].includes(key));

  test.each(parts)('without %s', (part) => {
    const { [part]: _gone, ...rest } = survey;
    const figures = soundly(rest);
    expect(figures === null).toBe(part === 'units');
    const { out } = study(rest);
    expect(out).not.toMatch(/\b(?:NaN|undefined|Infinity)\b/);
  });

  test.each(parts)('%s as null, a text, a number, an empty list and an empty object', (part) => {
    // The large site takes its time, and its parts are of the same kind.
    const values = file.includes('site-6') ? ['none of it', {}] : [null, 'none of it', 7, [], {}];
    // No part that is broken keeps the rest from being studied, but for the units.
    for (const value of values) {
      expect(soundly({ ...survey, [part]: value }) === null, JSON.stringify(value)).toBe(part === 'units');
    }
  });

  test.each(['soil', 'supply', 'heads', 'pipes', 'levels', 'beds', 'plants'])(
    '%s with words where numbers belong',
    (part) => {
      for (const nth of file.includes('site-6') ? [7] : [1, 7]) {
        const figures = soundly({ ...survey, [part]: withWords(survey[part], nth) });
        if (survey[part] === undefined) continue;
        expect(JSON.stringify(figures!['reading'])).toContain('twelve-ish');
      }
    },
  );

  test('fields and parts that nobody knows are named and do not matter', () => {
    const { file: _a, reading: _b, ...usual } = soundly(survey)!;
    const strange = soundly({
      ...survey,
      gnomes: [{ x: 1, y: 2 }],
      heads: (survey['heads'] as Json[]).map((head, i) => (i === 0 ? { ...head, serial: 'none' } : head)),
    })!;
    const { file: _c, reading, ...rest } = strange;
    expect(rest).toEqual(usual);
    expect(JSON.stringify(reading)).toContain('gnomes');
  });
});

test('a survey with nothing in it but its units is studied, and what is missing to decide is said', () => {
  const figures = soundly({ format: 'survey', version: 1, units: { length: 'ft' } })!;
  const verdict = figures['verdict'] as { outcome: string; missing: string[] };
  expect(verdict.missing.length).toBeGreaterThan(0);
  expect(figures['tieIns']).toEqual([]);
});
