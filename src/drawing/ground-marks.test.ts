import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { FOOT_M } from '../base/units.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Fall, Level, Plan } from '../plan/records.ts';
import { contourDigits, contourInterval, contourLabels, contourMarks } from './contours.ts';
import { drawPlan } from './draw-plan.ts';
import { fallLabels, fallMarks } from './falls.ts';
import { legendOf } from './legend.ts';
import type { Mark, PathMark, SymbolMark, TextMark } from './marks.ts';
import { DEFAULT_SHOW, SHEET_SHOW, SUBJECTS } from './options.ts';
import { hexToLinear, linearToOklab } from './oklab.ts';
import { pick, pickInBox } from './pick.ts';
import { SLOPE_COLOURS, slopeLabels, slopeMarks } from './slope-classes.ts';

const levels = (...spots: readonly (readonly [number, number, number])[]): Table<Level> =>
  Table.of(spots.map(([x, y, zM], i) => ({ id: `L${i}`, at: [x, y] as Point, zM })));
const sloped = (contourM: number | null, more: Partial<Plan> = {}): Plan => ({
  ...emptyPlan(),
  site: { ...emptyPlan().site, contourM },
  levels: levels([0, 0, -0.5], [10, 0, 1.5], [0, 10, -0.5], [10, 10, 1.5]),
  ...more,
});
const bed = (outline: readonly Point[]) =>
  Table.of([{ id: 'A', use: 'bed' as const, name: 'A', outline, holes: [] }]);
const texts = (marks: readonly Mark[]) =>
  marks.filter((mark): mark is TextMark => mark.kind === 'text').map(({ text }) => text);

describe('contours on the drawing', () => {
  test('every fifth is bolder, and dashed beyond the levels', () => {
    const plan = sloped(0.1, {
      areas: bed([
        [8, 2],
        [14, 2],
        [14, 8],
        [8, 8],
      ]),
    });
    const paths = contourMarks(plan) as PathMark[];
    const widths = new Set(paths.map(({ pen }) => pen!.widthMm));
    expect(widths.size).toBe(2);
    const bold = Math.max(...widths);
    expect(paths.filter(({ pen }) => pen!.widthMm === bold && !pen!.dashMm).length).toBe(5);
    const dashed = paths.filter(({ pen }) => pen!.dashMm);
    expect(dashed.length).toBeGreaterThan(0);
    for (const { lines } of dashed) for (const [x] of lines.flat()) expect(x).toBeGreaterThanOrEqual(9.999);
  });
  test('heights in the unit of the drawing, as many digits as the interval needs, true minus', () => {
    expect(texts(contourLabels(sloped(0.5), 'metric'))).toEqual(['0.0', '0.5', '1.0', '1.5']);
    expect(texts(contourLabels(sloped(0.25), 'metric'))).toContain('\u22120.25');
    expect(texts(contourLabels(sloped(FOOT_M), 'us'))).toEqual(['\u22121', '0', '1', '2', '3', '4']);
    expect(contourLabels(sloped(null), 'us')).toEqual([]);
    expect([0.5, 0.25, 1, 0.1].map((m) => contourDigits(m, 'metric'))).toEqual([1, 2, 0, 1]);
    expect(contourInterval(FOOT_M / 4, 'us')).toBe('0.25 ft');
  });
  test('index heights are never dropped, the others may be', () => {
    const labels = contourLabels(sloped(0.1), 'metric') as TextMark[];
    expect(labels.filter(({ bold }) => bold).map(({ text, mayDrop }) => [text, mayDrop])).toEqual([
      ['0.0', false],
      ['0.5', false],
      ['1.0', false],
      ['1.5', false],
    ]);
    expect(labels.filter(({ bold }) => !bold).every(({ mayDrop }) => mayDrop)).toBe(true);
  });
  test('on sheets and screen, in the legend with their interval, only while they are drawn', () => {
    const plan = sloped(0.5);
    for (const show of [SHEET_SHOW, DEFAULT_SHOW]) {
      const layers = drawPlan(plan, null, {
        units: 'metric',
        show,
        colourRange: null,
        photoMetresPerPixel: 1,
      });
      expect(layers.find(({ name }) => name === 'ground')!.marks.some((mark) => mark.kind === 'path')).toBe(
        true,
      );
    }
    const words = (of: Plan) =>
      legendOf(null, 'metric', of)
        .map((entry) => entry.words)
        .join();
    expect(words(plan)).toMatch(/contour line every 0\.5 m/);
    expect(words(sloped(null))).not.toMatch(/contour/);
    expect(words(sloped(50, { levels: levels([0, 0, 1], [9, 0, 2]) }))).not.toMatch(/contour/);
  });
});

describe('slopes on the drawing', () => {
  test('tints go from light to dark, are asked for, and carry their percent', () => {
    const light = SLOPE_COLOURS.map((colour) => linearToOklab(hexToLinear(colour)).lightness);
    for (let i = 1; i < light.length; i++) expect(light[i - 1]! - light[i]!).toBeGreaterThan(0.05);
    expect(DEFAULT_SHOW.has('slopes')).toBe(false);
    expect(SHEET_SHOW.has('slopes')).toBe(false);
    expect(SUBJECTS).toContain('slopes');
    const plan = sloped(null, {
      areas: bed([
        [2, 2],
        [8, 2],
        [8, 8],
        [2, 8],
      ]),
    });
    expect(new Set((slopeMarks(plan) as PathMark[]).map(({ fill }) => fill))).toEqual(
      new Set([SLOPE_COLOURS[4]]),
    );
    expect(texts(slopeLabels(plan))).toEqual(['20.0%']);
  });
});

describe('falls on the drawing', () => {
  const fall = (id: string, by: Fall['by']): Fall => ({ id, from: [0, 0], to: [4, 0], by });
  const heads = (by: Fall['by']) =>
    fallMarks(Table.of([fall('S1', by)])).filter((mark): mark is SymbolMark => mark.kind === 'symbol');
  test('the arrow points downhill, whichever way it was drawn; without a fall it has no head', () => {
    expect(heads({ kind: 'drop', dropM: 0.4 })[0]).toMatchObject({ at: [4, 0], turnDeg: -90 });
    expect(heads({ kind: 'slope', percent: -3 })[0]).toMatchObject({ at: [0, 0], turnDeg: 90 });
    expect(heads({ kind: 'drop', dropM: 0 })).toEqual([]);
  });
  test('its figure stands along it as measured', () => {
    const table = Table.of([
      fall('S1', { kind: 'drop', dropM: -0.4 }),
      fall('S2', { kind: 'slope', percent: 8 }),
    ]);
    expect(texts(fallLabels(table, 'metric'))).toEqual(['0.40 m', '8.0%']);
  });
  test('is picked on its line and in a box, and explained', () => {
    const plan: Plan = { ...emptyPlan(), falls: Table.of([fall('S1', { kind: 'drop', dropM: 1 })]) };
    expect(pick(plan, [2, 0.05], 0.1)).toEqual([{ table: 'falls', id: 'S1' }]);
    expect(pick(plan, [2, 0.2], 0.1)).toEqual([]);
    expect(pickInBox(plan, { minX: -1, minY: -1, maxX: 5, maxY: 1 })).toEqual([{ table: 'falls', id: 'S1' }]);
    expect(pickInBox(plan, { minX: -1, minY: -1, maxX: 3, maxY: 1 })).toEqual([]);
    expect(legendOf(null, 'us', plan).map(({ words }) => words)).toContain('measured fall, points downhill');
  });
});
