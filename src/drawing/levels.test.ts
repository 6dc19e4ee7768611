import { expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { LEVEL_SYMBOL, levelLabels } from './levels.ts';
import type { TextMark } from './marks.ts';

const labelsOf = (zM: number, units: 'us' | 'metric'): TextMark[] =>
  levelLabels(Table.of([{ id: 'L1', at: [0, 0], zM }]), units) as TextMark[];

test('heights below the datum carry a true minus, others no sign', () => {
  expect(labelsOf(-0.0889, 'us')[0]!.text).toBe('\u22123 1/2"');
  expect(labelsOf(-0.25, 'metric')[0]!.text).toMatch(/^\u22120\.25/);
  expect(labelsOf(0.0889, 'us')[0]!.text).toBe('3 1/2"');
});

test('figures stand clear of their height mark', () => {
  const clearMm = labelsOf(-1, 'us')[0]!.shiftMm![0] - LEVEL_SYMBOL.sizeMm / 2;
  expect(clearMm).toBeGreaterThan(0.5);
});
