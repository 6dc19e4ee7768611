import { describe, expect, test } from 'vitest';
import type { LateralPipe } from '../../../plan/records.ts';
import type { Point } from '../../../base/point.ts';
import { supply } from '../../plan-for-tests.ts';
import { lateralsOf, tieInsOf, type TieIn } from './index.ts';
import { head, pipe, zone } from './nets-for-tests.ts';

const ranked = (laterals: readonly LateralPipe[], heads: readonly (readonly [string, Point])[], lawn = '') =>
  tieInsOf(
    zone({
      laterals,
      supplies: [supply('V', [0, 0])],
      heads: heads.map(([id, at]) => head(id, at, { waters: id.startsWith(lawn || '-') ? 'lawn' : 'bed' })),
    }),
    { dripFlowLph: () => 300 },
  )[0]!.candidates;
const kind = (laterals: readonly LateralPipe[], heads: readonly (readonly [string, Point])[] = []) =>
  lateralsOf(zone({ laterals, heads: heads.map(([id, at]) => head(id, at)) }))[0]!.shape.kind;
const facts = (candidates: readonly TieIn[], id: string) => {
  const { spur, mainEnd, cost } = candidates.find((one) => one.id === id)!;
  return [spur, mainEnd, cost.spur > 0];
};

describe('star', () => {
  const rays = (count: number, feedM: number): LateralPipe[] => [
    pipe('V', 'M', [0, 0], [feedM, 0]),
    ...Array.from({ length: count }, (_, i) => {
      const turn = ((i - (count - 1) / 2) * 50 * Math.PI) / 180;
      return pipe('M', `R${i}`, [feedM, 0], [feedM + 4 * Math.cos(turn), 4 * Math.sin(turn)]);
    }),
  ];
  test('four rays are one wherever the manifold is, three only by the valve', () => {
    expect(kind(rays(4, 20))).toBe('star');
    expect(kind(rays(3, 3))).toBe('star');
    expect(kind(rays(3, 4))).not.toBe('star');
    const found = ranked(rays(4, 20), []);
    expect(found[0]!.id).toBe('M');
    expect(facts(found, 'M')).toEqual([null, 'manifold', false]);
    expect(facts(found, 'R0')).toEqual(['ray', null, true]);
  });

  test('rays with two heads, or a head before the manifold, are branches of a tree', () => {
    const ends: [string, Point][] = [['H0', [20.5, 0.1]]];
    const long = [
      ...rays(4, 20),
      pipe(
        'R0',
        'X',
        [20 + 4 * Math.cos((-75 * Math.PI) / 180), 4 * Math.sin((-75 * Math.PI) / 180)],
        [21, -9],
      ),
    ];
    const at = long.at(-1)!;
    expect(
      kind(long, [
        ['A', at.a],
        ['B', at.b],
      ]),
    ).not.toBe('star');
    expect(kind(rays(4, 20), [['H', [10, 0]]])).not.toBe('star');
    expect(kind(rays(4, 20), ends)).toBe('star');
  });

  test('at the valve itself: new pipe from there', () => {
    const found = ranked(
      rays(4, 0)
        .slice(1)
        .map((one) => ({ ...one, from: 'V' })),
      [],
    );
    expect(found[0]).toMatchObject({ id: 'V', isValve: true });
    expect(found[0]!.why).toContain('its rays are too small to share');
  });
});

describe('comb', () => {
  const comb = (past: number): LateralPipe[] => [
    ...[0, 4, 8].map((x, i) => pipe(i === 0 ? 'V' : `A${i}`, `A${i + 1}`, [x, 0], [x + 4, 0])),
    ...[4, 8, 12].map((x, i) => pipe(`A${i + 1}`, `B${i + 1}`, [x, 0], [x, 6])),
    ...(past > 0 ? [pipe('A3', 'E', [12, 0], [12 + past, 0])] : []),
  ];
  test('the header ends at the last tooth, or where it goes on to', () => {
    expect(kind(comb(0))).toBe('comb');
    expect(facts(ranked(comb(0), []), 'A3')).toEqual([null, 'end of the header', false]);
    expect(facts(ranked(comb(0), []), 'B3')).toEqual(['tooth', null, true]);
    expect(ranked(comb(0), [])[0]!.id).toBe('A3');
    expect(facts(ranked(comb(3), []), 'E')).toEqual([null, 'end of the header', false]);
    expect(ranked(comb(3), [])[0]!.id).toBe('E');
  });
});

describe('swing pipe', () => {
  const chain = (legM: number, material: string | null): LateralPipe[] => [
    ...[0, 4, 8].map((x, i) => pipe(i === 0 ? 'V' : `S${i}`, `S${i + 1}`, [x, 0], [x + 4, 0])),
    ...[4, 8, 12].map((x, i) =>
      pipe(`S${i + 1}`, `H${i + 1}`, [x, 0], [x, legM], {
        size: material ? null : '1/2',
        ...(material ? { material } : {}),
      }),
    ),
  ];
  const heads = (legM: number): [string, Point][] => [4, 8, 12].map((x, i) => [`H${i + 1}`, [x, legM]]);

  test('by its name at any length, without one where most heads hang on short narrow ends', () => {
    expect(kind(chain(2, 'swing pipe'), heads(2))).toBe('daisy chain');
    expect(kind(chain(1.2, null), heads(1.2))).toBe('daisy chain');
    expect(kind(chain(1.3, null), heads(1.3))).not.toBe('daisy chain');
  });

  test('the last saddle, all swing pipe taken off', () => {
    const found = ranked(chain(1, null), heads(1));
    expect(found[0]).toMatchObject({ id: 'S3', mainEnd: 'last saddle', endOfLine: true, cuts: 3 });
    expect(facts(found, 'H3')).toEqual(['swing pipe', null, true]);
    expect(found[0]!.legs.map(({ action }) => action)).toEqual(Array(3).fill('cut at the tee'));
  });
});

test('pipe to nothing but heads that stay sprays is no place for drip, however low or long', () => {
  const net = [
    pipe('V', 'T', [0, 0], [3, 0]),
    pipe('T', 'H', [3, 0], [6, 0]),
    pipe('T', 'N', [3, 0], [3, 10]),
    pipe('N', 'G', [3, 10], [20, 10]),
  ];
  const found = ranked(
    net,
    [
      ['H', [6, 0]],
      ['G', [20, 10]],
    ],
    'G',
  );
  expect(found[0]!.id).toBe('H');
  expect(facts(found, 'G')).toEqual(['pipe of sprays', null, true]);
  expect(facts(found, 'N')).toEqual(['pipe of sprays', null, true]);
  expect(facts(found, 'T')[0]).toBeNull();
});

test('a ring has an end wherever it is opened, but at its feed and its branches', () => {
  const ring = [
    pipe('V', 'R', [0, 0], [2, 0]),
    pipe('R', 'P', [2, 0], [7, 0]),
    pipe('P', 'Q', [7, 0], [7, 4]),
    pipe('Q', 'S', [7, 4], [2, 4]),
    pipe('S', 'R', [2, 4], [2, 0]),
    pipe('Q', 'Z', [7, 4], [9, 4]),
  ];
  const found = ranked(ring, []);
  const ends = found.filter(({ mainEnd }) => mainEnd === 'end of the opened ring').map(({ id }) => id);
  expect(ends.sort()).toEqual(['P', 'S']);
});
