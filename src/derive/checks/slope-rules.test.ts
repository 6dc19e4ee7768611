import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import type { FlushEnd, Plan } from '../../plan/records.ts';
import { blank, control, dripline, emitter, planOf, PSI, supply } from '../plan-for-tests.ts';
import { flushEndsTogether, flushGroups } from '../scenarios/flushing.ts';
import { findings, fixed, limited } from './findings-for-tests.ts';
import { every, fillOf, grid, IN, plantOf, rising } from './site-for-tests.ts';

describe('21: emitters off the stem', () => {
  const site = (awayM: number, more: Partial<ReturnType<typeof plantOf>> = {}): Plan => ({
    ...planOf({
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [4, 0])],
      emitters: [emitter('E', 'H', [4, awayM], { plantId: 'P' })],
    }),
    plants: Table.of([plantOf('P', [4, 0], more)]),
  });
  test('6 in from a stem, 12 in from a trunk, at the place', () => {
    const told = findings(site(5.9 * IN), 'emitter-near-stem')[0]!;
    expect(told).toMatchObject({ severity: 'warning', places: [[4, 5.9 * IN]] });
    expect(told.refs).toEqual([
      { table: 'plants', id: 'P' },
      { table: 'emitters', id: 'E' },
    ]);
    expect(told.message).toContain('the nearest at 5.9 in');
    expect(findings(site(6 * IN), 'emitter-near-stem')).toEqual([]);
    expect(findings(site(11 * IN, { plantClass: 'tree' }), 'emitter-near-stem')).toHaveLength(1);
    expect(findings(site(12 * IN, { plantClass: 'tree' }), 'emitter-near-stem')).toEqual([]);
  });
  test('on a new plant the emitter has to reach the root ball', () => {
    expect(findings(site(4 * IN, { rootBallM: 6 * IN }), 'emitter-near-stem')).toEqual([]);
    expect(findings(site(2 * IN, { rootBallM: 6 * IN }), 'emitter-near-stem')).toHaveLength(1);
  });
  test('the limit is the plan’s; dripline is held against trunks only', () => {
    expect(
      findings(limited(site(5.9 * IN), { 'emitter-near-stem.plant': 4 * IN }), 'emitter-near-stem'),
    ).toEqual([]);
    const rows = grid([1], { spacingM: 0.5 });
    const at = [0.1 + 0.25, 1] as const;
    const shrub: Plan = { ...rows, plants: Table.of([plantOf('P', at)]) };
    expect(findings(shrub, 'emitter-near-stem')).toEqual([]);
    const tree: Plan = {
      ...rows,
      plants: Table.of([plantOf('P', at, { plantClass: 'tree', canopyMatureM: 5 })]),
    };
    expect(findings(tree, 'emitter-near-stem')).toHaveLength(1);
  });
});

describe('22: emitters on the uphill side', () => {
  const site = (percent: number, ...northings: number[]): Plan => ({
    ...planOf({
      levels: rising(percent),
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [4, 0], [4, 5])],
      emitters: northings.map((y, i) => emitter(`E${i}`, 'H', [4, y], { plantId: 'P' })),
    }),
    plants: Table.of([plantOf('P', [4, 2])]),
  });
  test('all downhill, and more than half', () => {
    expect(findings(site(6, 1.7), 'emitters-downhill')).toHaveLength(1);
    expect(findings(site(4.9, 1.7), 'emitters-downhill')).toEqual([]);
    expect(findings(site(6, 1.7, 1.6, 1.8, 2.3), 'emitters-downhill')).toHaveLength(1);
    expect(findings(site(6, 1.7, 1.6, 2.2, 2.3), 'emitters-downhill')).toEqual([]);
    // Of three the middle one may lie either side.
    expect(findings(site(6, 1.7, 1.6, 2.3), 'emitters-downhill')).toEqual([]);
  });
  test('an emitter of a neighbour says nothing of a plant that has its own, shared ones are its own', () => {
    const plan = site(6, 1.7, 1.6);
    const with3 = (more: object): Plan => ({
      ...plan,
      emitters: plan.emitters.with(emitter('N', 'H', [4, 2.3], { plantId: 'Q', ...more })),
      plants: plan.plants.with(plantOf('Q', [4, 2.6])),
    });
    const refs = (of: Plan) =>
      findings(of, 'emitters-downhill').flatMap((one) => one.refs.map(({ id }) => id));
    expect(refs(with3({}))).toContain('P');
    // Of three that it has the middle one may lie either side; of four three are too many.
    expect(refs(with3({ alsoPlantIds: ['P'] }))).not.toContain('P');
    const four = with3({ alsoPlantIds: ['P'] });
    const third = emitter('M', 'H', [4, 1.8], { plantId: 'Q', alsoPlantIds: ['P'] });
    expect(refs({ ...four, emitters: four.emitters.with(third) })).toContain('P');
  });
  test('limits', () => {
    expect(findings(limited(site(6, 1.7), { 'emitters-downhill.slope': 8 }), 'emitters-downhill')).toEqual(
      [],
    );
    const most = limited(site(6, 1.7, 1.6, 1.8, 2.3), { 'emitters-downhill.share': 75 });
    expect(findings(most, 'emitters-downhill')).toEqual([]);
  });
});

describe('23: compensating emitters where heights differ', () => {
  const rule = 'plain-emitters-levels';
  // Rows 5.5 m apart on ground of so many percent.
  const site = (percent: number, law = 'inline-plain'): Plan => grid([0.1, 5.6], { percent, law });
  test('over 5 ft, and the fix', () => {
    const told = findings(site(28), rule)[0]!;
    expect(told.message).toContain(`5' 3/4", more than 5' 0"`);
    expect(told.message).toContain('2.2 psi');
    expect(findings(site(27), rule)).toEqual([]);
    expect(findings(site(28, 'inline-pc'), rule)).toEqual([]);
    const after = fixed(site(28), rule);
    expect(findings(after, rule)).toEqual([]);
    expect(after.runs.get('R0')!.inline).toMatchObject({ law: 'inline-pc', spacingM: 18 * IN });
  });
  test('rows of a live fill follow its choices; those changed by hand are set themselves', () => {
    const filled = (byHand: boolean): Plan => ({
      ...site(40),
      fills: Table.of([fillOf(['R0', 'R1'], { law: 'inline-plain' }, byHand)]),
    });
    const live = fixed(filled(false), rule);
    expect(live.fills.get('F')!.choices.law).toBe('inline-pc');
    expect(live.runs.get('R0')!.inline!.law).toBe('inline-plain');
    const hand = fixed(filled(true), rule);
    expect(hand.fills.get('F')!.choices.law).toBe('inline-plain');
    expect(findings(hand, rule)).toEqual([]);
  });
  test('point emitters too; the limit is the plan’s', () => {
    const points = planOf({
      levels: rising(40),
      supplies: [supply('V', [0, 0])],
      controls: [control('C', [0, 0])],
      runs: [blank('H', [0, 0], [0, 6])],
      emitters: [emitter('A', 'H', [0, 0.5]), emitter('B', 'H', [0, 5.5], { law: 'point-long-path' })],
    });
    expect(findings(points, rule)).toHaveLength(1);
    expect(findings(fixed(points, rule), rule)).toEqual([]);
    expect(findings(limited(points, { 'plain-emitters-levels.height': 3 }), rule)).toEqual([]);
  });
});

describe('24: rows across the slope', () => {
  const rule = 'rows-up-and-down';
  const across = grid(every(0.5), { percent: 10 });
  const turned = (deg: number, percent = 10): Plan => {
    const rise = Math.tan((deg * Math.PI) / 180) * 6;
    return {
      ...across,
      levels: Table.of(rising(percent)),
      runs: Table.of([
        dripline('R', [
          [1, 0],
          [7, rise],
        ]),
      ]),
      fills: Table.of([fillOf(['R'], { direction: 'long edge' })]),
    };
  };
  test('angle to the contour, slope, refs and places', () => {
    expect(findings(across, rule)).toEqual([]);
    const told = findings(turned(16), rule)[0]!;
    expect(told.refs).toEqual([{ table: 'runs', id: 'R' }]);
    expect(told.message).toContain('16° to the contour');
    expect(told.places).toHaveLength(1);
    expect(findings(turned(14), rule)).toEqual([]);
    expect(findings(turned(16, 7), rule)).toEqual([]);
    expect(findings({ ...turned(40), levels: Table.of() }, rule)).toEqual([]);
  });
  test('limits, the fix of a straight fill, rings are no rows', () => {
    expect(findings(limited(turned(16), { 'rows-up-and-down.angle': 20 }), rule)).toEqual([]);
    expect(findings(limited(turned(16, 7), { 'rows-up-and-down.slope': 5 }), rule)).toHaveLength(1);
    expect(fixed(turned(30), rule).fills.get('F')!.choices).toMatchObject({ direction: 'contour' });
    const ring = Array.from({ length: 13 }, (_, k) => {
      const angle = (k / 12) * 2 * Math.PI;
      return [3 + Math.cos(angle), 3 + Math.sin(angle)] as const;
    });
    expect(findings({ ...across, runs: Table.of([dripline('R', ring)]), fills: Table.of() }, rule)).toEqual(
      [],
    );
  });
});

describe('25: lines that drain', () => {
  const rule = 'drain-down';
  const site = (percent: number, law = 'inline-pc'): Plan => grid(every(0.5), { percent, law });
  test('over 1 ft of fall and over a gallon, one notice a zone', () => {
    const told = findings(site(20), rule);
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toMatch(/^After shut-off: [\d.]+ gal behind control set "C" drain/);
    expect(told[0]!.places!.length).toBeGreaterThan(0);
    // 5.5 m at 4 percent fall by 0.7 ft.
    expect(findings(site(4), rule)).toEqual([]);
    expect(findings(site(20, 'inline-pc-check'), rule)).toEqual([]);
    expect(findings(site(0), rule)).toEqual([]);
  });
  test('each line by its own fall, with the tubing that leads to it', () => {
    // Rows that hardly fall below a check valve; rows 6 m above, behind it, have emitters with a check.
    const apart = (aboveLaw: string): Plan => {
      const low = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8];
      const row = (id: string, y: number, law: string) =>
        dripline(
          id,
          [
            [0.1, y],
            [20, y],
          ],
          { law },
        );
      return {
        ...planOf({
          levels: rising(25),
          supplies: [supply('V', [0.1, 0])],
          controls: [control('C', [0.1, 0])],
          runs: [
            blank('H', [0.1, 0], ...[...low, 24, 24.5].map((y) => [0.1, y] as const)),
            ...low.map((y, k) => row(`L${k}`, y, 'inline-pc')),
            row('T0', 24, aboveLaw),
            row('T1', 24.5, aboveLaw),
          ],
        }),
        checkValves: Table.of([{ id: 'X', runId: 'H', at: [0.1, 1] as const, openKpa: 3 }]),
      };
    };
    expect(findings(apart('inline-pc-check'), rule)).toEqual([]);
    expect(findings({ ...apart('inline-pc'), checkValves: Table.of() }, rule)).toHaveLength(1);
    // Level rows at the foot of a lead from 5 m higher: the lead runs out at them.
    const lead = planOf({
      levels: rising(20),
      supplies: [supply('V', [0, 26])],
      controls: [control('C', [0, 26])],
      runs: [
        blank('Lead', [0, 26], [0, 1]),
        ...[0, 1, 2].map((k) =>
          dripline(
            `R${k}`,
            [
              [0, 1],
              [8, 1 + 0.01 * k],
            ],
            { law: 'inline-pc' },
          ),
        ),
      ],
    });
    expect(findings(lead, rule)[0]!.message).toContain(`the line falls 16'`);
  });
  test('limits, and the fix by emitters with a check', () => {
    expect(findings(limited(site(4), { 'drain-down.fall': 0.1 }), rule)).toHaveLength(1);
    expect(findings(limited(site(20), { 'drain-down.volume': 100 }), rule)).toEqual([]);
    const after = fixed(site(20), rule);
    expect(after.runs.get('R1')!.inline!.law).toBe('inline-pc-check');
    expect(findings(after, rule)).toEqual([]);
    // More fall than a check holds: no fix is offered that would not help.
    const steep = findings(site(60, 'inline-pc-check'), rule)[0]!;
    expect(steep.fix).toBeUndefined();
    expect(steep.message).toContain('check valve in the line');
  });
});

describe('26 and 33: high and low points', () => {
  const site = (percent: number, more: Partial<Plan> = {}): Plan => ({
    ...grid(every(0.5), { percent }),
    ...more,
  });
  const frost: Partial<Plan> = { climate: { lowestWinterC: -8, note: '' } };
  test('air relief: over 2 ft, at the highest row, and the fix', () => {
    const told = findings(site(20), 'air-relief-missing')[0]!;
    expect(told.places).toHaveLength(1);
    expect(told.places![0]![1]).toBeCloseTo(5.6, 6);
    expect(findings(site(10), 'air-relief-missing')).toEqual([]);
    expect(findings(limited(site(10), { 'air-relief.height': 0.3 }), 'air-relief-missing')).toHaveLength(1);
    const after = fixed(site(20), 'air-relief-missing');
    expect(after.lineParts.size).toBe(1);
    expect(findings(after, 'air-relief-missing')).toEqual([]);
    expect(findings(site(0), 'air-relief-missing')).toEqual([]);
    const bare = site(20);
    expect(findings({ ...bare, soil: { ...bare.soil, coverKind: 'bare' } }, 'air-relief-missing')).toEqual(
      [],
    );
  });
  test('each of two summits counts, as long as the dip between is deep enough', () => {
    const humps = (dipM: number): Plan => ({
      ...planOf({
        levels: [],
        supplies: [supply('V', [0, 0])],
        controls: [control('C', [0, 0])],
        runs: [
          dripline('R', [
            [0, 0],
            [30, 0],
          ]),
        ],
      }),
      levels: Table.of(
        [
          [0, 0],
          [8, 3],
          [15, 3 - dipM],
          [22, 2.9],
          [30, 0],
        ].flatMap(([x, zM]) => [-9, 9].map((y) => ({ id: `l${x},${y}`, at: [x!, y] as const, zM: zM! }))),
      ),
    });
    expect(findings(humps(1), 'air-relief-missing')[0]!.places).toHaveLength(2);
    expect(findings(humps(0.4), 'air-relief-missing')[0]!.places).toHaveLength(1);
    expect(findings(fixed(humps(1), 'air-relief-missing'), 'air-relief-missing')).toEqual([]);
    const [dip] = findings({ ...humps(1), ...frost }, 'low-point-drain');
    // The valley, and both ends.
    expect(dip!.places!.map(([x]) => Math.round(x)).sort((a, b) => a - b)).toEqual([0, 15, 30]);
    expect(findings(fixed({ ...humps(1), ...frost }, 'low-point-drain'), 'low-point-drain')).toEqual([]);
  });
  test('drains: only where it freezes; an openable end at the lowest row will do', () => {
    expect(findings(site(20), 'low-point-drain')).toEqual([]);
    expect(findings(site(20, { climate: { lowestWinterC: 2, note: '' } }), 'low-point-drain')).toEqual([]);
    expect(findings(site(20, frost), 'low-point-drain')[0]!.message).toContain('18 °F');
    const end: FlushEnd = { id: 'X', runId: 'R0', end: 'end' };
    expect(findings(site(20, { ...frost, flushEnds: Table.of([end]) }), 'low-point-drain')).toEqual([]);
    const top: FlushEnd = { id: 'X', runId: 'R11', end: 'end' };
    expect(findings(site(20, { ...frost, flushEnds: Table.of([top]) }), 'low-point-drain')).toHaveLength(1);
    expect(findings(limited(site(20, frost), { 'low-point-drain.depth': 3 }), 'low-point-drain')).toEqual([]);
  });
});

describe('26 and 33: air and water pass check valves one way only', () => {
  // Rows of 10 m at y = 1 to 6 on 30 percent, a check valve on their header between the third and the fourth.
  const site = (more: Partial<Plan>): Plan => ({
    ...planOf({
      levels: rising(30),
      supplies: [supply('V', [0, 0.5])],
      controls: [control('C', [0, 0.5])],
      runs: [
        blank('H', [0, 0.5], ...[1, 2, 3, 4, 5, 6].map((y) => [0, y] as const)),
        ...[1, 2, 3, 4, 5, 6].map((y) =>
          dripline(
            `R${y}`,
            [
              [0, y],
              [10, y],
            ],
            { law: 'inline-pc' },
          ),
        ),
      ],
    }),
    checkValves: Table.of([{ id: 'X', runId: 'H', at: [0, 3.5] as const, openKpa: 3 }]),
    climate: { lowestWinterC: -10, note: '' },
    ...more,
  });
  const foot = Table.of([{ id: 'D', kind: 'drain' as const, runId: 'H', at: [0, 0.5] as const }]);
  const top = Table.of([{ id: 'A', kind: 'air relief' as const, runId: 'R6', at: [10, 6] as const }]);
  test('water above the valve does not come to a drain at the foot', () => {
    const told = findings(site({ lineParts: foot }), 'low-point-drain');
    expect(told).toHaveLength(1);
    // Just above the valve, so that the drain stands on the side that it empties.
    expect(told[0]!.places).toHaveLength(1);
    expect(told[0]!.places![0]![1]).toBeCloseTo(3.6, 1);
    const without = site({ lineParts: foot, checkValves: Table.of() });
    expect(findings(without, 'low-point-drain')).toEqual([]);
    expect(findings(fixed(site({ lineParts: foot }), 'low-point-drain'), 'low-point-drain')).toEqual([]);
  });
  test('air from the top row does not come to what lies below the valve', () => {
    const told = findings(site({ lineParts: top }), 'air-relief-missing');
    expect(told).toHaveLength(1);
    expect(told[0]!.places!.map(([, y]) => y)[0]).toBeLessThan(3.5);
    expect(findings(site({ lineParts: top, checkValves: Table.of() }), 'air-relief-missing')).toEqual([]);
    expect(findings(fixed(site({ lineParts: top }), 'air-relief-missing'), 'air-relief-missing')).toEqual([]);
  });
  test('a valve that lets water down hides nothing', () => {
    const down = site({ lineParts: foot });
    const header = down.runs.get('H')!;
    const turned: Plan = { ...down, runs: down.runs.with({ ...header, path: header.path.toReversed() }) };
    expect(findings(turned, 'low-point-drain')).toEqual([]);
  });
});

describe('27: wider rows in the lowest third', () => {
  const rule = 'lower-third-spacing';
  const even = every(0.5);
  // 0.625 m below 2 m, half a metre above it.
  const wider = [0.1, 0.725, 1.35, 1.975, ...every(0.5, 2.475)];
  test('even rows on a slope; not on level ground, nor where they are wider', () => {
    const told = findings(grid(even, { percent: 20 }), rule)[0]!;
    expect(told.refs[0]).toEqual({ table: 'areas', id: 'B' });
    expect(told.message).toContain('1.25 times');
    expect(findings(grid(wider, { percent: 20 }), rule)).toEqual([]);
    expect(findings(grid(even, { percent: 4 }), rule)).toEqual([]);
    expect(findings(grid(even), rule)).toEqual([]);
  });
  test('what a live fill has laid so is well; what was changed by hand is measured', () => {
    const ids = even.map((_, k) => `R${k}`);
    const of = (factor: number, byHand = false): Plan => ({
      ...grid(even, { percent: 20 }),
      fills: Table.of([fillOf(ids, { lowerThirdFactor: factor }, byHand)]),
    });
    expect(findings(of(1.25), rule)).toEqual([]);
    expect(findings(of(1.2), rule)).toHaveLength(1);
    expect(findings(of(1.25, true), rule)).toHaveLength(1);
    expect(findings(fixed(of(1.2), rule), rule)).toEqual([]);
    // Rings along the edge know no lowest third: laid anew they become rows.
    const loops: Plan = {
      ...grid(even, { percent: 20 }),
      fills: Table.of([fillOf(ids, { lowerThirdFactor: 1.25, pattern: 'loops' })]),
    };
    expect(fixed(loops, rule).fills.get('F')!.choices).toMatchObject({ pattern: 'straight' });
  });
  test('gaps from row to row count, not places along them; one over the limit counts for neither part', () => {
    // 2 gaps, the lower one over the limit: nothing can be told.
    expect(findings(grid([0.1, 0.6, 1.1], { percent: 20 }), rule)).toEqual([]);
    // Two wide ones below, then one over the limit, then as many as usual.
    expect(findings(grid([0.1, 0.725, 1.35, 1.85, 2.35, 2.85, 3.35], { percent: 20 }), rule)).toEqual([]);
  });
  test('limits and the fix of a live fill', () => {
    const filled: Plan = {
      ...grid(even, { percent: 20 }),
      fills: Table.of([fillOf(even.map((_, k) => `R${k}`))]),
    };
    expect(fixed(filled, rule).fills.get('F')!.choices).toMatchObject({
      lowerThirdFactor: 1.25,
      edgeM: 4 * IN,
    });
    expect(findings(limited(filled, { 'lower-third.factor': 1 }), rule)).toEqual([]);
    expect(findings(limited(filled, { 'lower-third.slope': 30 }), rule)).toEqual([]);
    expect(
      findings({ ...filled, fills: Table.of([fillOf(['R0'], {}, true)]) }, rule)[0]!.fix,
    ).toBeUndefined();
  });
});

test('39: the limit of the plan parts the groups in which ends are opened', () => {
  // Two rows at the end of a long lead: together they reach the usual speed, a higher one only one by one.
  const plan = grid([0.1, 0.6], { spacingM: 0.3 });
  const site: Plan = {
    ...plan,
    supplies: Table.of([supply('V', [-80, 0])]),
    controls: Table.of([control('C', [-80, 0], { setKpa: 15 * PSI, regulator: 'window-0.1-8' })]),
    runs: plan.runs.with(blank('Lead', [-80, 0], [0.1, 0])),
    flushEnds: Table.of<FlushEnd>([
      { id: 'X', runId: 'R0', end: 'end' },
      { id: 'Y', runId: 'R1', end: 'end' },
    ]),
  };
  const speed = (open: readonly string[]) =>
    Math.min(...flushEndsTogether(site, open).map(({ velocityMs }) => velocityMs));
  const [together, alone] = [speed(['X', 'Y']), Math.min(speed(['X']), speed(['Y']))];
  expect(alone).toBeGreaterThan(1.05 * together);
  const between = (together + alone) / 2;
  const said = (least: number) =>
    findings(limited(site, { 'flush-speed.least': least }), 'flush-velocity-low');
  expect(flushGroups(site, between)).toEqual([['X'], ['Y']]);
  expect(flushGroups(site, 0.9 * together)).toEqual([['X', 'Y']]);
  expect(said(between)).toEqual([]);
  expect(said(1.1 * alone)).toHaveLength(1);
  expect(said(0.9 * together)).toEqual([]);
});

test('39: speed at the open ends', () => {
  const site = (spacingM: number, setPsi: number): Plan => {
    const plan = grid([0.1], { spacingM });
    return {
      ...plan,
      controls: Table.of([control('C', [0.1, 0], { setKpa: setPsi * PSI, regulator: 'window-0.1-8' })]),
      flushEnds: Table.of<FlushEnd>([{ id: 'X', runId: 'R0', end: 'end' }]),
    };
  };
  expect(findings(site(0.3, 5), 'flush-velocity-low')).toEqual([]);
  const fast = limited(site(0.3, 5), { 'flush-speed.least': 3 });
  const told = findings(fast, 'flush-velocity-low')[0]!;
  expect(told.refs).toEqual([
    { table: 'flushEnds', id: 'X' },
    { table: 'runs', id: 'R0' },
  ]);
  expect(told.message).toMatch(/^Flushing: /);
  const starved: Plan = {
    ...site(0.3, 25),
    supplies: Table.of([supply('V', [0.1, 0], { pressureKpa: null })]),
  };
  const weak: Plan = {
    ...starved,
    water: { ...starved.water, staticKpa: 200, workingPoints: [{ pressureKpa: 20, flowLph: 100 }] },
  };
  expect(findings(weak, 'flush-velocity-low')).toHaveLength(1);
});
