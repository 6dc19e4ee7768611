import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, polar, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../empty.ts';
import type { HeadPattern } from '../records.ts';
import { changeHeads, middleDeg, pulledHandle, pulledPattern, withSweep } from './heads.ts';

const AT: Point = [2, 3];
const sector = (radiusM: number, startDeg: number, sweepDeg: number): HeadPattern => ({
  kind: 'sector',
  radiusM,
  startDeg,
  sweepDeg,
});
const strip = (lengthM: number, widthM: number, directionDeg: number | null): HeadPattern => ({
  kind: 'strip',
  lengthM,
  widthM,
  directionDeg,
});
const towards = (lengthM: number, deg: number) => polar(AT, lengthM, deg);

describe('pulled out of the head', () => {
  test('the pointer is the middle of the sector and its radius', () => {
    const pulled = pulledPattern(sector(9, 0, 90), AT, towards(4, 90), 5);
    expect(pulled).toMatchObject({ startDeg: 45, sweepDeg: 90 });
    expect(pulled.kind === 'sector' && pulled.radiusM).toBeCloseTo(4, 9);
  });
  test('the start catches on the step, and does not without one', () => {
    expect(pulledPattern(sector(9, 0, 90), AT, towards(4, 92), 5)).toMatchObject({ startDeg: 45 });
    const free = pulledPattern(sector(9, 0, 90), AT, towards(4, 92), 0);
    expect(free.kind === 'sector' && free.startDeg).toBeCloseTo(47, 9);
  });
  test('a full circle has no direction', () => {
    expect(pulledPattern(sector(9, 0, 360), AT, towards(4, 33), 5)).toMatchObject({ startDeg: 0 });
  });
  test('a strip is as long as it is pulled on either side', () => {
    const pulled = pulledPattern(strip(4, 1, null), AT, towards(3, 31), 5);
    expect(pulled).toMatchObject({ kind: 'strip', widthM: 1, directionDeg: 30 });
    expect(pulled.kind === 'strip' && pulled.lengthM).toBeCloseTo(6, 9);
  });
});

describe('handles', () => {
  test('the radius follows, start and sweep stay', () => {
    expect(pulledHandle(sector(4, 10, 80), AT, 'radius', towards(2.5, 200), 5)).toMatchObject({
      startDeg: 10,
      sweepDeg: 80,
      radiusM: expect.closeTo(2.5, 9) as number,
    });
  });
  test('the end turns about a start that stays, the start about an end that stays', () => {
    expect(pulledHandle(sector(4, 350, 90), AT, 'end', towards(4, 41), 5)).toEqual(sector(4, 350, 50));
    expect(pulledHandle(sector(4, 350, 90), AT, 'start', towards(4, 21), 5)).toEqual(sector(4, 20, 60));
  });
  test('a wide sector closes to a full circle, a narrow one never vanishes', () => {
    expect(pulledHandle(sector(4, 0, 300), AT, 'end', towards(4, 1), 5)).toEqual(sector(4, 0, 360));
    expect(pulledHandle(sector(4, 0, 30), AT, 'end', towards(4, 1), 5)).toEqual(sector(4, 0, 5));
  });
  test('the width of a strip counts square to it', () => {
    const pulled = pulledHandle(strip(6, 1, 0), AT, 'width', [AT[0] + 5, AT[1] + 1.5], 5);
    expect(pulled.kind === 'strip' && pulled.widthM).toBeCloseTo(3, 9);
  });
  test('wherever they are pulled, the pattern can be drawn and the others are left alone', () => {
    const place = fc.tuple(
      fc.double({ min: -9, max: 9, noNaN: true }),
      fc.double({ min: -9, max: 9, noNaN: true }),
    );
    const one = fc.record({
      radius: fc.double({ min: 0.3, max: 9, noNaN: true }),
      start: fc.double({ min: 0, max: 359, noNaN: true }),
      sweep: fc.double({ min: 5, max: 360, noNaN: true }),
      handle: fc.constantFrom('radius' as const, 'start' as const, 'end' as const),
      to: place,
      step: fc.constantFrom(0, 5),
    });
    fc.assert(
      fc.property(one, ({ radius, start, sweep, handle, to, step }) => {
        const pulled = pulledHandle(sector(radius, start, sweep), AT, handle, to, step);
        if (pulled.kind !== 'sector') throw new Error('no sector');
        expect(pulled.radiusM).toBeGreaterThanOrEqual(0.3);
        expect(pulled.sweepDeg).toBeGreaterThanOrEqual(5);
        expect(pulled.sweepDeg).toBeLessThanOrEqual(360);
        expect(pulled.startDeg).toBeGreaterThanOrEqual(0);
        expect(pulled.startDeg).toBeLessThan(360);
        if (handle === 'end') expect(pulled.startDeg).toBeCloseTo(start % 360, 9);
        if (handle === 'start' && pulled.sweepDeg > 5 && pulled.sweepDeg < 360) {
          const [was, is] = [start + sweep, pulled.startDeg + pulled.sweepDeg];
          expect(distance(polar([0, 0], 1, was), polar([0, 0], 1, is))).toBeLessThan(1e-9);
        }
      }),
      { seed: 7, numRuns: 500 },
    );
  });
});

describe('shapes', () => {
  test('another sweep keeps middle and radius', () => {
    const half = withSweep(sector(4, 0, 90), 180, 3);
    expect(half).toEqual(sector(4, 315, 180));
    expect(middleDeg(half)).toBe(45);
  });
  test('a head that had none begins at the given radius', () => {
    expect(withSweep(null, 90, 3)).toEqual(sector(3, 45, 90));
    expect(withSweep(strip(4, 1, 0), 360, 3)).toEqual(sector(3, 0, 360));
  });
});

test('heads are changed each by its own facts, the others are shared', () => {
  const plan = {
    ...emptyPlan(),
    heads: Table.of(['H1', 'H2', 'H3'].map((id, i) => ({ ...UNMEASURED_HEAD, id, at: [i, 0] as const }))),
  };
  const next = changeHeads('', ['H1', 'H3', 'H9'], ({ at }) =>
    at[0] > 0 ? { note: `${at[0]}` } : null,
  ).apply(plan);
  expect([...next.heads].map(({ note }) => note)).toEqual(['', '', '2']);
  expect(next.heads.get('H1')).toBe(plan.heads.get('H1'));
  expect(changeHeads('', ['H9'], () => ({ note: 'x' })).apply(plan)).toBe(plan);
});
