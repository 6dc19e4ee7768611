import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { crossSection } from '../../derive/index.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { CHART, sectionChart, ticks } from './section-chart.ts';

const sectionOver = (spots: readonly (readonly [number, number, number])[], to: number, from = 0) =>
  crossSection(
    {
      ...emptyPlan(),
      levels: Table.of(spots.map(([x, y, zM], i) => ({ id: `L${i}`, at: [x, y] as Point, zM }))),
    },
    [
      [from, 5],
      [to, 5],
    ],
  )!;
const ramp = (rise: number) =>
  [
    [0, 0, 0],
    [20, 0, rise],
    [0, 10, 0],
    [20, 10, rise],
  ] as const;

describe('the chart of a cross-section', () => {
  test('fits its room, heights magnified by a round figure that is told', () => {
    for (const rise of [0.05, 0.4, 1.6, 5, 19, 80]) {
      const section = sectionOver(ramp(rise), 20);
      const chart = sectionChart(section, 'us');
      const [a, b] = [section.places[0]!, section.places.at(-1)!];
      const wide = chart.x(b.alongM) - chart.x(a.alongM);
      const high = chart.y(a.zM) - chart.y(b.zM);
      expect(wide).toBeLessThanOrEqual(CHART.width - CHART.left - CHART.right + 1e-6);
      expect(high).toBeLessThanOrEqual(CHART.mostHigh + 1e-6);
      // The slope on the chart is the true one times the figure.
      expect(high / wide).toBeCloseTo((rise / 20) * chart.times, 6);
      expect(Math.min(chart.y(b.zM), chart.y(a.zM))).toBeGreaterThanOrEqual(CHART.top - 1e-6);
      expect(Math.max(chart.y(b.zM), chart.y(a.zM))).toBeLessThanOrEqual(chart.height - CHART.bottom + 1e-6);
    }
  });
  test('level ground is a line in the middle, at one scale', () => {
    const chart = sectionChart(sectionOver(ramp(0), 20), 'metric');
    expect(chart.times).toBe(1);
    expect(chart.yTicks).toHaveLength(1);
    expect(chart.height).toBeGreaterThan(CHART.top + CHART.bottom);
  });
  test('ground beyond the levels is a piece of its own, and the line has no gap', () => {
    const chart = sectionChart(sectionOver(ramp(2), 30, -5), 'metric');
    expect(chart.pieces.map(({ outside }) => outside)).toEqual([true, false, true]);
    for (let i = 1; i < chart.pieces.length; i++) {
      const end = chart.pieces[i - 1]!.points.at(-1)!;
      const start = chart.pieces[i]!.points[0]!;
      expect(Math.hypot(start[0] - end[0], start[1] - end[1])).toBeLessThan(1e-6);
    }
  });
});

describe('figures along the axes', () => {
  test('are round in the shown unit and lie within', () => {
    expect(ticks(0, 10, 'metric').map(({ label }) => label)).toEqual(['0', '5', '10']);
    expect(ticks(-0.3, 0.31, 'metric').map(({ label }) => label)).toEqual(['\u22120.2', '0.0', '0.2']);
    const feet = ticks(0, 6.1, 'us');
    expect(feet.map(({ label }) => label)).toEqual(['0', '5', '10', '15', '20']);
    expect(feet[1]!.value).toBeCloseTo(5 * 0.3048, 9);
    expect(ticks(2, 2, 'metric').map(({ label }) => label)).toEqual(['2.0']);
  });
});
