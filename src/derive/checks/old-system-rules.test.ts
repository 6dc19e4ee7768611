import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type {
  Controller,
  LateralPipe,
  Plan,
  Plant,
  SitePhoto,
  Watering,
  WaterUse,
} from '../../plan/records.ts';
import { blank, control, dripline, emitter, lateral, level, planOf, supply } from '../plan-for-tests.ts';
import { riserOf } from './control-threads.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';
import { every, fillOf, FT, grid, headOf, plantOf } from './site-for-tests.ts';

describe('31: dead legs', () => {
  const rule = 'dead-leg';
  const site = (lengthM: number, more: Partial<LateralPipe> = {}): Plan =>
    planOf({
      laterals: [
        lateral('V', 'T', [0, 0], [5, 0], { fate: 'live' }),
        lateral('T', 'A', [5, 0], [5, lengthM], { fate: 'dead', ...more }),
      ],
    });
  test('over 10 ft is an error, over 0.1 gal a word; the fix cuts', () => {
    // 3/4 in Class 200 holds 3.5 gal in 100 ft: 0.1 gal in 2.9 ft.
    const long = findings(site(10.1 * FT), rule)[0]!;
    expect(long).toMatchObject({ severity: 'error', refs: [{ table: 'laterals', id: 'T-A' }] });
    expect(findings(site(9.9 * FT), rule)[0]!.severity).toBe('info');
    expect(findings(site(2.5 * FT), rule)).toEqual([]);
    expect(findings(site(10.1 * FT, { fate: 'cut off' }), rule)).toEqual([]);
    expect(findings(site(10.1 * FT, { fate: 'undecided' }), rule)).toEqual([]);
    const after = fixed(site(10.1 * FT), rule);
    expect(after.laterals.get('T-A')!.fate).toBe('cut off');
    expect(findings(after, rule)).toEqual([]);
  });
  test('half a gallon in short wide pipe; legs from one tee count apart, pieces in a row together', () => {
    expect(findings(site(9 * FT, { size: '1-1/2' }), rule)[0]!.severity).toBe('error');
    const two = site(6 * FT);
    const tee: Plan = {
      ...two,
      laterals: two.laterals.with(lateral('T', 'B', [5, 0], [9, 0], { fate: 'dead' })),
    };
    expect(findings({ ...tee, laterals: tee.laterals.without(['T-A']) }, rule)[0]!.severity).toBe('error');
    const row: Plan = {
      ...two,
      laterals: two.laterals.with(lateral('A', 'B', [5, 6 * FT], [5, 11 * FT], { fate: 'dead' })),
    };
    expect(findings(row, rule)[0]!).toMatchObject({ severity: 'error', refs: [{}, {}] });
    const pair: Plan = {
      ...two,
      laterals: two.laterals.with(lateral('T', 'B', [5, 0], [5, -6 * FT], { fate: 'dead' })),
    };
    expect(findings(pair, rule)[0]!.severity).toBe('info');
  });
  test('limits, and length on the ground', () => {
    expect(
      findings(limited(site(10.1 * FT), { 'dead-leg.length': 4, 'dead-leg.volume': 9 }), rule)[0]!.severity,
    ).toBe('info');
    expect(findings(limited(site(5 * FT), { 'dead-leg.told': 5 }), rule)).toEqual([]);
    const steep: Plan = {
      ...site(9 * FT),
      levels: Table.of([level('a', 0, 0, 0), level('b', 9, 0, 0), level('c', 0, 9, 9)]),
    };
    expect(findings(steep, rule)[0]!.severity).toBe('error');
  });
});

describe('32: steel before the drip', () => {
  const site = (material: string, fate: LateralPipe['fate']): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      laterals: [lateral('V', 'H1', [0, 0], [5, 0], { material, fate })],
      controls: [control('C', [5, 0])],
      runs: [
        dripline('R', [
          [5, 0],
          [9, 0],
        ]),
      ],
    }),
    heads: Table.of([headOf('H1', [5, 0], { fate: 'tie-in' })]),
  });
  test('galvanised pipe that is live, or carries water; not plastic, not what is cut off', () => {
    const told = findings(site('galvanized', 'live'), 'tie-in-galvanised')[0]!;
    expect(told.severity).toBe('error');
    expect(told.refs).toEqual([
      { table: 'laterals', id: 'V-H1' },
      { table: 'heads', id: 'H1' },
    ]);
    expect(findings(site('galvanized', 'undecided'), 'tie-in-galvanised')).toHaveLength(1);
    expect(findings(site('galvanized', 'cut off'), 'tie-in-galvanised')).toEqual([]);
    expect(findings(site('PVC Class 200', 'live'), 'tie-in-galvanised')).toEqual([]);
  });
});

describe('34: backflow preventer', () => {
  const site = (backflowType: string, watering: Watering | null): Plan => {
    const plan = planOf({
      supplies: [supply('V', [0, 0], { watering })],
      controls: [control('C', [0, 0])],
      runs: [
        dripline('R', [
          [0, 0],
          [9, 0],
        ]),
      ],
    });
    return { ...plan, water: { ...plan.water, backflowType, backflowZM: 0.1 } };
  };
  const run = (minutesPerStart: number, startsPerDay: number): Watering => ({
    minutesPerStart,
    startsPerDay,
    intervalDays: 2,
  });
  test('hours as they are set for the valve', () => {
    const told = findings(site('AVB', run(250, 3)), 'backflow-hours')[0]!;
    expect(told).toMatchObject({ severity: 'error', refs: [{ table: 'supplies', id: 'V' }] });
    expect(told.message).toContain('12.5 h a day');
    expect(findings(site('AVB', run(240, 3)), 'backflow-hours')).toEqual([]);
    expect(findings(site('PVB', run(250, 3)), 'backflow-hours')).toEqual([]);
    expect(
      findings(limited(site('AVB', run(250, 3)), { 'backflow-hours.most': 13 }), 'backflow-hours'),
    ).toEqual([]);
  });
  test('height by the plan’s limit', () => {
    expect(findings(site('AVB', null), 'backflow-height')[0]!.severity).toBe('error');
    expect(findings(limited(site('AVB', null), { 'backflow-height.avb': 0.05 }), 'backflow-height')).toEqual(
      [],
    );
  });
});

describe('35: joints', () => {
  const rows = every(0.5);
  test('rows on a header of another size that looks alike, by the fittings', () => {
    const site = (headerTubing: string, fittings: Plan['practice']['fittings'] = null): Plan => {
      const plan = grid(rows, { headerTubing });
      return { ...plan, practice: { ...plan.practice, fittings } };
    };
    expect(findings(site('blank-17'), 'joint-adapter')).toEqual([]);
    const told = findings(site('blank-half-600'), 'joint-adapter')[0]!;
    expect(told.places).toHaveLength(rows.length - 1);
    expect(told.message).toContain('0.559 in bore');
    expect(findings(site('blank-half-600', 'compression'), 'joint-adapter')).toEqual([]);
    expect(findings(site('blank-half-600', 'press-in'), 'joint-adapter')[0]!.message).toContain(
      '0.700 in outside',
    );
    expect(findings(limited(site('blank-half-600'), { 'joint-match.bore': 1.2 }), 'joint-adapter')).toEqual(
      [],
    );
    const after = fixed(site('blank-half-600'), 'joint-adapter');
    expect(after.runs.get('H')!.tubing).toBe('blank-17');
    expect(findings(after, 'joint-adapter')).toEqual([]);
    const filled: Plan = {
      ...site('blank-half-600'),
      fills: Table.of([fillOf(['H', ...rows.map((_, k) => `R${k}`)])]),
    };
    expect(fixed(filled, 'joint-adapter').fills.get('F')!.choices).toMatchObject({
      headerTubing: 'blank-17',
    });
    // Nobody takes 3/4 in for 1/2 in: a reducing fitting is ordered.
    expect(findings(site('blank-three-quarter'), 'joint-adapter')).toEqual([]);
    expect(findings(site('blank-three-quarter'), 'joint-reducer')[0]!.severity).toBe('info');
  });
  test('end to end it is an error', () => {
    const line = (second: string): Plan =>
      planOf({
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [blank('A', [0, 0], [5, 0]), { ...blank('B', [5, 0], [9, 0]), tubing: second }],
      });
    expect(findings(line('blank-half-600'), 'joint-size')).toEqual([]);
    expect(findings(line('blank-half-520'), 'joint-size')[0]!).toMatchObject({
      severity: 'error',
      places: [[5, 0]],
    });
  });
  test('runs that meet twice, once as a tee and once end to end', () => {
    const plan = planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [
        blank('A', [0, 0], [5, 0], [9, 0]),
        { ...blank('B', [5, 0], [5, 2], [9, 2], [9, 0]), tubing: 'blank-half-520' },
      ],
    });
    expect(findings(plan, 'joint-size')[0]!.places).toEqual([[9, 0]]);
    expect(findings(plan, 'joint-adapter')[0]!.places).toEqual([[5, 0]]);
    // While no fittings are chosen the ones of the pressure check are meant.
    expect(findings(plan, 'joint-size')[0]!.message).toContain('no clamped barb fitting');
  });
  test('point emitters in dripline', () => {
    const site = (run: 'A' | 'R'): Plan =>
      planOf({
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [
          blank('A', [0, 0], [5, 0]),
          dripline('R', [
            [5, 0],
            [9, 0],
          ]),
        ],
        emitters: [emitter('E', run, run === 'A' ? [3, 0.5] : [7, 0.5])],
      });
    expect(findings(site('A'), 'feeder-in-dripline')).toEqual([]);
    expect(findings(site('R'), 'feeder-in-dripline')[0]!.refs).toEqual([{ table: 'emitters', id: 'E' }]);
  });
  test('filter into regulator, and the riser of the tie-in', () => {
    const site = (filter: string, thread: string | null): Plan => ({
      ...planOf({ controls: [control('C', [0, 0], { filter })] }),
      heads: Table.of([headOf('H', [0, 0.5], { fate: 'tie-in', thread })]),
    });
    expect(findings(site('screen-155', null), 'control-thread')).toEqual([]);
    expect(findings(site('disc-120', null), 'control-thread')[0]!).toMatchObject({
      severity: 'warning',
      message: expect.stringContaining('1 in male pipe thread to 3/4 in female pipe thread'),
    });
    expect(findings(site('screen-155', '3/4 in male'), 'tie-in-thread')).toEqual([]);
    expect(findings(site('screen-155', '1/2 in female'), 'tie-in-thread')[0]!.severity).toBe('info');
    expect(findings(site('screen-155', '3/4 in male hose'), 'tie-in-thread')[0]!.severity).toBe('error');
    expect(findings(site('screen-155', 'odd'), 'tie-in-thread')).toEqual([]);
  });
  test('threads as written', () => {
    expect(riserOf('1/2 in female')).toEqual({ size: '1/2', thread: 'pipe', gender: 'male' });
    expect(riserOf('3/4" MHT')).toEqual({ size: '3/4', thread: 'hose', gender: 'female' });
    expect(riserOf('1 1/2 in FPT')).toEqual({ size: '1-1/2', thread: 'pipe', gender: 'male' });
    expect(riserOf('female')).toBeNull();
    expect(riserOf('')).toBeNull();
  });
});

describe('37: water-use classes', () => {
  const site = (...uses: (WaterUse | null)[]): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [30, 0])],
      emitters: uses.map((_, i) => emitter(`E${i}`, 'H', [5 * i + 2, 0], { plantId: `P${i}` })),
    }),
    plants: Table.of(uses.map((waterUse, i): Plant => plantOf(`P${i}`, [5 * i + 2, 0.3], { waterUse }))),
  });
  test('high with low is an error, neighbours a warning, one class nothing', () => {
    const clash = findings(site('high', 'low', 'high'), 'water-use-mixed')[0]!;
    expect(clash.severity).toBe('error');
    expect(clash.refs).toEqual([
      { table: 'supplies', id: 'V' },
      { table: 'plants', id: 'P1' },
    ]);
    expect(findings(site('moderate', 'low'), 'water-use-mixed')[0]!.severity).toBe('warning');
    expect(findings(site('low', 'low', null), 'water-use-mixed')).toEqual([]);
  });
  test('what stands on another valve is no concern', () => {
    const plan = site('high', 'high', 'low');
    const apart: Plan = { ...plan, emitters: plan.emitters.without(['E2']) };
    expect(findings(apart, 'water-use-mixed')).toEqual([]);
  });
});

describe('38: minutes, starts and nights', () => {
  const site = (watering: Watering | null, controller: Partial<Controller> = {}, stations = 1): Plan => {
    const plan = planOf({
      supplies: Array.from({ length: stations }, (_, k) => supply(`V${k}`, [9 * k, 0], { watering })),
    });
    return { ...plan, controller: { ...plan.controller, ...controller } };
  };
  const run = (minutesPerStart: number, startsPerDay = 1, intervalDays = 3): Watering => ({
    minutesPerStart,
    startsPerDay,
    intervalDays,
  });
  test('longest run, and the fix by more starts', () => {
    const plan = site(run(150), { longestRunMin: 99, startsPerDay: 4 });
    expect(findings(plan, 'station-run-long')[0]!.refs).toEqual([{ table: 'supplies', id: 'V0' }]);
    const after = fixed(plan, 'station-run-long');
    expect(after.supplies.get('V0')!.watering).toEqual({
      minutesPerStart: 75,
      startsPerDay: 2,
      intervalDays: 3,
    });
    expect(findings(after, 'station-run-long')).toEqual([]);
    expect(findings(site(run(99), { longestRunMin: 99 }), 'station-run-long')).toEqual([]);
    expect(findings(site(run(150)), 'station-run-long')).toEqual([]);
    expect(findings(site(null, { longestRunMin: 10 }), 'station-run-long')).toEqual([]);
    expect(
      findings(site(run(150), { longestRunMin: 99, startsPerDay: 1 }), 'station-run-long')[0]!.fix,
    ).toBeUndefined();
  });
  test('starts and intervals', () => {
    expect(findings(site(run(20, 5), { startsPerDay: 4 }), 'station-starts')).toHaveLength(1);
    expect(findings(site(run(20, 4), { startsPerDay: 4 }), 'station-starts')).toEqual([]);
    expect(findings(site(run(20, 1, 15)), 'station-interval')).toHaveLength(1);
    expect(findings(site(run(20, 1, 14)), 'station-interval')).toEqual([]);
    expect(
      findings(limited(site(run(20, 1, 15)), { 'station-time.interval': 21 }), 'station-interval'),
    ).toEqual([]);
    expect(
      findings(site(run(20, 1, 10), { longestIntervalDays: 7 }), 'station-interval')[0]!.message,
    ).toContain('7 days');
  });
  test('all stations fit one night, also past midnight', () => {
    const night = { nightWindow: { fromMin: 22 * 60, toMin: 6 * 60 } };
    expect(findings(site(run(60, 2), night, 4), 'night-window-short')).toEqual([]);
    const told = findings(site(run(60, 2), night, 5), 'night-window-short')[0]!;
    expect(told.message).toContain('10 h in all');
    expect(told.message).toContain('22:00 to 06:00 has 8 h');
    expect(findings(site(run(60, 2), {}, 5), 'night-window-short')).toEqual([]);
    expect(findings(site(run(600, 2), {}, 2), 'night-window-short')).toHaveLength(1);
  });
});

describe('40: quality of the drawing', () => {
  const photo: SitePhoto = {
    pictureId: 'p',
    name: 'p',
    widthPx: 2000,
    heightPx: 1000,
    corner: [0, 0],
    turnDeg: 0,
    assumedWidthM: 20,
    measures: [
      { a: [0, 0], b: [1000, 0], lengthM: 10, role: 'fit' },
      { a: [0, 0], b: [0, 900], lengthM: 9.3, role: 'fit' },
    ],
    strength: 1,
    rectification: null,
  };
  test('residual of the photo by the plan’s limit', () => {
    const plan: Plan = {
      ...planOf({}),
      photo: { ...photo, measures: [photo.measures[0]!, { ...photo.measures[1]!, lengthM: 9.6 }] },
    };
    expect(findings(plan, 'photo-residual')[0]!.message).toMatch(/by up to 3\.\d %, more than 2 %/);
    expect(findings(limited(plan, { 'drawing-quality.residual': 5 }), 'photo-residual')).toEqual([]);
    const near: Plan = {
      ...planOf({}),
      photo: { ...photo, measures: [photo.measures[0]!, { ...photo.measures[1]!, lengthM: 9.05 }] },
    };
    expect(findings(near, 'photo-residual')).toEqual([]);
    expect(findings(limited(near, { 'drawing-quality.residual': 0.1 }), 'photo-residual')).toHaveLength(1);
    expect(findings({ ...planOf({}), photo: { ...photo, measures: [] } }, 'photo-not-scaled')).toHaveLength(
      1,
    );
  });
  test('a slope that is told and not measured', () => {
    const flat = grid([1]);
    expect(findings(flat, 'slope-without-levels')).toEqual([]);
    const bed = flat.areas.get('B')!;
    const hill: Plan = { ...flat, areas: flat.areas.with({ ...bed, name: 'East slope' }) };
    expect(findings(hill, 'slope-without-levels')[0]!.refs).toEqual([{ table: 'areas', id: 'B' }]);
    const measured: Plan = { ...hill, levels: Table.of([level('a', 0, 0, 0)]) };
    expect(findings(measured, 'slope-without-levels')).toEqual([]);
    expect(
      findings({ ...flat, soil: { ...flat.soil, coverKind: 'netting' } }, 'slope-without-levels'),
    ).toHaveLength(1);
  });
  test('flows and assumed pipe', () => {
    const plan: Plan = {
      ...grid([1]),
      heads: Table.of([headOf('H1', [0, 0]), headOf('H2', [1, 0], { flowLph: 90 })]),
      laterals: Table.of([lateral('A', 'B', [0, 9], [5, 9], { measured: false, fate: 'live' })]),
    };
    expect(findings(plan, 'head-flows-missing')[0]!.refs).toEqual([{ table: 'heads', id: 'H1' }]);
    expect(findings(plan, 'lateral-assumed')[0]!.refs).toEqual([{ table: 'laterals', id: 'A-B' }]);
    expect(findings(grid([1]), 'head-flows-missing')).toEqual([]);
  });
});
