import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { GALLON_L, GPM_LPH, INCH_MM } from '../../base/units.ts';
import { findings } from '../../derive/checks/findings-for-tests.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Plan } from '../../plan/records.ts';
import type { FillChoices, Filled } from './choices.ts';
import { fillDefaults } from './defaults.ts';
import { fillBed } from './fill-bed.ts';
import { rateMmPerH } from './figures.ts';
import { area, bedPlan, CHOICES, FT, IN, rectangle } from './plan-for-fill-tests.ts';

/** A bed of 6 m by 3 m with rows 0.5 m apart, 0.25 m from the edge, emitters every 0.5 m. */
const ROUND: Partial<FillChoices> = { rowSpacingM: 0.5, emitterSpacingM: 0.5, edgeM: 0.25 };
const oblong = area('B', rectangle(0, 0, 6, 3));

function filled(plan: Plan, ask: Partial<FillChoices> = {}): Filled {
  const result = fillBed(plan, 'B', { ...CHOICES, ...ROUND, ...ask });
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value;
}
const problem = (plan: Plan, ask: Partial<FillChoices> = {}, id = 'B') => {
  const result = fillBed(plan, id, { ...CHOICES, ...ROUND, ...ask });
  return result.ok ? null : result.problem;
};
const rowsOf = ({ runs }: Filled) => runs.filter(({ inline }) => inline);
const headersOf = ({ runs }: Filled) => runs.filter(({ inline }) => !inline);
const near = ([x, y]: Point, [u, v]: Point) => distance([x, y], [u, v]) < 0.002;
const kinds = ({ notes }: Filled) => notes.map(({ kind }) => kind);

describe('rows', () => {
  test('count and spacing: floor((width - 2 x edge) / spacing) + 1, spread evenly', () => {
    // (3 - 2 x 0.25) / 0.5 = 5; with 0.6: 4.17, four gaps of 0.625.
    expect(filled(bedPlan([oblong])).figures).toMatchObject({ rows: 6, pieces: 6 });
    const wide = filled(bedPlan([oblong]), { rowSpacingM: 0.6 });
    expect(wide.figures.rows).toBe(5);
    expect(wide.figures.rowSpacingM).toBeCloseTo(0.625, 3);
    const ys = rowsOf(wide).map(({ path }) => path[0]![1]);
    ys.forEach((y, i) => expect(y).toBeCloseTo(0.25 + i * 0.625, 3));
  });

  test('not spread: the spacing as asked, what is left over at both edges', () => {
    const ys = rowsOf(filled(bedPlan([oblong]), { rowSpacingM: 0.6, equalise: false })).map(
      ({ path }) => path[0]![1],
    );
    expect(ys).toHaveLength(5);
    ys.forEach((y, i) => expect(y).toBeCloseTo(0.3 + i * 0.6, 3));
  });

  test('emitters of every other row stand between those of the others', () => {
    const places = (stagger: boolean) =>
      rowsOf(filled(bedPlan([oblong]), { stagger })).map(({ path, inline }) =>
        Math.abs((path[0]![0] + (path[0]![0] < 3 ? 1 : -1) * inline!.firstM) % 0.5),
      );
    const [a, b, c] = places(true);
    expect(Math.abs(a! - b!)).toBeCloseTo(0.25, 6);
    expect(a).toBeCloseTo(c!, 6);
    expect(new Set(places(false).map((x) => x.toFixed(6))).size).toBe(1);
  });

  test('application rate: 231 x gph / (row in x emitter in) gives in/h', () => {
    const inPerH = (231 * 0.6) / (18 * 18);
    expect(rateMmPerH(CHOICES.ratedFlowLph, 18 * IN, 18 * IN) / INCH_MM).toBeCloseTo(inPerH, 9);
  });

  test('short pieces are left out and counted', () => {
    // A tower beside the bed, narrower than one spacing.
    const teeth: Point[] = [
      [0, 0],
      [6, 0],
      [6, 3],
      [1, 3],
      [1, 1],
      [0.4, 1],
      [0.4, 3],
      [0, 3],
    ];
    const result = filled(bedPlan([area('B', teeth)]), { edgeM: 0, emitterSpacingM: 0.6, rowSpacingM: 0.3 });
    // Rows every 0.3 m from 0 to 3 m; those over 1 m would have a piece in the tower.
    expect(result.notes).toContainEqual({ kind: 'dropped', count: 7 });
    expect(result.figures).toMatchObject({ rows: 11, pieces: 11 });
    for (const { path } of rowsOf(result))
      expect(distance(path[0]!, path[1]!)).toBeGreaterThanOrEqual(0.6 - 1e-9);
  });
});

describe('direction', () => {
  test('along the long edge, also of a bed that lies askew', () => {
    const askew: Point[] = [
      [0, 0],
      [8, 6],
      [6.8, 7.6],
      [-1.2, 1.6],
    ];
    expect(filled(bedPlan([area('B', askew)])).figures.directionDeg).toBeCloseTo(36.87, 2);
  });

  test('along the contour: across the fall, not along the edge, unless both nearly agree', () => {
    const contour = (east: number, north: number) =>
      filled(bedPlan([oblong], east, north), { direction: 'contour' }).figures.directionDeg;
    expect(contour(0.3, 0)).toBeCloseTo(90, 6);
    // Falls along 53.13 degrees.
    expect(contour(0.3, 0.4)).toBeCloseTo(143.13, 2);
    expect(contour(0.01, 0.3)).toBe(0);
  });

  test('level ground has no contour: the long edge, and it is said', () => {
    const result = filled(bedPlan([oblong]), { direction: 'contour' });
    expect(result.figures.directionDeg).toBe(0);
    expect(kinds(result)).toContain('level');
  });

  test('a typed direction; down a slope it is said', () => {
    const result = filled(bedPlan([oblong], 0, 0.3), { direction: -90, lowerThirdFactor: 1.25 });
    expect(result.figures.directionDeg).toBe(90);
    expect(kinds(result)).toEqual(expect.arrayContaining(['up-and-down', 'no-lower-third']));
    expect(result.figures.lowerSpacingM).toBeNull();
  });

  test('on a slope more rows fit between the same edges in plan', () => {
    // 2.5 m in plan are 3.02 m on ground that rises by 0.68: six gaps of 0.5 m instead of five.
    expect(filled(bedPlan([oblong], 0, 0.68), { direction: 'contour' }).figures.rows).toBe(7);
  });
});

describe('headers', () => {
  test('along both ends, with a corner on each row end; the start is by the water', () => {
    const plan = { ...bedPlan([oblong]), supplies: Table.of([supply('V', [7, 4])]) };
    const result = filled(plan);
    const [supplyHeader, flush] = headersOf(result);
    expect(supplyHeader!.name).toBe('Supply header');
    expect(near(supplyHeader!.path[0]!, [5.75, 2.75])).toBe(true);
    expect(result.starts).toEqual([supplyHeader!.path[0]]);
    for (const { path } of rowsOf(result)) {
      // From the supply header to the flush header, by the very same places.
      expect(supplyHeader!.path).toContain(path[0]);
      expect(flush!.path).toContain(path[1]);
    }
    expect(result.flushEnds).toEqual([{ run: result.runs.indexOf(flush!), end: 'end' }]);
    expect(near(flush!.path.at(-1)!, [0.25, 0.25])).toBe(true);
  });

  test('a control set goes before the supply, and a tie-in stands between them', () => {
    const start = (plan: Plan) => filled(plan).starts[0]!;
    const base = { ...bedPlan([oblong]), supplies: Table.of([supply('V', [-1, 0])]) };
    expect(near(start(base), [0.25, 0.25])).toBe(true);
    const set = { ...base, controls: Table.of([control('C', [6, 3])]) };
    expect(near(start(set), [5.75, 2.75])).toBe(true);
  });

  test('the place to open is the lowest of the flush header', () => {
    const result = filled(bedPlan([oblong], 0, 0.3));
    const flush = headersOf(result)[1]!;
    expect(flush.path.at(-1)![1]).toBeCloseTo(0.25, 3);
  });

  test('water goes round what is left out, whether paving, a hole or another bed', () => {
    const island = rectangle(2, 1, 1, 1);
    const hole = filled(bedPlan([area('B', oblong.outline, { holes: [island] })]));
    const paving = filled(bedPlan([oblong, area('P', island, { use: 'paving' })]));
    const other = filled(bedPlan([oblong, area('Q', island)]), { leaveOut: ['Q'] });
    for (const result of [hole, paving, other]) {
      const loop = headersOf(result).find(({ name }) => name.startsWith('Loop'))!;
      expect(loop.path[0]).toEqual(loop.path.at(-1));
      expect(result.figures.pieces).toBeGreaterThan(result.figures.rows);
      expect(kinds(result)).toContain('through-rows');
    }
    expect(filled(bedPlan([oblong, area('Q', island)])).figures.pieces).toBe(6);
  });

  test('a notch: its header passes water to the rows behind, the outer one is opened', () => {
    const notched: Point[] = [
      [0, 0],
      [8, 0],
      [8, 5],
      [5, 5],
      [5, 2],
      [3, 2],
      [3, 5],
      [0, 5],
    ];
    const plan = { ...bedPlan([area('B', notched)]), supplies: Table.of([supply('V', [-1, 0])]) };
    const headers = headersOf(filled(plan));
    expect(headers.map(({ name }) => name)).toEqual(['Supply header', 'Flush header', 'Header 1']);
    expect(headers[1]!.path.every(([x]) => Math.abs(x - 7.75) < 0.01)).toBe(true);
  });

  test('a neck too narrow for rows parts the bed: each part has its own start', () => {
    const dumbbell: Point[] = [
      [0, 0],
      [3, 0],
      [3, 1.4],
      [5, 1.4],
      [5, 0],
      [8, 0],
      [8, 3],
      [5, 3],
      [5, 1.7],
      [3, 1.7],
      [3, 3],
      [0, 3],
    ];
    const result = filled(bedPlan([area('B', dumbbell)]));
    expect(result.starts).toHaveLength(2);
    expect(result.notes).toContainEqual({ kind: 'parts', count: 2 });
    expect(headersOf(result).map(({ name }) => name)).toEqual([
      'Supply header 1',
      'Flush header 1',
      'Supply header 2',
      'Flush header 2',
    ]);
  });

  test('a single row needs none: it begins by the water and is opened at its end', () => {
    const plan = {
      ...bedPlan([area('B', rectangle(0, 0, 6, 0.8))]),
      supplies: Table.of([supply('V', [9, 0])]),
    };
    const result = filled(plan);
    expect(result.runs).toHaveLength(1);
    expect(result.runs[0]!.path[0]![0]).toBeCloseTo(5.75, 3);
    expect(result.flushEnds).toEqual([{ run: 0, end: 'end' }]);
    expect(result.starts).toEqual([result.runs[0]!.path[0]]);
  });

  test('back and forth: one run through all rows', () => {
    const { runs, flushEnds, figures } = filled(bedPlan([oblong]), { headers: 'serpentine' });
    expect(runs).toHaveLength(1);
    expect(flushEnds).toEqual([{ run: 0, end: 'end' }]);
    // Six rows of 5.5 m and five turns of 0.5 m.
    expect(figures.lengthM).toBeCloseTo(6 * 5.5 + 5 * 0.5, 2);
    expect(figures.headerLengthM).toBe(0);
  });

  test('none: rows only, each of which wants water on the side nearer to it', () => {
    const { runs, flushEnds, starts, notes } = filled(bedPlan([oblong]), { headers: 'none' });
    expect(runs.every(({ inline }) => inline)).toBe(true);
    expect(flushEnds).toEqual([]);
    expect(starts).toEqual(runs.map(({ path }) => path[0]));
    expect(starts).toHaveLength(6);
    expect(notes.map(({ kind }) => kind)).not.toContain('parts');
    for (const [x, startX] of [
      [-2, 0.25],
      [8, 5.75],
    ] as const) {
      // prettier-ignore
      const plan = { ...bedPlan([oblong]), supplies: Table.of([supply('V', [x, 1])]) };
      for (const start of filled(plan, { headers: 'none' }).starts) expect(start[0]).toBeCloseTo(startX, 3);
    }
  });
});

describe('notes on limits', () => {
  test('water faster than the soil takes it', () => {
    const plan = bedPlan([oblong]);
    const soil = (intakeMmPerH: number) => ({ ...plan, soil: { ...plan.soil, intakeMmPerH } });
    // 2.27 L/h on 0.25 m2 are 9.1 mm/h.
    expect(kinds(filled(soil(8)))).toContain('rate-over-intake');
    expect(kinds(filled(soil(10)))).not.toContain('rate-over-intake');
  });

  test('a row longer than a lateral fed at one end', () => {
    const long = bedPlan([area('B', rectangle(0, 0, 420 * FT, 10 * FT))]);
    const count = (result: Filled) => result.notes.find(({ kind }) => kind === 'over-limit');
    expect(count(filled(long, { emitterSpacingM: 12 * IN, ratedFlowLph: 4 }))).toMatchObject({
      count: filled(long).figures.rows,
    });
    expect(count(filled(bedPlan([oblong])))).toBeUndefined();
  });

  test('spacing beyond what the soil spreads, and an unusual distance from the edge', () => {
    const plan = bedPlan([oblong]);
    const sand = { ...plan, soil: { ...plan.soil, texture: 'sand' } };
    expect(kinds(filled(sand, { edgeM: 0.1 }))).toContain('over-spread');
    expect(kinds(filled(sand, { edgeM: 0.1 }))).not.toContain('edge');
    expect(kinds(filled(sand))).toContain('edge');
  });
});

const INCH = FT / 12;

describe('a bed filled with the usual values lies as the checks ask', () => {
  test.each([0, 0.1, 0.4])('on ground that rises by %f', (rise) => {
    for (const depthFt of [5, 8, 11, 14, 26]) {
      const bare = bedPlan([area('B', rectangle(0, 0, 30 * FT, depthFt * FT))], 0, rise);
      const plan = { ...bare, soil: { ...bare.soil, texture: 'loam' } };
      const result = fillBed(plan, 'B', fillDefaults(plan, 'B').choices);
      if (!result.ok) throw new Error(result.problem.what);
      const runs = Table.of(result.value.runs.map((run, i) => ({ ...run, id: `R${i}` })));
      expect(findings({ ...plan, runs }, 'bend-tight'), `${depthFt} ft, bends`).toEqual([]);
      // Few rows spread evenly over a narrow bed lie far apart: that is told.
      const { rowSpacingM, rows } = result.value.figures;
      const isWide = rows > 1 && rowSpacingM > 1.15 * 18 * INCH;
      const told = findings({ ...plan, runs }, 'spacing-over-spread').length > 0;
      if (!isWide) expect(told, `${depthFt} ft, spacing`).toBe(false);
      else if (rise === 0) expect(told, `${depthFt} ft, spacing`).toBe(true);
    }
  });
});

describe('flow of the bed against what carries it', () => {
  // 60 by 30 m with 0.6 gph on each quarter of a square metre: about 4300 gph or 72 gpm.
  const plan = bedPlan([area('B', rectangle(0, 0, 60, 30))]);
  const noteOf = (given: Plan, kind: 'header' | 'zone-flow', ask: Partial<FillChoices> = {}) =>
    filled(given, ask).notes.find((note) => note.kind === kind);
  const set = control('C', [-1, 0], { name: 'Set 1' });

  test('headers of 3/4 in over 480 gph, and tubing that would do', () => {
    expect(noteOf(plan, 'header', { headerTubing: 'blank-three-quarter' })).toMatchObject({
      flowLph: expect.closeTo(480 * GALLON_L, 6),
      wider: null,
    });
    // 12 by 12 m: about 340 gph are too much for 1/2 in and fit 3/4 in.
    const small = bedPlan([area('B', rectangle(0, 0, 12, 12))]);
    expect(noteOf(small, 'header')).toMatchObject({ wider: expect.stringContaining('3/4 in') });
    expect(noteOf(small, 'header', { headerTubing: 'blank-three-quarter' })).toBeUndefined();
    // 16 by 16 m: about 610 gph; 5 ft/s in a bore of 1.049 in carries 809 gph.
    const middle = bedPlan([area('B', rectangle(0, 0, 16, 16))]);
    expect(noteOf(middle, 'header', { headerTubing: 'blank-three-quarter' })).toMatchObject({
      wider: expect.stringMatching(/^1 in/),
    });
  });

  test('regulator, filter and valve of the nearest control set', () => {
    const gpm = (n: number) => expect.closeTo(n * GPM_LPH, 3);
    expect(noteOf({ ...plan, controls: Table.of([set]) }, 'zone-flow')).toMatchObject({
      control: 'Set 1',
      over: [
        { part: 'regulator', mostLph: gpm(8) },
        { part: 'filter', mostLph: gpm(8) },
      ],
      largerParts: false,
      zones: 2,
    });
    const valve = { ...supply('V', [-1, 0]), maxFlowLph: 5 * GPM_LPH };
    const small = bedPlan([area('B', rectangle(0, 0, 12, 12))]);
    expect(noteOf(small, 'zone-flow')).toBeUndefined();
    expect(noteOf({ ...small, controls: Table.of([set]) }, 'zone-flow')).toBeUndefined();
    expect(noteOf({ ...small, supplies: Table.of([valve]) }, 'zone-flow')).toMatchObject({
      over: [{ part: 'valve', mostLph: gpm(5) }],
      zones: 2,
    });
    expect(noteOf(plan, 'zone-flow')).toMatchObject({ control: null, largerParts: false });
  });
});

describe('what cannot be', () => {
  test('each is named with its place', () => {
    const plan = bedPlan([oblong, area('W', rectangle(0, 0, 1, 1), { use: 'paving', name: 'Walk' })]);
    expect(problem(plan, {}, 'X')).toMatchObject({ where: 'bed', what: expect.stringContaining('“X”') });
    expect(problem(plan, {}, 'W')!.what).toContain('Walk');
    for (const key of [
      'rowSpacingM',
      'emitterSpacingM',
      'ratedFlowLph',
      'edgeM',
      'lowerThirdFactor',
    ] as const)
      for (const value of [NaN, Infinity, -1, 1e9])
        expect(problem(plan, { [key]: value }), `${key} ${value}`).toMatchObject({ where: key });
    expect(problem(plan, { direction: NaN })).toMatchObject({ where: 'direction' });
    expect(problem(plan, { law: 'point-pc' })).toMatchObject({ where: 'law' });
    expect(problem(plan, { tubing: 'blank-half-600' })).toMatchObject({ where: 'tubing' });
    expect(problem(plan, { headerTubing: 'none' })).toMatchObject({ where: 'headerTubing' });
  });

  test('no room, no area, broken outlines', () => {
    const of = (outline: readonly Point[], ask: Partial<FillChoices> = {}) =>
      problem(bedPlan([area('B', outline)]), ask)?.what;
    expect(of(rectangle(0, 0, 6, 0.4))).toContain('no room');
    expect(of([])).toContain('no room');
    expect(of([[0, 0]])).toContain('no room');
    expect(
      of([
        [0, 0],
        [5, 0],
        [2, 0],
      ]),
    ).toContain('no room');
    expect(
      of([
        [0, 0],
        [NaN, 3],
        [4, 4],
      ]),
    ).toContain('no room');
    expect(of(rectangle(0, 0, 2000, 2000), { rowSpacingM: 0.1 })).toContain('rows');
    expect(of(rectangle(0, 0, 400, 200), { emitterSpacingM: 0.05 })).toContain('emitters');
  });

  test('all of the bed left out', () => {
    const plan = bedPlan([oblong, area('P', rectangle(-1, -1, 9, 9), { use: 'building' })]);
    expect(problem(plan)!.what).toContain('no room');
  });

  test('an outline that crosses itself is filled where it encloses ground', () => {
    const bow: Point[] = [
      [0, 0],
      [6, 4],
      [6, 0],
      [0, 4],
    ];
    expect(filled(bedPlan([area('B', bow)])).figures.pieces).toBeGreaterThan(4);
  });

  test('far from the origin nothing changes', () => {
    const far = area('B', rectangle(500_000, 4_000_000, 6, 3));
    expect(filled({ ...emptyPlan('far'), areas: Table.of([far]) }).figures).toMatchObject({
      rows: 6,
      pieces: 6,
    });
  });
});

describe('usual values', () => {
  const withTexture = (texture: string, north: number) => {
    const plan = bedPlan([oblong], 0, north);
    return fillDefaults({ ...plan, soil: { ...plan.soil, texture } }, 'B');
  };

  test('by the soil', () => {
    const { choices } = withTexture('loamy sand', 0);
    expect(choices.rowSpacingM).toBeCloseTo(12 * IN, 9);
    expect(choices.ratedFlowLph / 3.785411784).toBeCloseTo(0.9, 9);
    expect(withTexture('clay', 0).choices.rowSpacingM).toBeCloseTo(24 * IN, 9);
    expect(withTexture('nonsense', 0)).toMatchObject({ textureKnown: false });
    expect(withTexture('nonsense', 0).choices.rowSpacingM).toBeCloseTo(18 * IN, 9);
  });

  test('by the slope', () => {
    expect(withTexture('loam', 0.3).choices).toMatchObject({ direction: 'contour', lowerThirdFactor: 1.25 });
    expect(withTexture('loam', 0.02).choices).toMatchObject({ direction: 'long edge', lowerThirdFactor: 1 });
  });
});
