import { describe, expect, test } from 'vitest';
import type { Layer } from '../../src/drawing/index.ts';
import { emptyPlan } from '../../src/plan/empty.ts';
import {
  composeSheets,
  PAPERS,
  paperSize,
  SCALES,
  writePdf,
  type Orientation,
  type PaperId,
  type ScaleId,
} from '../../src/sheet/index.ts';
import { readPdf, testFonts, type DrawnPage } from './read-pdf.ts';

const FOOT_M = 0.3048;
const MM_PER_POINT = 25.4 / 72;
/** A colour that nothing else on a sheet has. */
const TEST_INK = '#ff00ff';

/** A line of a known length at an angle, east and north of the origin. */
function lineOf(lengthM: number, angleDeg = 0, ink: `#${string}` = TEST_INK): Layer[] {
  const turn = (angleDeg * Math.PI) / 180;
  const end = [100 + lengthM * Math.cos(turn), 50 + lengthM * Math.sin(turn)] as const;
  const mark = {
    kind: 'path',
    lines: [[[100, 50], end]],
    closed: false,
    pen: { ink, widthMm: 0.25 },
  } as const;
  return [{ name: 'tubing', marks: [mark] }];
}

async function printed(
  layers: Layer[],
  scale: ScaleId,
  paper: PaperId = 'tabloid',
  orientation: Orientation = 'landscape',
): Promise<DrawnPage[]> {
  const set = composeSheets({
    plan: emptyPlan('Scale test'),
    layers,
    results: null,
    legend: [],
    options: { paper, orientation, scale, units: 'us', date: '1 May 2026' },
  });
  return readPdf(await writePdf(set, testFonts(), new Map()));
}

function lengthMm(page: DrawnPage, ink = TEST_INK): number {
  const lines = page.paths.filter((path) => path.stroke === ink);
  expect(lines).toHaveLength(1);
  const [a, b] = lines[0]!.points;
  return Math.hypot(b![0] - a![0], b![1] - a![1]) * MM_PER_POINT;
}

describe('a line printed to scale', () => {
  test('10 ft at 1 in = 10 ft is one inch, and one foot 7.2 points', async () => {
    const [page] = await printed(lineOf(10 * FOOT_M), '1in=10ft');
    expect(lengthMm(page!)).toBeCloseTo(25.4, 3);
    expect(lengthMm(page!) / MM_PER_POINT / 10).toBeCloseTo(7.2, 3);
  });

  // Expected lengths by arithmetic: 10 ft = 120 in on the ground.
  test.each([
    ['1in=4ft', 63.5],
    ['1in=5ft', 50.8],
    ['1in=10ft', 25.4],
    ['1in=20ft', 12.7],
    ['1:25', 121.92],
    ['1:50', 60.96],
    ['1:100', 30.48],
    ['1:200', 15.24],
  ] as const)('10 ft at %s is %s mm, in any direction', async (scale, mm) => {
    const lines = [
      lineOf(10 * FOOT_M, 0, '#ff00ff'),
      lineOf(10 * FOOT_M, 37, '#ff00cc'),
      lineOf(10 * FOOT_M, 90, '#ff0099'),
    ];
    const [page] = await printed(lines.flat(), scale);
    for (const ink of ['#ff00ff', '#ff00cc', '#ff0099']) {
      expect(Math.abs(lengthMm(page!, ink) - mm)).toBeLessThan(0.01);
    }
  });

  test('the test covers every scale that can be chosen', () => {
    expect(SCALES).toHaveLength(8);
  });

  test('north is up: a line to the north rises on paper', async () => {
    const [page] = await printed(lineOf(10 * FOOT_M, 90), '1in=10ft');
    const [a, b] = page!.paths.find((path) => path.stroke === TEST_INK)!.points;
    expect(b![1] - a![1]).toBeCloseTo(72, 2);
    expect(b![0] - a![0]).toBeCloseTo(0, 2);
  });

  test('the drawing stands in the middle of its window', async () => {
    const [page] = await printed(lineOf(10 * FOOT_M), '1in=10ft', 'letter');
    const [a, b] = page!.paths.find((path) => path.stroke === TEST_INK)!.points;
    // Window of a letter sheet: 10 mm margins, 62 mm strip at the right, 15 mm band at the foot.
    const middleX = (10 + (279.4 - 20 - 62) / 2) / MM_PER_POINT;
    expect((a![0] + b![0]) / 2).toBeCloseTo(middleX, 2);
  });
});

describe('paper', () => {
  // Points by arithmetic from the sizes of ANSI and ISO 216 sheets.
  test.each([
    ['letter', 612, 792],
    ['tabloid', 792, 1224],
    ['24x36', 1728, 2592],
    ['a4', (210 / 25.4) * 72, (297 / 25.4) * 72],
    ['a3', (297 / 25.4) * 72, (420 / 25.4) * 72],
    ['a1', (594 / 25.4) * 72, (841 / 25.4) * 72],
  ] as const)('%s has its exact size both ways up', async (paper, w, h) => {
    const [portrait] = await printed(lineOf(1), '1:200', paper, 'portrait');
    expect(portrait!.widthPt).toBeCloseTo(w, 2);
    expect(portrait!.heightPt).toBeCloseTo(h, 2);
    const [landscape] = await printed(lineOf(1), '1:200', paper, 'landscape');
    expect(landscape!.widthPt).toBeCloseTo(h, 2);
    expect(landscape!.heightPt).toBeCloseTo(w, 2);
  });

  test('no letter and no line leaves the paper on any sheet', async () => {
    for (const { id } of PAPERS) {
      for (const orientation of ['portrait', 'landscape'] as const) {
        const [page] = await printed(lineOf(1), '1:200', id, orientation);
        const size = paperSize(
          PAPERS.find((paper) => paper.id === id)!,
          orientation,
        );
        expect(page!.widthPt * MM_PER_POINT).toBeCloseTo(size.widthMm, 2);
        for (const { x, y, width, text } of page!.texts) {
          expect(x, text).toBeGreaterThan(0);
          expect(x + width, text).toBeLessThan(page!.widthPt);
          expect(y, text).toBeGreaterThan(0);
        }
        for (const [x, y] of page!.paths.flatMap((path) => path.points)) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(page!.widthPt);
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(page!.heightPt);
        }
      }
    }
  });
});

describe('the bars under the drawing', () => {
  test('the check bar is 4 in long in US units and 100 mm in metric', async () => {
    for (const [units, mm] of [
      ['us', 101.6],
      ['metric', 100],
    ] as const) {
      const set = composeSheets({
        plan: emptyPlan('Bars'),
        layers: lineOf(1),
        results: null,
        legend: [],
        options: { paper: 'letter', orientation: 'portrait', scale: '1:100', units, date: '' },
      });
      const [page] = await readPdf(await writePdf(set, testFonts(), new Map()));
      const caption = page!.texts.find(({ text }) => text.startsWith('Measure this after printing'))!;
      expect(caption.text).toContain(units === 'us' ? '4 in' : '100 mm');
      const long = page!.paths.filter(({ points: [a, b], ...path }) => {
        const level = path.stroke !== TEST_INK && a && b && Math.abs(a[1] - b[1]) < 1e-3;
        return level && Math.abs(Math.abs(b[0] - a[0]) * MM_PER_POINT - mm) < 0.01;
      });
      expect(long).toHaveLength(1);
      const [a, b] = long[0]!.points;
      const middle = caption.x + caption.width / 2;
      expect(Math.abs((a![0] + b![0]) / 2 - middle)).toBeLessThan(1);
    }
  });

  test('the scale bar is true: its figures stand as far apart as the ground says', async () => {
    for (const scale of SCALES) {
      const [page] = await printed(lineOf(1), scale.id, 'letter', 'portrait');
      const end = page!.texts.find(({ text }) => /^[\d.]+ (ft|m)$/.test(text))!;
      const [, figure, unit] = /^([\d.]+) (ft|m)$/.exec(end.text)!;
      expect(unit).toBe(scale.units === 'us' ? 'ft' : 'm');
      const metres = Number(figure) * (unit === 'ft' ? FOOT_M : 1);
      const wanted = (metres * 1000) / scale.ratio;
      // The bar's boxes are the only closed paths of its height; take the outermost corners.
      const boxes = page!.paths.filter(({ points }) => {
        const ys = points.map(([, y]) => y);
        const height = (Math.max(...ys) - Math.min(...ys)) * MM_PER_POINT;
        return Math.abs(height - 1.6) < 0.01 && points.length === 4;
      });
      expect(boxes).toHaveLength(4);
      const xs = boxes.flatMap(({ points }) => points.map(([x]) => x));
      expect((Math.max(...xs) - Math.min(...xs)) * MM_PER_POINT).toBeCloseTo(wanted, 2);
    }
  });
});
