import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { PHONE, seenBy } from './camera-for-tests.ts';
import { examineMarks, groundFigure, type Four, type Measured } from './figure.ts';

const SEED = 71_113;
const GROUND: Four = [
  [-2, 2.5],
  [2.5, 2.2],
  [3, 6],
  [-1.5, 7],
];
const seen = (ground: Four): Four => ground.map((p) => seenBy(PHONE, p)) as unknown as Four;
const between = (p: Four, a: number, b: number) => distance(p[a]!, p[b]!);
function lengthsOf(p: Four): Pick<Measured, 'sidesM' | 'diagonalsM'> {
  return {
    sidesM: [between(p, 0, 1), between(p, 1, 2), between(p, 2, 3), between(p, 3, 0)],
    diagonalsM: [between(p, 0, 2), between(p, 1, 3)],
  };
}
function made(measured: Measured) {
  const result = groundFigure(measured);
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}
const faultOf = (measured: Measured) => {
  const result = groundFigure(measured);
  return result.ok ? null : result.problem;
};
const MARKS = seen(GROUND);
const { sidesM, diagonalsM } = lengthsOf(GROUND);

describe('figure on the ground', () => {
  test('one diagonal gives it exactly, the other length comes out', () => {
    for (const diagonals of [[diagonalsM[0], null], [null, diagonalsM[1]], diagonalsM] as const) {
      const { corners, lengths } = made({ marks: MARKS, sidesM, diagonalsM: diagonals });
      expect(between(corners, 0, 2)).toBeCloseTo(diagonalsM[0]!, 9);
      expect(between(corners, 1, 3)).toBeCloseTo(diagonalsM[1]!, 9);
      for (const { residualPercent } of lengths) expect(residualPercent).toBeCloseTo(0, 7);
    }
  });
  test('mark 1 is at zero and mark 2 in its direction on the photo', () => {
    const { corners } = made({ marks: MARKS, sidesM, diagonalsM });
    expect(corners[0]).toEqual([0, 0]);
    const way = (a: Point, b: Point) => Math.atan2(b[1] - a[1], b[0] - a[0]);
    expect(way(corners[0], corners[1])).toBeCloseTo(way(MARKS[0], MARKS[1]), 12);
  });
  test('any figure before the camera is found again from six lengths, also one with a hollow corner', () => {
    // In whole centimetres: the special numbers of a generator of doubles are mostly no figures.
    const place = fc
      .tuple(fc.integer({ min: -300, max: 300 }), fc.integer({ min: 150, max: 900 }))
      .map(([x, y]): Point => [x / 100, y / 100]);
    let hollow = 0;
    fc.assert(
      fc.property(fc.tuple(place, place, place, place), (ground) => {
        const marks = seen(ground);
        fc.pre(
          examineMarks(marks).ok &&
            examineMarks(ground.map((p) => [100 * p[0], 100 * p[1]]) as unknown as Four).ok,
        );
        const all = lengthsOf(ground);
        const turn = (a: Point, b: Point, c: Point) =>
          Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
        if (new Set(ground.map((p, i) => turn(p, ground[(i + 1) % 4]!, ground[(i + 2) % 4]!))).size > 1)
          hollow++;
        for (const diagonals of [
          all.diagonalsM,
          [all.diagonalsM[0], null],
          [null, all.diagonalsM[1]],
        ] as const) {
          const { corners } = made({ marks, sidesM: all.sidesM, diagonalsM: diagonals });
          for (let a = 0; a < 4; a++)
            for (let b = 0; b < a; b++) expect(between(corners, a, b)).toBeCloseTo(between(ground, a, b), 6);
        }
      }),
      { seed: SEED, numRuns: 300 },
    );
    expect(hollow).toBeGreaterThan(5);
  });
  test('a slip in one of six lengths shows, and the scale stays in between', () => {
    const slipped: Measured = {
      marks: MARKS,
      sidesM: [sidesM[0], sidesM[1] * 1.1, sidesM[2], sidesM[3]],
      diagonalsM,
    };
    const { lengths } = made(slipped);
    const worst = lengths.reduce((a, b) =>
      Math.abs(b.residualPercent) > Math.abs(a.residualPercent) ? b : a,
    );
    expect(Math.abs(worst.residualPercent)).toBeGreaterThan(1);
    expect(lengths[1]!.residualPercent).toBeLessThan(-0.5);
    // Least squares: no small move of a corner makes the sum of squares smaller.
    const sum = (p: Four) => {
      const all = lengthsOf(p);
      const measured = [...slipped.sidesM, ...slipped.diagonalsM] as number[];
      return [...all.sidesM, ...(all.diagonalsM as readonly number[])].reduce(
        (total, value, i) => total + (value / measured[i]! - 1) ** 2,
        0,
      );
    };
    const { corners } = made(slipped);
    const least = sum(corners);
    for (let corner = 0; corner < 4; corner++) {
      for (const [dx, dy] of [
        [1e-4, 0],
        [-1e-4, 0],
        [0, 1e-4],
        [0, -1e-4],
      ] as const) {
        const moved = corners.map((p, i): Point => (i === corner ? [p[0] + dx, p[1] + dy] : p));
        expect(sum(moved as unknown as Four)).toBeGreaterThan(least);
      }
    }
  });
  test('a rectangle needs no diagonal, whichever way round it is marked', () => {
    const ground: Four = [
      [-2, 2],
      [2, 2],
      [2, 5],
      [-2, 5],
    ];
    for (const order of [
      [0, 1, 2, 3],
      [1, 0, 3, 2],
    ] as const) {
      const turned = order.map((i) => ground[i]!) as unknown as Four;
      const { corners } = made({ marks: seen(turned), sidesM: [4, 3, 4, 3], diagonalsM: [null, null] });
      expect(between(corners, 0, 2)).toBeCloseTo(5, 12);
      expect(between(corners, 1, 3)).toBeCloseTo(5, 12);
    }
  });
  test('what cannot be is refused: what, where, what to do', () => {
    const noDiagonal = [null, null] as const;
    const table: readonly (readonly [Measured, RegExp, RegExp])[] = [
      [{ marks: MARKS, sidesM: [4, 3, 5, 3], diagonalsM: noDiagonal }, /^diagonals$/, /Without a diagonal/],
      [{ marks: MARKS, sidesM, diagonalsM: [20, null] }, /^triangle 1–2–3$/, /close no triangle/],
      [{ marks: MARKS, sidesM, diagonalsM: [diagonalsM[0], 20] }, /^triangle 2–3–4$/, /close no triangle/],
      [{ marks: MARKS, sidesM: [0, 3, 4, 3], diagonalsM }, /^Side 1–2$/, /no length above zero/],
      [{ marks: MARKS, sidesM: [4, 3, NaN, 3], diagonalsM }, /^Side 3–4$/, /no length above zero/],
      [{ marks: MARKS, sidesM, diagonalsM: [-1, null] }, /^Diagonal 1–3$/, /no length above zero/],
      [
        { marks: [MARKS[0], MARKS[2], MARKS[1], MARKS[3]], sidesM, diagonalsM },
        /^order of the marks$/,
        /do not go round/,
      ],
      [
        { marks: [MARKS[0], MARKS[1], MARKS[3], MARKS[2]], sidesM, diagonalsM },
        /^order of the marks$/,
        /do not go round/,
      ],
      [
        {
          marks: [
            [0, 0],
            [100, 1],
            [200, 0],
            [100, 300],
          ],
          sidesM,
          diagonalsM,
        },
        /^marks 1, 2, 3$/,
        /lie on one line/,
      ],
      [
        {
          marks: [
            [0, 0],
            [100, 1],
            [101, 2],
            [100, 300],
          ],
          sidesM,
          diagonalsM,
        },
        /^marks 2 and 3$/,
        /in one place/,
      ],
      // On the ground a hollow corner, on the photo none.
      [
        { marks: MARKS, sidesM: [4, 4, 1.2, 1.2], diagonalsM: [null, 3] },
        /^lengths and marks$/,
        /other side of the line/,
      ],
      [
        { marks: MARKS, sidesM: [2, 2, 3, 3], diagonalsM: [3.9999, null] },
        /^lengths$/,
        /on one line on the ground/,
      ],
    ];
    for (const [measured, where, what] of table) {
      const fault = faultOf(measured);
      expect(fault?.where).toMatch(where);
      expect(fault?.what).toMatch(what);
      expect(fault?.todo).toMatch(/\w+ \w+/);
    }
  });
  test('the advised exchange puts the order right', () => {
    for (const order of [
      [0, 2, 1, 3],
      [0, 1, 3, 2],
    ] as const) {
      const marks = order.map((i) => MARKS[i]!) as unknown as Four;
      const result = examineMarks(marks);
      const [, one, other] = /Exchange marks (\d) and (\d)/.exec(result.ok ? '' : result.problem.todo)!;
      const swapped = [...marks];
      [swapped[Number(one) - 1], swapped[Number(other) - 1]] = [
        marks[Number(other) - 1]!,
        marks[Number(one) - 1]!,
      ];
      expect(examineMarks(swapped as unknown as Four).ok).toBe(true);
    }
  });
});
