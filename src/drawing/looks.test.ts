import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import type { OutletResult, OutletState } from '../derive/results.ts';
import { SECTOR_PEN } from './existing.ts';
import { levelLabels } from './levels.ts';
import { symbolSizeMm } from './marks.ts';
import { LEAST_SPAN_KPA, plainSymbol, pressureRangeOf } from './outlets.ts';
import { CANOPY_MATURE, CANOPY_NOW } from './plants.ts';
import { BLANK_PEN, FEEDER_PEN, INLINE_PEN } from './tubing.ts';

describe('lines in black and white', () => {
  test('blank tubing, dripline and feeders differ by width and dash in one ink', () => {
    expect(new Set([BLANK_PEN, INLINE_PEN, FEEDER_PEN].map(({ ink }) => ink)).size).toBe(1);
    expect(BLANK_PEN.widthMm / INLINE_PEN.widthMm).toBeGreaterThanOrEqual(2);
    expect(INLINE_PEN.widthMm / FEEDER_PEN.widthMm).toBeGreaterThan(1.3);
    expect([BLANK_PEN.dashMm, INLINE_PEN.dashMm]).toEqual([undefined, undefined]);
    // A feeder of one foot shows a gap even at 1 in = 20 ft.
    const [dash, gap] = FEEDER_PEN.dashMm!;
    expect(dash! + gap!).toBeLessThan(304.8 / 240);
  });

  test('canopy now is solid, mature dashed, the ground that a head wets dotted', () => {
    expect(CANOPY_NOW.dashMm).toBeUndefined();
    expect(CANOPY_MATURE.dashMm![0]).toBeGreaterThan(5 * CANOPY_MATURE.widthMm);
    expect(SECTOR_PEN.dashMm![0]).toBeLessThanOrEqual(SECTOR_PEN.widthMm);
    expect([CANOPY_MATURE.ink, SECTOR_PEN.ink]).toEqual(['plant', 'old']);
  });
});

test('heights are dark letters with a light rim', () => {
  const [mark] = levelLabels(Table.of([{ id: 'l', at: [0, 0] as const, zM: 1.5 }]), 'metric');
  expect(mark).toMatchObject({ kind: 'text', text: '1.50 m', ink: 'line', halo: 'paper' });
});

describe('outlets at small scales', () => {
  test.each(['runs', 'emitters'] as const)('%s: smaller than at 1:50, but never a speck', (table) => {
    const symbol = plainSymbol(table);
    expect(symbolSizeMm(symbol, 20)).toBe(symbol.sizeMm);
    const small = symbolSizeMm(symbol, 1000 / 240);
    expect(small).toBeLessThan(0.7 * symbol.sizeMm);
    expect(symbolSizeMm(symbol, 0.1)).toBeGreaterThanOrEqual(0.6 * symbol.sizeMm);
  });

  test('built-in emitters a foot apart stay apart at 1 in = 20 ft', () => {
    expect(symbolSizeMm(plainSymbol('runs'), 1000 / 240)).toBeLessThan(304.8 / 240 / 1.5);
  });

  test('other symbols keep their size', () => {
    expect(symbolSizeMm({ sizeMm: 4 }, 0.1)).toBe(4);
  });
});

describe('range of the pressure colours', () => {
  const outlets = (...kPa: number[]): OutletResult[] =>
    kPa.map((pressureKpa) => ({ pressureKpa, state: 'good' as OutletState }) as OutletResult);

  test('a narrow one is widened about its middle to 5 psi', () => {
    expect(pressureRangeOf(outlets(170, 172))).toEqual({
      minKpa: 171 - LEAST_SPAN_KPA / 2,
      maxKpa: 171 + LEAST_SPAN_KPA / 2,
    });
    expect(LEAST_SPAN_KPA / 6.894757).toBeCloseTo(5, 2);
  });

  test('never below zero', () => {
    expect(pressureRangeOf(outlets(4, 6))).toEqual({ minKpa: 0, maxKpa: LEAST_SPAN_KPA });
  });

  test('a wide one is left alone', () => {
    expect(pressureRangeOf(outlets(100, 140))).toEqual({ minKpa: 100, maxKpa: 140 });
    expect(pressureRangeOf([])).toBeNull();
  });
});
