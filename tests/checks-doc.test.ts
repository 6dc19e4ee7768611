import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { RULES } from '../src/derive/checks/index.ts';

const text = readFileSync(path.resolve(import.meta.dirname, '../docs/checks.md'), 'utf8');
/** Cells of the rows of both tables by the names that a rule says. */
const rows = text
  .split('\n')
  .filter((line) => /^\| .*`/.test(line))
  .map((line) => line.split('|').slice(1, -1));

test.each(RULES)('docs/checks.md has $title', ({ number, says, limits, severity }) => {
  const row = rows.find((cells) => cells.some((cell) => cell.includes(`\`${says[0]}\``)))!;
  expect(row, `a row with ${says[0]}`).toBeDefined();
  const whole = row.join('|');
  for (const word of says) expect(whole).toContain(`\`${word}\``);
  if (number !== null) expect(row[0]!.trim()).toBe(String(number));
  expect(row[number === null ? 1 : 2]!.trim()).toBe(severity);
  // Keys of one rule share their head, which is written once.
  for (const { key } of limits) {
    const [head, tail] = [key.slice(0, key.indexOf('.')), key.slice(key.indexOf('.'))];
    expect(whole).toContain(head);
    expect(whole).toContain(tail);
  }
});
