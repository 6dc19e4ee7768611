import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import type { PhotoMeasure, SitePhoto } from '../plan/records.ts';
import { fitPhoto, photoToPlan, planToPhoto } from './photo-fit.ts';

const photo = (...measures: PhotoMeasure[]): SitePhoto => ({
  pictureId: 'p',
  name: 'site',
  widthPx: 2000,
  heightPx: 1500,
  corner: [0, 15],
  turnDeg: 0,
  assumedWidthM: 40,
  measures,
  strength: 1,
  rectification: null,
});
const line = (a: Point, b: Point, lengthM: number, role: PhotoMeasure['role'] = 'fit'): PhotoMeasure => ({
  a,
  b,
  lengthM,
  role,
});
const rules = (p: SitePhoto): string[] => fitPhoto(p).warnings.map((warning) => warning.rule);

describe('scale of the photo', () => {
  test('until a line is measured the assumed width holds, and it is said', () => {
    const fit = fitPhoto(photo());
    expect(fit.metresPerPixel).toBe(0.02);
    expect(fit.scaled).toBe(false);
    expect(rules(photo())).toEqual(['photo-not-scaled']);
  });
  test('one line fixes the scale exactly', () => {
    const fit = fitPhoto(photo(line([100, 100], [1100, 100], 10)));
    expect(fit.metresPerPixel).toBeCloseTo(0.01, 12);
    expect(fit.worstPercent).toBeCloseTo(0, 9);
  });
  test('two lines that disagree share the relative error', () => {
    // 1000 px for 10 m and 1000 px for 10.2 m: best s makes both errors alike, about 1 % each way.
    const fit = fitPhoto(photo(line([0, 0], [1000, 0], 10), line([0, 0], [0, 1000], 10.2)));
    const [a, b] = fit.lines;
    expect(a!.residualPercent).toBeGreaterThan(0.9);
    expect(b!.residualPercent).toBeLessThan(-0.9);
    const nearby = (s: number): number => (1000 * s - 10) ** 2 / 100 + (1000 * s - 10.2) ** 2 / 10.2 ** 2;
    for (const ds of [-1e-6, 1e-6]) {
      expect(nearby(fit.metresPerPixel)).toBeLessThan(nearby(fit.metresPerPixel + ds));
    }
    expect(fit.warnings).toEqual([]);
  });
  test('the check line is held against the fit but takes no part in it', () => {
    const p = photo(
      line([0, 0], [1000, 0], 10),
      line([0, 0], [0, 1000], 10),
      line([0, 0], [500, 500], 7.5, 'check'),
    );
    const fit = fitPhoto(p);
    expect(fit.metresPerPixel).toBeCloseTo(0.01, 12);
    expect(fit.lines[2]!.residualM).toBeCloseTo(Math.SQRT2 * 5 - 7.5, 9);
    expect(fit.worstPercent).toBeCloseTo(100 * (1 - (Math.SQRT2 * 5) / 7.5), 9);
    expect(fit.worstM).toBeCloseTo(7.5 - Math.SQRT2 * 5, 9);
    expect(rules(p)).toEqual(['photo-residual']);
  });
  test('lines of one direction cannot show a stretch', () => {
    expect(rules(photo(line([0, 0], [1000, 0], 10), line([0, 90], [900, 480], 9.81)))).toEqual([
      'photo-stretch-unseen',
    ]);
    expect(rules(photo(line([0, 0], [1000, 0], 10), line([500, 0], [500 - 700, 700], 9.9)))).toEqual([]);
  });
  test('lines without length are named and left out', () => {
    const p = photo(
      line([5, 5], [5, 5], 3),
      line([0, 0], [1000, 0], 0),
      line([0, 0], [1000, 0], 10),
      line([0, 0], [0, 20], 0.2),
    );
    expect(fitPhoto(p).metresPerPixel).toBeCloseTo(0.01, 12);
    expect(fitPhoto(p).lines[0]!.residualM).toBeNaN();
    expect(rules(p)).toEqual(['photo-line-no-length', 'photo-line-no-measure', 'photo-line-short']);
  });
});

describe('from photo to plan and back', () => {
  test('pixels run right and down, the plan east and north', () => {
    const p = photo(line([0, 0], [1000, 0], 10));
    expect(photoToPlan(p, [0, 0])).toEqual([0, 15]);
    const [x, y] = photoToPlan(p, [300, 500]);
    expect(x).toBeCloseTo(3, 12);
    expect(y).toBeCloseTo(10, 12);
  });
  test('turned counter-clockwise about its corner', () => {
    const [x, y] = photoToPlan({ ...photo(line([0, 0], [1000, 0], 10)), turnDeg: 90 }, [300, 0]);
    expect(x).toBeCloseTo(0, 12);
    expect(y).toBeCloseTo(18, 12);
  });
  test('there and back again', () => {
    const number = fc.double({ min: -5000, max: 5000, noNaN: true });
    fc.assert(
      fc.property(number, number, fc.double({ min: -360, max: 360, noNaN: true }), (x, y, turnDeg) => {
        const p = { ...photo(line([10, 10], [900, 700], 12.3)), turnDeg };
        const [backX, backY] = planToPhoto(p, photoToPlan(p, [x, y]));
        expect(Math.hypot(backX - x, backY - y)).toBeLessThan(1e-8);
      }),
      { seed: 7, numRuns: 100 },
    );
  });
});
