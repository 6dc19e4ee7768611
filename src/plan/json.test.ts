import { describe, expect, test } from 'vitest';
import { parseJson } from './json.ts';

function problemOf(text: string): { where: string; what: string } {
  const parsed = parseJson(text);
  if (parsed.ok) throw new Error('parsed');
  return parsed.problem;
}

describe('parseJson', () => {
  test('reads JSON, also behind a byte order mark', () => {
    expect(parseJson('{"a": [1, "\\u00e9", null]}')).toEqual({ ok: true, value: { a: [1, '\u00e9', null] } });
    expect(parseJson('\uFEFF[]')).toEqual({ ok: true, value: [] });
  });

  test.each([
    ['{\n "a": 1,\n "b": 2,\n}', 'line 4, column 1', /field name .* where \} stands/],
    ['{"a": 1 "b": 2}', 'line 1, column 9', /comma .* missing before "b"/],
    ['{"a" 1}', 'line 1, column 6', /colon is missing before 1/],
    ['[1, 2,]', 'line 1, column 7', /value is missing before \]/],
    ['[1, 2\n', 'line 2, column 1', /ends before/],
    ['{"a": NaN}', 'line 1, column 7', /NaN is neither/],
    ["{'a': 1}", 'line 1, column 2', /'a' is neither/],
    ['[01]', 'line 1, column 2', /01 is neither/],
    ['["a\nb"]', 'line 1, column 4', /not closed on its line/],
    ['["a\\x"]', 'line 1, column 4', /backslash/],
    ['["a', 'line 1, column 2', /not closed/],
    ['{} {}', 'line 1, column 4', /more text after the end/],
    ['[1}', 'line 1, column 3', /comma or a closing bracket/],
    ['', 'file', /empty/],
    ['hello', 'line 1, column 1', /hello is neither/],
  ])('tells where %j stops being JSON', (text, where, what) => {
    const problem = problemOf(text);
    expect(problem.where).toBe(where);
    expect(problem.what).toMatch(what);
  });

  test('finds a fault behind megabytes of picture', () => {
    const text = `{"picture": "${'QUJD'.repeat(2_000_000)}",\n "a": }`;
    expect(problemOf(text).where).toBe('line 2, column 7');
  });

  test('refuses absurd nesting without running out of stack', () => {
    expect(problemOf('['.repeat(1_000_000)).what).toMatch(/nested/);
    expect(parseJson(`"${'['.repeat(1000)}"`).ok).toBe(true);
  });
});
