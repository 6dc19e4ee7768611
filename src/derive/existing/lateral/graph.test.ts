import { describe, expect, test } from 'vitest';
import type { Point } from '../../../base/point.ts';
import type { LateralPipe, Plan } from '../../../plan/records.ts';
import { level, supply } from '../../plan-for-tests.ts';
import { lateralsOf, tieInsOf, type ZoneLateral } from './index.ts';
import { head, LITRES_PER_M, pipe, zone } from './nets-for-tests.ts';

const only = (plan: Plan): ZoneLateral => {
  const found = lateralsOf(plan);
  expect(found).toHaveLength(1);
  return found[0]!;
};
const rules = (plan: Plan): string[] => lateralsOf(plan).flatMap(({ notices }) => notices.map((n) => n.rule));
const joint = (plan: Plan, name: string) => only(plan).joints.find((j) => j.name === name)!;
const reached = (plan: Plan, id: string): boolean => only(plan).joints.some((j) => j.id === id && j.reached);
const main = pipe('V', 'E', [0, 0], [10, 0]);

describe('joining old pipes', () => {
  test('ends within 50 mm are one joint; one that joins nothing belongs to the nearest within half a foot', () => {
    const plan = (gap: number, more: LateralPipe[] = []): Plan =>
      zone({ laterals: [main, pipe('', 'F', [10 + gap, 0], [20, 0]), ...more], heads: [head('H', [20, 0])] });
    expect(reached(plan(0.049), 'H')).toBe(true);
    expect(reached(plan(0.1524), 'H')).toBe(true);
    expect(reached(plan(0.153), 'H')).toBe(false);
    expect(rules(plan(0.1524))).toEqual([]);
    expect(rules(plan(0.153))).toEqual(['old-pipe-apart']);
    // With another pipe at each of the two ends they lie apart.
    const both = [
      pipe('', 'G', [10, 0], [10, 4], { id: 'g' }),
      pipe('', 'K', [10.1, 0], [10.1, -4], { id: 'k' }),
    ];
    expect(reached(plan(0.1, both), 'H')).toBe(false);
  });

  test('a head beside no pipe belongs to the pipe end that bears its name', () => {
    const plan = (name: string): Plan =>
      zone({ laterals: [pipe('V', name, [0, 0], [10, 0])], heads: [head('H', [10.4, 0])] });
    expect(only(plan('H')).looseHeads).toEqual([]);
    expect(tieInsOf(plan('H'))[0]!.candidates[0]).toMatchObject({ id: 'H', fates: { H: 'tie-in' } });
    expect(only(plan('E')).looseHeads).toEqual(['H']);
  });

  test('ends of one name are one joint; far apart it is said', () => {
    const plan = (gap: number): Plan => zone({ laterals: [main, pipe('E', 'F', [10 + gap, 0], [20, 0])] });
    expect(reached(plan(0.4), 'F')).toBe(true);
    expect(rules(plan(0.4))).toEqual([]);
    expect(reached(plan(3), 'F')).toBe(true);
    expect(rules(plan(3))).toEqual(['old-pipe-names-apart']);
  });

  test('an end on the middle of another pipe within 0.15 m is a tee and splits it', () => {
    const plan = (gap: number): Plan => zone({ laterals: [main, pipe('T', 'F', [4, gap], [4, 5])] });
    expect(joint(plan(0.149), 'T')).toMatchObject({ kind: 'tee', pipes: 3, text: 'tee', reached: true });
    expect(joint(plan(0.151), 'T')).toMatchObject({ kind: 'end', pipes: 1, reached: false });
    expect(only(plan(0)).lengthM).toBeCloseTo(15, 9);
  });

  test('pipes that cross do not join', () => {
    expect(reached(zone({ laterals: [main, pipe('A', 'B', [5, -3], [5, 3])] }), 'B')).toBe(false);
  });

  test('a head belongs to a pipe within 0.5 ft: at a joint there, else the pipe is split', () => {
    const plan = (at: Point): Plan => zone({ laterals: [main], heads: [head('H', at)] });
    expect(joint(plan([10.1, 0.1]), 'E')).toMatchObject({ id: 'H', heads: ['H'], pipes: 1 });
    expect(joint(plan([4, 0.1524]), 'H')).toMatchObject({ at: [4, 0], pipes: 2, kind: 'straight' });
    const off = plan([4, 0.153]);
    expect(only(off).looseHeads).toEqual(['H']);
    expect(lateralsOf(off)[0]!.notices[0]).toMatchObject({
      rule: 'old-head-off-pipe',
      refs: [{ table: 'heads', id: 'H' }],
    });
  });

  test('the valve by name wherever it stands, else within 0.5 m, also on the middle of a pipe', () => {
    const at = (p: Point, name = ''): Plan =>
      zone({ supplies: [supply('V', p)], laterals: [pipe(name, 'E', [0, 0], [10, 0])] });
    expect(reached(at([0, 3], 'V'), 'E')).toBe(true);
    expect(reached(at([0, 0.49]), 'E')).toBe(true);
    expect(reached(at([0, 0.51]), 'E')).toBe(false);
    expect(rules(at([0, 0.51]))).toEqual(['old-zone-without-valve']);
    expect(only(at([5, 0.3])).joints.find((j) => j.supplies.length > 0)).toMatchObject({
      at: [5, 0],
      pipes: 2,
    });
  });

  test('zones never join, though valves and pipes lie in one place', () => {
    const plan = zone({
      supplies: [supply('V1', [0, 0], { zone: '1' }), supply('V10', [0, 0], { zone: '10' })],
      laterals: [
        pipe('V10', 'T', [0, 0], [10, 0], { zone: '10', id: 'b' }),
        pipe('V1', 'T', [0, 0], [10, 0], { zone: '1', id: 'a' }),
        pipe('T', 'U', [10, 0], [10, 5], { zone: '1', id: 'c' }),
      ],
      heads: [head('H', [10, 0], { zone: '10' })],
    });
    expect(lateralsOf(plan).map(({ zone: name, supplyId, lengthM }) => [name, supplyId, lengthM])).toEqual([
      ['1', 'V1', 15],
      ['10', 'V10', 10],
    ]);
    expect(tieInsOf(plan).map(({ candidates }) => candidates[0]!.id)).toEqual(['U', 'H']);
  });

  test('a pipe without a zone is of the zone that it touches, if that is one', () => {
    const loose = pipe('E', 'F', [10, 0], [20, 0], { id: 'loose' });
    const first = pipe('V', 'E', [0, 0], [10, 0], { zone: '1' });
    const second = pipe('W', 'F', [20, 9], [20, 0], { zone: '2' });
    const valves = [supply('V', [0, 0], { zone: '1' }), supply('W', [20, 9], { zone: '2' })];
    const one = zone({ supplies: valves, laterals: [first, loose] });
    expect(lateralsOf(one).map(({ zone: z, lengthM }) => [z, lengthM])).toEqual([['1', 20]]);
    const two = zone({ supplies: valves, laterals: [first, second, loose] });
    expect(lateralsOf(two).map(({ zone: z, lengthM }) => [z, lengthM])).toEqual([
      [null, 10],
      ['1', 10],
      ['2', 9],
    ]);
    expect(rules(two)).toEqual(['old-pipe-zone-unclear', 'old-zone-without-valve']);
  });
});

describe('pipes without a zone', () => {
  const pipes = [
    pipe('V1', 'H1', [0, 0], [5, 0]),
    pipe('V2', 'H2', [0, 0], [-5, 0]),
    pipe('H2', 'H3', [-5, 0], [-9, 0]),
  ];
  const places: readonly (readonly [string, Point])[] = [
    ['H1', [5, 0]],
    ['H2', [-5, 0]],
    ['H3', [-9, 0]],
  ];
  const zones = (valveZones: readonly (string | null)[], headZones: readonly (string | null)[]) =>
    lateralsOf(
      zone({
        // Both valves in one box.
        supplies: valveZones.map((name, i) => supply(`V${i + 1}`, [0, 0], { zone: name })),
        laterals: pipes,
        heads: places.map(([id, at], i) => head(id, at, { zone: headZones[i]! })),
      }),
    ).map(({ zone: name, supplyId, lengthM, looseHeads }) => [name, supplyId, lengthM, looseHeads.length]);

  test('are of the zone of the valve that they name', () => {
    const found = [
      ['1', 'V1', 5, 0],
      ['2', 'V2', 9, 0],
    ];
    expect(zones(['1', '2'], ['1', '2', '2'])).toEqual(found);
    expect(zones(['1', '2'], [null, null, null])).toEqual(found);
  });

  test('are of the zone of their heads where the valves have none; else of a zone for each valve', () => {
    expect(zones([null, null], ['a', 'b', 'b'])).toEqual([
      ['a', 'V1', 5, 0],
      ['b', 'V2', 9, 0],
    ]);
    expect(zones([null, null], [null, null, null])).toEqual([
      ['V1', 'V1', 5, 0],
      ['V2', 'V2', 9, 0],
    ]);
    expect(zones([null, null], ['V1', 'V2', 'V2'])).toEqual([
      ['V1', 'V1', 5, 0],
      ['V2', 'V2', 9, 0],
    ]);
  });
});

describe('odd surveys are said and nothing is thrown', () => {
  test.each([
    ['no length', [main, pipe('E', 'F', [10, 0], [10, 0])], ['old-pipe-without-length']],
    ['drawn twice, backwards', [main, pipe('E', 'V', [10, 0], [0, 0], { id: 'again' })], ['old-pipe-twice']],
    [
      'ends where it begins',
      [main, pipe('E', 'E', [10, 0], [14, 0])],
      ['old-pipe-on-itself', 'old-pipe-names-apart'],
    ],
    ['unknown bore', [{ ...main, material: null }], ['old-pipe-bore-unknown']],
    ['assumed', [{ ...main, measured: false }], ['old-pipe-assumed']],
    ['no number', [main, pipe('E', 'F', [10, 0], [NaN, 0])], []],
  ] as const)('%s', (_, laterals, expected) => {
    const plan = zone({ laterals });
    expect(rules(plan)).toEqual(expected);
    expect(only(plan).lengthM).toBeCloseTo(10, 9);
    expect(tieInsOf(plan)[0]!.candidates[0]!.id).toBe(plan.laterals.get('V-E')!.measured ? 'E' : 'V');
  });

  test('no valve: the shape is told, no tie-in is taken', () => {
    const plan = zone({ supplies: [], laterals: [main], heads: [head('H', [10, 0])] });
    expect(rules(plan)).toEqual(['old-zone-without-valve']);
    expect(only(plan).shape).toMatchObject({ kind: 'single run' });
    expect(tieInsOf(plan)[0]).toMatchObject({ candidates: [], evaluated: { singles: 0, pairs: 0 } });
  });

  test('two valves on one zone: the first by name, and it is said', () => {
    const plan = zone({ supplies: [supply('W', [10, 0]), supply('V', [0, 0])], laterals: [main] });
    expect(rules(plan)).toEqual(['old-zone-several-valves']);
    expect(tieInsOf(plan)[0]!.supplyId).toBe('V');
  });

  test('heads but no pipe: the way on is said', () => {
    const plan = zone({ laterals: [], heads: [head('H', [1, 1])] });
    expect(rules(plan)).toEqual(['old-head-off-pipe', 'old-zone-without-pipe']);
    expect(only(plan).shape.kind).toBe('none');
    expect(tieInsOf(plan)[0]!.candidates).toEqual([]);
  });

  test('an empty plan', () => {
    expect(lateralsOf(zone({ laterals: [] }))).toEqual([]);
    expect(tieInsOf(zone({ laterals: [] }))).toEqual([]);
  });
});

describe('figures of pipe and joints', () => {
  test('lengths and litres are those on the ground: 3 in 4 makes 20 m to 25 m', () => {
    const plan = zone({
      laterals: [pipe('V', 'E', [0, 0], [0, 20])],
      levels: [level('1', 0, 0, 0), level('2', 5, 0, 0), level('3', 0, 20, 15)],
    });
    expect(only(plan).lengthM).toBeCloseTo(25, 9);
    expect(only(plan).volumeL).toBeCloseTo(25 * LITRES_PER_M, 9);
  });

  test('height: of the valve where typed, else the ground less the depth, the deepest where several meet', () => {
    const plan = zone({
      supplies: [supply('V', [0, 0], { zM: 2 })],
      laterals: [
        pipe('V', 'T', [0, 0], [10, 0], { depthM: 0.2 }),
        pipe('T', 'E', [10, 0], [20, 0], { depthM: 0.3 }),
      ],
      levels: [level('1', 0, 0, 1)],
    });
    expect(joint(plan, 'V').zM).toBe(2);
    expect(joint(plan, 'T').zM).toBeCloseTo(0.7, 12);
    expect(joint(plan, 'E').zM).toBeCloseTo(0.7, 12);
  });

  test('pipe of unknown depth lies as deep as its valve; without any level the height of the valve tells nothing', () => {
    const plan = (levels: ReturnType<typeof level>[], zM: number): Plan =>
      zone({ supplies: [supply('V', [0, 0], { zM })], laterals: [main], levels });
    const around = [level('1', -5, -5, 3), level('2', 15, -5, 3), level('3', 0, 9, 3)];
    expect(only(plan(around, 2.8)).joints.map(({ zM }) => zM)).toEqual([2.8, 2.8]);
    // Above the ground, or too far below: the pipe lies on the ground.
    expect(joint(plan(around, 3.2), 'E').zM).toBe(3);
    expect(joint(plan(around, 1.5), 'E').zM).toBe(3);
    expect(only(plan([], 2)).joints.map(({ zM }) => zM)).toEqual([0, 0]);
    expect(tieInsOf(plan([], 2))[0]!.candidates[0]).toMatchObject({ drains: null, liftKpa: 0 });
  });

  test('pipe of unknown depth is not taken to lie on the ground beside pipe of known depth', () => {
    const plan = zone({
      laterals: [main, pipe('E', 'F', [10, 0], [20, 0], { depthM: 0.3 })],
      levels: [level('1', 0, 0, 1)],
    });
    expect(only(plan).joints.map(({ zM }) => zM)).toEqual([0.7, 0.7, 0.7]);
  });

  test('what a fitting at a head tells: the riser counts', () => {
    const plan = zone({
      laterals: [
        pipe('V', 'A', [0, 0], [5, 0]),
        pipe('A', 'B', [5, 0], [10, 0]),
        pipe('B', 'C', [10, 0], [10, 5]),
        pipe('B', 'D', [10, 0], [15, 0]),
        pipe('D', 'E', [15, 0], [15, 5]),
      ],
      heads: [head('HA', [5, 0]), head('HB', [10, 0]), head('HC', [10, 5]), head('HD', [15, 0])],
    });
    expect(only(plan).joints.map(({ name, kind, text, isEnd }) => [name, kind, text, isEnd])).toEqual([
      ['V', 'end', 'valve, 1 pipe', true],
      ['A', 'straight', 'tee at a head, pass-through', false],
      ['B', 'tee', 'cross at a head, or two tees: a branch', false],
      ['C', 'end', 'elbow at a head, end of line', true],
      ['D', 'elbow', 'tee at a head, pass-through round a corner', false],
      ['E', 'end', 'end of a pipe', true],
    ]);
    expect(joint(plan, 'A').ends).toEqual([
      { lateralId: 'V-A', end: 'to' },
      { lateralId: 'A-B', end: 'from' },
    ]);
  });
});
