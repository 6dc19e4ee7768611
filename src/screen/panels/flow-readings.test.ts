import { describe, expect, test } from 'vitest';
import { readTime, readVolume } from './flow-readings.ts';

const value = (read: ReturnType<typeof readTime>) => (read.ok ? read.value : read.problem.what);

describe('time', () => {
  test.each([
    ['40', 1, 40],
    ['2.5', 60, 150],
    ['1:20', 1, 80],
    ['2:30', 60, 150],
    ['3 min', 1, 180],
    ['90 s', 60, 90],
    ['12,5', 1, 12.5],
  ] as const)('%s', (text, bare, seconds) => {
    expect(value(readTime(text, bare))).toBeCloseTo(seconds, 9);
  });
  test.each(['', 'soon', '1:75', '-4', ':30'])('%j is told, not guessed', (text) => {
    expect(readTime(text, 1).ok).toBe(false);
  });
});

describe('volume', () => {
  test('a bare number in the unit of the dial, else its own', () => {
    expect(value(readVolume('5', 'gal'))).toBeCloseTo(18.927, 3);
    expect(value(readVolume('12,5', 'ft3'))).toBeCloseTo(353.96, 2);
    expect(value(readVolume('2', 'm3'))).toBeCloseTo(2000, 9);
    expect(value(readVolume('10 L', 'gal'))).toBeCloseTo(10, 9);
  });
  test.each(['', '-3', 'full', '5 psi'])('%j is told', (text) => {
    expect(readVolume(text, 'gal').ok).toBe(false);
  });
});
