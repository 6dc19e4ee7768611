import { describe, expect, test } from 'vitest';
import type { Plan } from '../../../plan/records.ts';
import { level, PSI, supply } from '../../plan-for-tests.ts';
import { lateralsOf, tieInEdits, tieInsOf, type TieIn } from './index.ts';
import { area, bed, head, largeNet, LITRES_PER_M, pipe, zone } from './nets-for-tests.ts';
import { CUT_L, DRAIN_L, NOT_END_L, SECOND_L, TRAPPED_L_PER_L } from './rank.ts';

/** A plan of one zone: its tie-ins, best first. */
const ranked = (plan: Plan): readonly TieIn[] => tieInsOf(plan, { dripFlowLph: () => 300 })[0]!.candidates;
const at = (plan: Plan, id: string): TieIn => ranked(plan).find((tieIn) => tieIn.id === id)!;
const shape = (plan: Plan): string => lateralsOf(plan)[0]!.shape.kind;
const litres = (lengthM: number): number => lengthM * LITRES_PER_M;
const falling = [level('1', 0, 0, 0), level('2', 100, 0, -2)];

describe('single run', () => {
  const laterals = [
    pipe('V', 'A', [0, 0], [5, 0]),
    pipe('A', 'B', [5, 0], [10, 0]),
    pipe('B', 'C', [10, 0], [18, 0]),
  ];
  const heads = [head('H1', [5, 0]), head('H2', [10, 0]), head('H3', [18, 0])];

  test('falling: the far end, nothing dead, all drains and blows out', () => {
    const plan = zone({ laterals, heads, levels: falling, areas: [bed('B1', 0, -1, 20, 2)] });
    expect(shape(plan)).toBe('single run');
    expect(ranked(plan).map(({ id }) => id)).toEqual(['H3', 'H2', 'H1', 'H1+H3', 'V']);
    expect(ranked(plan)[0]).toMatchObject({
      node: 'C',
      at: [18, 0],
      rank: 1,
      feasible: true,
      deadLegLengthM: 0,
      deadLegVolumeL: 0,
      legs: [],
      cuts: 0,
      stagnantVolumeL: 0,
      drains: true,
      trappedVolumeL: 0,
      blowsOut: true,
      endOfLine: true,
      lowest: true,
      distanceToBedM: 0,
      bedId: 'B1',
      fates: { H1: 'cap', H2: 'cap', H3: 'tie-in' },
      pieceFates: { 'V-A': 'live', 'A-B': 'live', 'B-C': 'live' },
      splits: [],
    });
  });

  test('in the middle the tail behind is one dead leg, cut at the tee', () => {
    const middle = at(zone({ laterals, heads, levels: falling }), 'H2');
    expect(middle.deadLegLengthM).toBeCloseTo(8 * Math.hypot(1, 0.02), 9);
    expect(middle.legs).toHaveLength(1);
    expect(middle.legs[0]).toMatchObject({
      joint: 'B',
      joints: ['B'],
      pieces: ['B-C'],
      heads: ['H3'],
      lies: 'lower',
      drains: false,
      action: 'cut at the tee',
      limit: 'warning',
    });
    expect(middle.fates).toEqual({ H1: 'cap', H2: 'tie-in', H3: 'cut off' });
    expect(middle.pieceFates).toEqual({ 'V-A': 'live', 'A-B': 'live', 'B-C': 'cut off' });
    expect(middle).toMatchObject({ endOfLine: false, cuts: 1, stagnantVolumeL: 0, blowsOut: true });
    expect(middle.costL).toBeCloseTo(middle.deadLegVolumeL! + NOT_END_L + CUT_L + middle.cost.pressure, 9);
  });

  test('rising: nothing drains, and the valve is no better for that', () => {
    const rising = zone({ laterals, heads, levels: [level('1', 0, 0, 0), level('2', 100, 0, 2)] });
    expect(ranked(rising).map(({ id }) => id)).toEqual(['H3', 'H2', 'H1', 'H1+H3', 'V']);
    expect(ranked(rising)[0]).toMatchObject({ drains: false, lowest: false });
    // All but the last 10 mm of rise: half a metre of pipe at 2 in 100.
    expect(ranked(rising)[0]!.trappedVolumeL).toBeCloseTo(litres(17.5) * Math.hypot(1, 0.02), 6);
  });
});

describe('short and long legs', () => {
  const plan = (legM: number, rise = 0): Plan =>
    zone({
      laterals: [
        pipe('V', 'T', [0, 0], [5, 0]),
        pipe('T', 'E', [5, 0], [12, 0]),
        pipe('T', 'S', [5, 0], [5, legM]),
      ],
      heads: [head('HS', [5, legM]), head('HE', [12, 0])],
      levels: [level('1', 0, 0, 0), level('2', 50, 0, 0), level('3', 0, 50, 50 * rise)],
    });

  test('0.1 gal (0.864 m here) is the limit between a cap and a cut', () => {
    const short = at(plan(0.86), 'HE');
    expect(short.legs[0]).toMatchObject({
      action: 'cap at the riser',
      limit: 'none',
      lies: 'level',
      drains: true,
    });
    expect(short).toMatchObject({ cuts: 0, blowsOut: false, fates: { HS: 'cap', HE: 'tie-in' } });
    expect(short.pieceFates['T-S']).toBe('dead');
    expect(short.stagnantVolumeL).toBeCloseTo(litres(0.86), 9);
    const long = at(plan(0.87), 'HE');
    expect(long.legs[0]).toMatchObject({ action: 'cut at the tee', limit: 'info' });
    expect(long).toMatchObject({ cuts: 1, blowsOut: true, stagnantVolumeL: 0, fates: { HS: 'cut off' } });
    expect(long.deadLegVolumeL).toBeCloseTo(litres(0.87), 9);
  });

  test('a short leg that lies lower cannot drain and is cut; one that lies higher drains back', () => {
    expect(at(plan(0.5, -0.1), 'HE').legs[0]).toMatchObject({
      lies: 'lower',
      drains: false,
      action: 'cut at the tee',
    });
    expect(at(plan(0.5, 0.1), 'HE').legs[0]).toMatchObject({
      lies: 'higher',
      drains: true,
      action: 'cap at the riser',
    });
  });

  test('over 10 ft is worth a warning however narrow the pipe', () => {
    expect(at(plan(3.04), 'HE').legs[0]!.limit).toBe('info');
    expect(at(plan(3.05), 'HE').legs[0]!.limit).toBe('warning');
  });
});

describe('shapes', () => {
  test('tree: the end that leaves least behind', () => {
    const plan = zone({
      laterals: [
        pipe('V', 'T', [0, 0], [4, 0]),
        pipe('T', 'A', [4, 0], [4, 6]),
        pipe('T', 'U', [4, 0], [10, 0]),
        pipe('U', 'B', [10, 0], [10, -9]),
        pipe('U', 'C', [10, 0], [13, 0]),
      ],
    });
    expect(shape(plan)).toBe('tree');
    expect(
      ranked(plan)
        .slice(0, 3)
        .map(({ id }) => id),
    ).toEqual(['B', 'C', 'A']);
    // Behind B: T-A 6 m and U-C 3 m. Behind A: T-U-B and U-C, 18 m, as behind U, which is no end.
    expect(at(plan, 'B').deadLegVolumeL).toBeCloseTo(litres(9), 9);
    expect(at(plan, 'A').deadLegVolumeL).toBeCloseTo(litres(18), 9);
    expect(at(plan, 'A').legs).toHaveLength(1);
    expect(at(plan, 'A').why).toContain('Behind B: 2.08 gal in dead legs against 1.04 gal');
  });

  test('comb on a bank: the end of the header, all teeth cut at their tees', () => {
    const xs = [0, 5, 10, 15];
    const plan = zone({
      laterals: [
        pipe('V', 'A0', [-1, 0], [0, 0]),
        ...xs.slice(1).map((x, i) => pipe(`A${i}`, `A${i + 1}`, [x - 5, 0], [x, 0])),
        ...xs.map((x, i) => pipe(`A${i}`, `B${i}`, [x, 0], [x, 8])),
      ],
      supplies: [supply('V', [-1, 0])],
      levels: [level('1', 0, 0, 0), level('2', 20, 0, -0.1), level('3', 0, 8, 4)],
    });
    expect(shape(plan)).toBe('comb');
    expect(ranked(plan)[0]).toMatchObject({
      id: 'A3',
      drains: true,
      cuts: 4,
      lowest: true,
      endOfLine: true,
      mainEnd: 'end of the header',
    });
    const tooth = litres(8 * Math.hypot(1, 0.5));
    for (const leg of ranked(plan)[0]!.legs) {
      expect(leg.volumeL).toBeCloseTo(tooth, 9);
      expect(leg).toMatchObject({ lies: 'higher', drains: true, action: 'cut at the tee' });
    }
  });

  test('centre-fed row: the longer arm, one tie-in and one cut', () => {
    const plan = zone({
      laterals: [
        pipe('V', 'M', [0, -2], [0, 0]),
        pipe('M', 'W', [0, 0], [-10, 0]),
        pipe('M', 'E', [0, 0], [12, 0]),
      ],
      supplies: [supply('V', [0, -2])],
      heads: [head('HW', [-10, 0]), head('HE', [12, 0])],
    });
    expect(shape(plan)).toBe('centre-fed');
    expect(ranked(plan)[0]).toMatchObject({ id: 'HE', cuts: 1 });
    expect(ranked(plan)[0]!.deadLegVolumeL).toBeCloseTo(litres(10), 9);
    const pair = at(plan, 'HE+HW');
    expect(pair).toMatchObject({ deadLegLengthM: 0, cuts: 0, blowsOut: false });
    // Its members' better one, a second set, less the cut that is spared.
    expect(pair.costL).toBeCloseTo(at(plan, 'HE').costL + SECOND_L - CUT_L, 9);
    expect(pair.why).toContain('a second tie-in costs more than it spares');
  });

  test('star: the manifold, its rays cut', () => {
    const plan = zone({
      laterals: [
        pipe('V', 'M', [0, 0], [1, 0]),
        pipe('M', 'A', [1, 0], [6, 0]),
        pipe('M', 'B', [1, 0], [1, 4]),
        pipe('M', 'C', [1, 0], [1, -3]),
      ],
    });
    expect(shape(plan)).toBe('star');
    expect(ranked(plan)[0]).toMatchObject({ id: 'M', cuts: 3, mainEnd: 'manifold', endOfLine: true });
    expect(ranked(plan)[0]!.deadLegVolumeL).toBeCloseTo(litres(12), 9);
    expect(at(plan, 'A').deadLegVolumeL).toBeCloseTo(litres(7), 9);
    expect(at(plan, 'A').why).toBe(
      'Behind M: on a ray, too small to share; 0.81 gal in 2 dead legs (2 cuts).',
    );
  });

  const square = [
    pipe('V', 'R', [0, 0], [2, 0]),
    pipe('R', 'P', [2, 0], [7, 0]),
    pipe('P', 'Q', [7, 0], [7, 4]),
    pipe('Q', 'S', [7, 4], [2, 4]),
    pipe('S', 'R', [2, 4], [2, 0]),
  ];

  test('ring: the long way round, the short one cut at both ends', () => {
    const plan = zone({ laterals: square });
    expect(shape(plan)).toBe('ring');
    // To P over S and Q: 2 + 4 + 5 + 4 m live, 5 m cut out. To S over P and Q: 4 m cut out, which is less.
    expect(ranked(plan)[0]).toMatchObject({ id: 'S', cuts: 2, blowsOut: true, drains: null });
    expect(ranked(plan)[0]!.liveLengthM).toBeCloseTo(16, 9);
    expect(ranked(plan)[0]!.why).toContain('levels not measured, so draining is not known');
    expect(ranked(plan)[0]!.why).toContain('2 cuts, ring opened between R and S');
    expect(ranked(plan)[0]!.legs).toEqual([
      expect.objectContaining({ joints: ['R', 'S'], lengthM: 4, action: 'cut at the tee' }),
    ]);
    expect(at(plan, 'P').deadLegLengthM).toBeCloseTo(5, 9);
    expect(at(plan, 'Q').deadLegLengthM).toBeCloseTo(9, 9);
    expect(ranked(plan)[0]!.pieceFates['S-R']).toBe('cut off');
  });

  test('ring with a tail: the tail is live, the shorter half of the ring is cut out', () => {
    const plan = zone({ laterals: [...square, pipe('Q', 'Z', [7, 4], [12, 4])] });
    expect(ranked(plan)[0]!.id).toBe('Z');
    expect(ranked(plan)[0]!.legs.map(({ joints, lengthM }) => [joints, lengthM])).toEqual([[['R', 'Q'], 9]]);
  });

  test('a ring with steel in one half: the other way round', () => {
    const steel = square.map((one) => (one.id === 'Q-S' ? { ...one, material: 'galvanised' } : one));
    const plan = zone({ laterals: steel });
    expect(at(plan, 'P')).toMatchObject({ feasible: true, galvanised: false });
    expect(at(plan, 'P').liveLengthM).toBeCloseTo(7, 9);
    expect(ranked(plan)[0]).toMatchObject({ id: 'Q' });
  });
});

describe('what bars a tie-in or sends it back', () => {
  const run = [
    pipe('V', 'A', [0, 0], [5, 0]),
    pipe('A', 'B', [5, 0], [10, 0]),
    pipe('B', 'C', [10, 0], [18, 0]),
  ];
  const changed = (id: string, more: Parameters<typeof pipe>[4]): Plan =>
    zone({ laterals: run.map((one) => (one.id === id ? { ...one, ...more } : one)) });

  test('assumed pipe: on the valve side of it', () => {
    const plan = changed('B-C', { measured: false });
    expect(
      ranked(plan)
        .map(({ id, feasible }) => [id, feasible])
        .slice(0, 2),
    ).toEqual([
      ['B', true],
      ['A', true],
    ]);
    expect(at(plan, 'C')).toMatchObject({ passesAssumed: true, barred: 'assumed pipe on the way' });
    expect(at(plan, 'C').why).toContain('assumed pipe');
    expect(lateralsOf(plan)[0]!.shape).toMatchObject({ kind: 'single run', unknownPart: true });
  });

  test('galvanised steel from the valve: a new start', () => {
    const plan = changed('V-A', { material: 'galvanised steel' });
    expect(ranked(plan)[0]).toMatchObject({ id: 'V', isValve: true, feasible: true });
    expect(ranked(plan)[0]!.legs.map(({ action }) => action)).toEqual(['cut at the tee']);
    expect(at(plan, 'C')).toMatchObject({ galvanised: true, feasible: false });
  });

  test('unknown bore: length without litres, and ranked by the bore that is taken', () => {
    const plan = changed('B-C', { size: null });
    expect(at(plan, 'B')).toMatchObject({ deadLegVolumeL: null, deadLegUnknownM: 8 });
    expect(at(plan, 'A').deadLegVolumeL).toBeCloseTo(litres(5), 9);
    expect(at(plan, 'A').deadLegUnknownM).toBeCloseTo(8, 9);
    expect(ranked(plan)[0]!.id).toBe('C');
  });

  test('a sag in the middle holds water: what lies more than 10 mm under the ridge behind it', () => {
    // 0 at the valve, -0.5 m at 5 m, -0.2 m at 10 m, -1 m at 18 m.
    const sag = zone({
      laterals: run,
      levels: [level('1', 0, 0, 0), level('2', 5, 0, -0.5), level('3', 10, 0, -0.2), level('4', 18, 0, -1)],
    });
    const end = at(sag, 'C');
    expect(end.drains).toBe(false);
    // Below -0.21 m: 0.29 of 0.5 m of the way down, 0.29 of 0.3 m of the way up.
    const way = 5 * (0.29 / 0.5) * Math.hypot(1, 0.1) + 5 * (0.29 / 0.3) * Math.hypot(1, 0.06);
    expect(end.trappedVolumeL).toBeCloseTo(litres(way), 9);
    expect(at(sag, 'A')).toMatchObject({ drains: true, trappedVolumeL: 0 });
    // The far end with a drain in the dip, and no blind tail behind the dip.
    expect(ranked(sag)[0]!.id).toBe('C');
    expect(end.drainAt).toEqual(['A']);
    expect(end.why).toContain('does not drain by itself: set a drain at A');
    expect(at(sag, 'A').cost.undrained).toBeCloseTo(end.cost.undrained, 12);
  });

  test('a sag between two joints is found in the ground, not at the joints', () => {
    const plan = zone({
      laterals: [pipe('V', 'E', [0, 0], [10, 0])],
      levels: [level('1', 0, 0, 0), level('2', 5, 0, -1), level('3', 10, 0, -0.1)],
    });
    expect(at(plan, 'E').drains).toBe(false);
    const way = 5 * (0.89 / 1) * Math.hypot(1, 0.2) + 5 * (0.89 / 0.9) * Math.hypot(1, 0.18);
    expect(at(plan, 'E').trappedVolumeL).toBeCloseTo(litres(way), 9);
    expect(at(plan, 'E').drainAt).toEqual(['V to E']);
  });

  test('a rise of 10 mm is level, of more is not', () => {
    const rising = (m: number): Plan =>
      zone({
        laterals: [pipe('V', 'E', [0, 0], [10, 0])],
        levels: [level('1', 0, 0, 0), level('2', 10, 0, m)],
      });
    expect(at(rising(0.0099), 'E').drains).toBe(true);
    expect(at(rising(0.0101), 'E').drains).toBe(false);
  });

  test('the low end, which drains, before the longer one that does not; half of that where no frost is', () => {
    // South 10 m falling, north 20 m rising by 1 m: 20 m of 3/4 in hold 8.8 L, 10 m 4.4 L.
    const plan = (lowestWinterC: number): Plan =>
      zone({
        laterals: [
          pipe('V', 'T', [0, 0], [5, 0]),
          pipe('T', 'N', [5, 0], [5, 20]),
          pipe('T', 'S', [5, 0], [5, -10]),
        ],
        levels: [level('1', 0, 0, 0), level('2', 5, 0, 0), level('3', 5, 20, 1), level('4', 5, -10, -0.5)],
        lowestWinterC,
      });
    expect(ranked(plan(-5))[0]).toMatchObject({ id: 'S', drains: true });
    expect(ranked(plan(0))[0]!.id).toBe('S');
    expect(at(plan(-5), 'N').why).toMatch(/^Behind S: \d\.\d\d gal would not drain/);
    const frost = at(plan(-5), 'N').cost.undrained;
    expect(at(plan(4), 'N').cost.undrained).toBeCloseTo(frost / 2, 12);
    expect(frost).toBeCloseTo(DRAIN_L + TRAPPED_L_PER_L.avoidable * at(plan(-5), 'N').trappedVolumeL, 12);
  });

  test('where no end drains the longest way counts for more than its water', () => {
    const plan = zone({
      laterals: run,
      levels: [level('1', 0, 0, 0), level('2', 10, 0, 0), level('3', 18, 0, 1)],
    });
    // B drains, and leaves a blind tail of 3.5 L.
    expect(at(plan, 'B')).toMatchObject({ drains: true, endOfLine: false });
    expect(ranked(plan)[0]).toMatchObject({ id: 'C', drains: false, drainAt: ['B'] });
  });
});

describe('beds', () => {
  const laterals = [pipe('V', 'A', [0, 0], [8, 0]), pipe('A', 'B', [8, 0], [20, 0])];
  const heads = [head('H1', [8, 0]), head('H2', [20, 0])];
  const beds = [bed('B1', 2, -2, 7, 4), bed('B2', 13, -2, 8, 4)];

  test('two beds across paving: two tie-ins, and why', () => {
    const plan = zone({ laterals, heads, areas: [...beds, area('P', 'paving', 9, -5, 4, 10)] });
    const [best] = ranked(plan);
    expect(best).toMatchObject({
      id: 'H1+H2',
      node: 'A+B',
      beds: ['B1', 'B2'],
      bedsMissed: [],
      fates: { H1: 'tie-in', H2: 'tie-in' },
    });
    expect(best!.why).toContain('H2 alone does not reach bed B1 without a new crossing');
    expect(at(plan, 'H2')).toMatchObject({ beds: ['B2'], bedsMissed: ['B1'] });
  });

  test('lawn between the beds parts nothing, nor does paving beside the way', () => {
    expect(ranked(zone({ laterals, heads, areas: [...beds, area('L', 'lawn', 9, -5, 4, 10)] }))[0]!.id).toBe(
      'H2',
    );
    const beside = zone({ laterals, heads, areas: [...beds, area('P', 'paving', 9, 0.5, 4, 10)] });
    expect(ranked(beside)[0]).toMatchObject({ id: 'H2', beds: ['B1', 'B2'] });
  });

  test('distance from the bed counts past 3 ft', () => {
    const plan = zone({ laterals, heads, areas: [bed('B1', 2, 1, 7, 4)] });
    expect(at(plan, 'H1')).toMatchObject({ distanceToBedM: 1, bedId: 'B1' });
    expect(at(plan, 'H1').cost.toBed).toBeCloseTo(0.5 * (1 - 0.9144), 9);
  });
});

describe('a valve shared with lawn', () => {
  const plan = zone({
    laterals: [
      pipe('V', 'T', [0, 0], [5, 0]),
      pipe('T', 'E', [5, 0], [15, 0]),
      pipe('T', 'L', [5, 0], [5, 8]),
    ],
    heads: [
      head('H1', [15, 0]),
      head('G1', [5, 8], { waters: 'lawn' }),
      head('G2', [5, 0], { waters: 'lawn', fate: 'keep' }),
    ],
  });

  test('lawn heads stay undecided, kept ones are kept, their leg waits for the split', () => {
    const tieIn = at(plan, 'H1');
    expect(tieIn.fates).toEqual({ H1: 'tie-in', G1: 'undecided', G2: 'keep' });
    expect(tieIn.legs[0]).toMatchObject({ action: 'leave until split', heads: ['G1'] });
    expect(tieIn.pieceFates['T-L']).toBe('undecided');
    expect(tieIn.why).toMatch(
      /^None until the zone is split, as heads G1, G2 stay sprays on this valve; then best: end of line;/,
    );
    expect(tieIn).toMatchObject({ feasible: false, untilSplit: ['G1', 'G2'] });
    expect(tieIn.blowsOut).toBe(false);
    expect(lateralsOf(plan)[0]!.shape).toMatchObject({ mixedValve: true });
  });
});

test('a valve that waters nothing but lawn has no tie-in, and it is said', () => {
  const plan = zone({
    laterals: [pipe('V', 'E', [0, 0], [5, 0])],
    heads: [head('G', [5, 0], { waters: 'lawn' })],
  });
  const [lawn] = tieInsOf(plan);
  expect(lawn!.candidates).toEqual([]);
  expect(lawn!.notices.map(({ rule }) => rule)).toEqual(['tie-in-all-stays-spray']);
});

describe('pressure', () => {
  test('static less the curve at the drip flow, less friction and lift', () => {
    const plan: Plan = {
      ...zone({
        supplies: [supply('V', [0, 0], { pressureKpa: null })],
        laterals: [pipe('V', 'E', [0, 0], [100, 0])],
        levels: [level('1', 0, 0, 0), level('2', 100, 0, 3)],
      }),
    };
    expect(at(plan, 'E').pressureKpa).toBeNull();
    const known = { ...plan, water: { ...plan.water, staticKpa: 60 * PSI } };
    const tieIn = at(known, 'E');
    // 3 m of lift at 9.80665 kPa a metre.
    expect(tieIn.liftKpa).toBeCloseTo(29.42, 2);
    expect(tieIn.pressureKpa).toBeCloseTo(60 * PSI - tieIn.liftKpa - tieIn.pipeLossKpa, 9);
    const lower = { ...known, water: { ...known.water, lowStaticKpa: 50 * PSI } };
    expect(at(lower, 'E').pressureKpa).toBeCloseTo(tieIn.pressureKpa! - 10 * PSI, 9);
  });

  test('friction after Darcy and Weisbach: laminar by hand', () => {
    const plan = zone({ laterals: [pipe('V', 'E', [0, 0], [10, 0])] });
    const [zoneTieIns] = tieInsOf(plan, { dripFlowLph: () => 60 });
    // Hagen and Poiseuille: 128 nu L Q / (pi d^4) in m2/s2 is kPa of water; nu 1.0032e-6 m2/s at 20 C, Re 895.
    const lossKpa = (128 * 1.0032e-6 * 10 * (60 / 3.6e6)) / (Math.PI * 0.023622 ** 4);
    expect(zoneTieIns!.candidates[0]!.pipeLossKpa).toBeCloseTo(lossKpa, 6);
  });
});

describe('making a tie-in', () => {
  test('fates of heads and pipes in one edit; a pipe is cut where its parts differ', () => {
    const plan = zone({
      laterals: [pipe('V', 'E', [0, 0], [20, 0]), pipe('', 'S', [12, 0.1], [12, 9])],
      heads: [head('H1', [4, 0]), head('H2', [20, 0]), head('H3', [12, 9]), head('off', [3, 3])],
    });
    const tieIn = at(plan, 'H3');
    expect(tieIn.fates).toEqual({ H1: 'cap', H2: 'cut off', H3: 'tie-in', off: 'undecided' });
    expect(tieIn.splits).toEqual([
      {
        lateralId: 'V-E',
        parts: [
          { from: 'V', to: 'N1', a: [0, 0], b: [12, 0.1], fate: 'live' },
          { from: 'N1', to: 'E', a: [12, 0.1], b: [20, 0], fate: 'cut off' },
        ],
      },
    ]);
    const made = tieInEdits(plan, tieIn).apply(plan);
    expect([...made.heads].map(({ id, fate }) => [id, fate])).toEqual([
      ['H1', 'cap'],
      ['H2', 'cut off'],
      ['H3', 'tie-in'],
      ['off', 'undecided'],
    ]);
    expect([...made.laterals].map(({ from, to, fate }) => [from, to, fate])).toEqual([
      ['V', 'N1', 'live'],
      ['', 'S', 'live'],
      ['N1', 'E', 'cut off'],
    ]);
    // What follows from the plan is as before, and making it again changes nothing more.
    expect(ranked(made).map(({ id }) => id)).toEqual(ranked(plan).map(({ id }) => id));
    expect(at(made, 'H3').splits).toEqual([]);
    const again = tieInEdits(made, at(made, 'H3')).apply(made);
    expect([...again.laterals]).toEqual([...made.laterals]);
  });

  test('records that are gone meanwhile are passed over', () => {
    const plan = zone({ laterals: [pipe('V', 'E', [0, 0], [20, 0])], heads: [head('H1', [4, 0])] });
    const tieIn = at(plan, 'H1');
    expect(tieIn.splits).toHaveLength(1);
    const bare = { ...plan, laterals: plan.laterals.without(['V-E']), heads: plan.heads.without(['H1']) };
    const made = tieInEdits(bare, tieIn).apply(bare);
    expect([made.laterals.size, made.heads.size]).toEqual([0, 0]);
  });
});

describe('remembered', () => {
  test('the same tables give the same answer, a changed one another', () => {
    const plan = zone({ laterals: [pipe('V', 'E', [0, 0], [20, 0])] });
    const first = tieInsOf(plan);
    expect(tieInsOf({ ...plan })).toBe(first);
    expect(tieInsOf({ ...plan, climate: { ...plan.climate, lowestWinterC: 5 } })).not.toBe(first);
    expect(lateralsOf(plan)[0]).toBe(lateralsOf({ ...plan })[0]);
  });
});

describe('limits of the search', () => {
  const rules = (plan: Plan): string[] =>
    tieInsOf(plan, { dripFlowLph: () => 300 })[0]!.notices.map((n) => n.rule);

  test('every joint and every pair up to 200 pieces; beyond, pairs of ends only, and it is said', () => {
    const [full] = tieInsOf(largeNet('tree', 200), { dripFlowLph: () => 300 });
    expect(full!.evaluated).toEqual({ singles: 201, pairs: (200 * 199) / 2 });
    expect(full!.notices).toEqual([]);
    const plan = largeNet('tree', 204);
    const [more] = tieInsOf(plan, { dripFlowLph: () => 300 });
    const ends = lateralsOf(plan)[0]!.joints.filter(
      ({ isEnd, supplies }) => isEnd && supplies.length === 0,
    ).length;
    expect(more!.evaluated).toEqual({ singles: 205, pairs: (ends * (ends - 1)) / 2 });
    expect(rules(plan)).toEqual(['tie-in-pairs-of-ends']);
  });

  test('up to four rings every opening; with more the shortest ways, and it is said', () => {
    const ladder = (rings: number): Plan =>
      zone({
        laterals: Array.from({ length: rings + 1 }, (_, i) => [
          pipe(`A${i}`, `B${i}`, [3 * i, 0], [3 * i, 2]),
          ...(i < rings
            ? [
                pipe(`A${i}`, `A${i + 1}`, [3 * i, 0], [3 * i + 3, 0]),
                pipe(`B${i}`, `B${i + 1}`, [3 * i, 2], [3 * i + 3, 2]),
              ]
            : []),
        ]).flat(),
      });
    expect(rules(ladder(4))).toEqual([]);
    expect(rules(ladder(5))).toEqual(['tie-in-many-rings']);
    // Out by one rail and back by the other: the last rung is live, the other four of 2 m are cut out.
    const best = ranked(ladder(4))[0]!;
    expect(best.deadLegLengthM).toBeCloseTo(4 * 2, 9);
    expect(ranked(ladder(5)).every(({ liveLengthM }) => liveLengthM <= 5 * 3 + 2)).toBe(true);
  });
});
