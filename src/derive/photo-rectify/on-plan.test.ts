import { describe, expect, test } from 'vitest';
import { mapped } from '../../base/homography.ts';
import { directionDeg, distance, type Point } from '../../base/point.ts';
import type { PhotoMeasure, SitePhoto } from '../../plan/records.ts';
import { fitPhoto, photoToPlan } from '../photo-fit.ts';
import { PHONE, seenBy } from './camera-for-tests.ts';
import type { Four, Measured } from './figure.ts';
import { flatteningOf, photoLaidFlat, photoTakenBack, pictureAsTaken } from './on-plan.ts';

const GROUND: Four = [
  [-2, 2.5],
  [2.5, 2.2],
  [3, 6],
  [-1.5, 7],
];
const MARKS = GROUND.map((p) => seenBy(PHONE, p)) as unknown as Four;
const length = (a: number, b: number) => distance(GROUND[a]!, GROUND[b]!);
const MEASURED: Measured = {
  marks: MARKS,
  sidesM: [length(0, 1), length(1, 2), length(2, 3), length(3, 0)],
  diagonalsM: [length(0, 2), null],
};
const onGround = (a: Point, b: Point, role: PhotoMeasure['role'] = 'fit'): PhotoMeasure => ({
  a: seenBy(PHONE, a),
  b: seenBy(PHONE, b),
  lengthM: distance(a, b),
  role,
});
const photo = (...measures: PhotoMeasure[]): SitePhoto => ({
  pictureId: 'taken',
  name: 'yard.jpg',
  widthPx: PHONE.widthPx,
  heightPx: PHONE.heightPx,
  corner: [12, 34],
  turnDeg: 25,
  assumedWidthM: 20,
  measures,
  strength: 0.7,
  rectification: null,
});
function laid(before: SitePhoto, measured: Measured = MEASURED, lines: readonly PhotoMeasure[] = []) {
  const result = flatteningOf(before, measured, true, lines);
  if (!result.ok) throw new Error(result.problem.what);
  const id = `flat of ${result.value.rectification.source.pictureId}`;
  return { after: photoLaidFlat(before, measured.marks, result.value, id, lines), way: result.value };
}

describe('photo laid flat', () => {
  test('has the scale of its lengths, and every place of the ground at its true distance', () => {
    const { after, way } = laid(photo());
    const fit = fitPhoto(after);
    expect(fit.metresPerPixel).toBeCloseTo(1 / way.flat.pixelsPerMetre, 12);
    expect(fit.worstPercent).toBeCloseTo(0, 6);
    expect(after).toMatchObject({ strength: 0.7, name: 'yard.jpg', pictureId: 'flat of taken' });
    const plan = (p: Point) => photoToPlan(after, mapped(way.flat.toFlat, seenBy(PHONE, p)));
    for (const [a, b] of [
      [
        [0, 3],
        [1, 3],
      ],
      [
        [-1, 2.4],
        [1.7, 6.1],
      ],
      [
        [0, 8],
        [0, 2.6],
      ],
    ] as const)
      expect(distance(plan(a), plan(b))).toBeCloseTo(distance(a, b), 6);
    // Never mirrored: left of the way from a to b on the ground is left of it on the plan.
    const turned = directionDeg(plan([0, 3]), plan([0, 4])) - directionDeg(plan([0, 3]), plan([1, 3]));
    expect((turned + 360) % 360).toBeCloseTo(90, 6);
  });
  test('mark 1 and the direction to mark 2 stay on the plan', () => {
    for (const before of [photo(), photo(onGround([0, 3], [1, 3]))]) {
      const { after, way } = laid(before);
      const [a, b] = [MARKS[0], MARKS[1]].map((mark) => photoToPlan(before, mark)) as [Point, Point];
      const [c, d] = [MARKS[0], MARKS[1]].map((mark) =>
        photoToPlan(after, mapped(way.flat.toFlat, mark)),
      ) as [Point, Point];
      expect(distance(a, c)).toBeLessThan(1e-9);
      expect(directionDeg(c, d)).toBeCloseTo(directionDeg(a, b), 9);
      expect(after.turnDeg).toBeCloseTo(25, 9);
    }
  });
  test('lines measured before check it, and a rectangle’s diagonal too', () => {
    const before = photo(onGround([0, 3], [1, 3]), onGround([0, 3], [0, 5], 'check'));
    const diagonal: PhotoMeasure = { a: MARKS[0], b: MARKS[2], lengthM: length(0, 2), role: 'check' };
    const { after, way } = laid(before, { ...MEASURED, diagonalsM: [null, length(1, 3)] }, [diagonal]);
    expect(after.measures.map(({ role }) => role)).toEqual([
      'fit',
      'fit',
      'fit',
      'fit',
      'fit',
      'check',
      'check',
      'check',
    ]);
    expect(fitPhoto(after).worstPercent).toBeCloseTo(0, 6);
    expect(way.flat.lengths).toHaveLength(8);
    expect(way.flat.worst?.residualPercent).toBeCloseTo(0, 6);
  });
  test('taken back it is as it was, but for the lines’ roles', () => {
    const before = photo(
      onGround([0, 3], [1, 3]),
      onGround([0, 3], [0, 5]),
      onGround([-1, 4], [2, 5], 'check'),
    );
    const back = photoTakenBack(laid(before).after)!;
    expect(back.pictureId).toBe('taken');
    expect(back.rectification).toBeNull();
    expect(back.measures).toHaveLength(3);
    back.measures.forEach((line, i) => {
      const was = before.measures[i]!;
      expect(distance(line.a, was.a)).toBeLessThan(1e-6);
      expect(distance(line.b, was.b)).toBeLessThan(1e-6);
      expect(line.role).toBe(was.role);
    });
    expect(back.corner).toEqual([expect.closeTo(12, 6), expect.closeTo(34, 6)]);
    expect(back.turnDeg).toBeCloseTo(25, 9);
    expect(photoTakenBack(before)).toBeNull();
  });
  test('laid flat once more it is made from the picture as taken, and needs no more turning', () => {
    const once = laid(photo(onGround([0, 3], [1, 3])));
    const ground: Four = [
      [-1, 3],
      [2, 3],
      [2, 5],
      [-1, 5],
    ];
    const marks = ground.map((p) => mapped(once.way.flat.toFlat, seenBy(PHONE, p))) as unknown as Four;
    const measured: Measured = { marks, sidesM: [3, 2, 3, 2], diagonalsM: [null, null] };
    const twice = laid(once.after, measured);
    expect(twice.after.rectification?.source.pictureId).toBe('taken');
    expect(twice.after.pictureId).toBe('flat of taken');
    // All lengths of the first time check the second.
    expect(twice.after.measures.filter(({ role }) => role === 'check')).toHaveLength(6);
    expect(fitPhoto(twice.after).worstPercent).toBeCloseTo(0, 6);
    const at = (p: Point) => photoToPlan(twice.after, mapped(twice.way.flat.toFlat, seenBy(PHONE, p)));
    const before = (p: Point) => photoToPlan(once.after, mapped(once.way.flat.toFlat, seenBy(PHONE, p)));
    for (const p of [...ground, ...GROUND]) expect(distance(at(p), before(p))).toBeLessThan(1e-6);
    // Without that picture the flat one serves.
    const result = flatteningOf(once.after, measured, false);
    expect(result.ok && result.value.rectification.source.pictureId).toBe('flat of taken');
  });
  test('a flat picture of another size than its marks give is taken back without its lines', () => {
    const { after } = laid(photo(onGround([0, 3], [1, 3])));
    const odd = { ...after, widthPx: after.widthPx - 7 };
    expect(pictureAsTaken(after)).not.toBeNull();
    expect(pictureAsTaken(odd)).toBeNull();
    expect(photoTakenBack(odd)).toMatchObject({ pictureId: 'taken', widthPx: 4000, measures: [] });
  });
  test('a line that would lie at the horizon is left out', () => {
    const level = { ...PHONE, pitchDeg: 20, heightM: 2, focalPx: 2000 };
    const marks = GROUND.map(([x, y]) => seenBy(level, [x, y + 3])) as unknown as Four;
    const sky: PhotoMeasure = { a: [10, 10], b: [300, 10], lengthM: 4, role: 'fit' };
    const { after } = laid(photo(sky), { ...MEASURED, marks });
    expect(after.measures.filter(({ role }) => role === 'check')).toHaveLength(0);
  });
});
