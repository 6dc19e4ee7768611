import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength, segmentsCross } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { blank, control, emitter, level, supply } from '../../derive/plan-for-tests.ts';
import { studyOf } from '../../derive/study.ts';
import { add, change, insertVertex, move, moveVertex, remove, type Edit } from '../../plan/edits/index.ts';
import type { Plan } from '../../plan/records.ts';
import { fillEdit } from '../rows/index.ts';
import { area, bedPlan, CHOICES, rectangle } from '../rows/plan-for-fill-tests.ts';
import { follow, followed } from './follow.ts';
import { layFill } from './lay.ts';
import { BED, filledPlan, freshly, ledPlan, runsOfFill, theFill, tubingOf } from './plan-for-live-tests.ts';

const after = (plan: Plan, edit: Edit): Plan => followed(plan, edit.apply(plan));
const corner = (index: number, to: Point, id = 'A1'): Edit =>
  moveVertex('', { table: 'areas', id, ring: 0, index }, to);

function expectFresh(plan: Plan): void {
  const fresh = freshly(plan);
  if (!fresh.ok) throw new Error(fresh.problem.what);
  expect(theFill(plan).byHand).toBe(false);
  expect(tubingOf(runsOfFill(plan))).toEqual(tubingOf(fresh.value.runs));
  const key = (runId: string, end: string) => `${runId} ${end}`;
  const ids = theFill(plan).runIds;
  expect(
    [...plan.flushEnds]
      .filter(({ runId }) => ids.includes(runId))
      .map(({ runId, end }) => key(runId, end))
      .sort(),
  ).toEqual(fresh.value.flushEnds.map(({ run, end }) => key(ids[run]!, end)).sort());
}

describe('rows follow their bed', () => {
  const plan = filledPlan();

  test('a corner of the bed', () => {
    const next = after(plan, corner(2, [10, 6]));
    expect(tubingOf(runsOfFill(next))).not.toEqual(tubingOf(runsOfFill(plan)));
    expectFresh(next);
  });

  test('ids and names stay as far as there are as many, and no id is used twice', () => {
    const named = after(plan, change('', 'runs', [theFill(plan).runIds[1]!], { name: 'By the wall' }));
    expect(theFill(named).byHand).toBe(false);
    const wider = after(after(named, corner(2, [8, 7])), corner(3, [0, 7]));
    expect(wider.runs.size).toBeGreaterThan(named.runs.size);
    const kept = theFill(named).runIds.filter((id) => theFill(wider).runIds.includes(id));
    expect(kept).toHaveLength(theFill(named).runIds.length);
    expect(wider.runs.get(theFill(plan).runIds[1]!)!.name).toBe('By the wall');
    const names = [...wider.runs].map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    const back = after(after(wider, corner(2, [8, 4])), corner(3, [0, 4]));
    expect(back.runs.size).toBe(named.runs.size);
    expectFresh(back);
  });

  test('paving that comes over the bed, and goes', () => {
    const paved = after(
      plan,
      add('', 'areas', { use: 'paving', name: '', outline: rectangle(3, -1, 1, 6), holes: [] }),
    );
    expectFresh(paved);
    expect(runsOfFill(paved).length).toBeGreaterThan(runsOfFill(plan).length);
    const freed = after(paved, remove('', [{ table: 'areas', id: 'A2' }]));
    expect(tubingOf(runsOfFill(freed))).toEqual(tubingOf(runsOfFill(plan)));
  });

  test('another bed counts only where it is left out', () => {
    const two = { ...plan, areas: plan.areas.with(area('A2', rectangle(6, 2, 4, 4))) };
    expect(after(two, move('', [{ table: 'areas', id: 'A2' }], -1, 0)).runs).toBe(two.runs);
    const out = after(
      two,
      change('', 'fills', [theFill(two).id], { choices: { ...CHOICES, leaveOut: ['A2'] } }),
    );
    expectFresh(out);
    const moved = after(out, move('', [{ table: 'areas', id: 'A2' }], -1, 0));
    expect(moved.runs).not.toBe(out.runs);
    expectFresh(moved);
  });

  test('levels under it', () => {
    const contour = filledPlan(bedPlan([BED], 0, 0.3), { direction: 'contour' });
    const steeper = after(contour, change('', 'levels', ['Z3', 'Z4'], { zM: 80 }));
    expect(tubingOf(runsOfFill(steeper))).not.toEqual(tubingOf(runsOfFill(contour)));
    expectFresh(steeper);
  });

  test('its choices', () => {
    const next = after(
      plan,
      change('', 'fills', [theFill(plan).id], { choices: { ...CHOICES, rowSpacingM: 0.3 } }),
    );
    expect(runsOfFill(next).length).toBeGreaterThan(runsOfFill(plan).length);
    expectFresh(next);
  });

  test('bed and rows moved together stay together', () => {
    const refs = [
      { table: 'areas', id: 'A1' } as const,
      ...theFill(plan).runIds.map((id) => ({ table: 'runs', id }) as const),
    ];
    const next = after(plan, move('', refs, 3, 2));
    expectFresh(next);
    expect(theFill(next).runIds).toEqual(theFill(plan).runIds);
  });

  test('a bed that is removed leaves its rows', () => {
    const next = after(plan, remove('', [{ table: 'areas', id: 'A1' }]));
    expect(next.fills.size).toBe(0);
    expect(next.runs).toBe(plan.runs);
  });
});

describe('what does not count', () => {
  const plan = filledPlan(bedPlan([BED, area('A9', rectangle(40, 40, 3, 3), { use: 'paving' })], 0.02, 0.1));

  test.each<[string, Edit]>([
    ['soil', { label: '', apply: (on) => ({ ...on, soil: { ...on.soil, texture: 'clay' } }) }],
    ['an area far away', corner(2, [44, 44], 'A9')],
    ['the name of the bed', change('', 'areas', ['A1'], { name: 'Slope' })],
    [
      'a plant',
      add('', 'plants', {
        at: [2, 2],
        name: '',
        plantClass: 'shrub',
        canopyNowM: 1,
        canopyMatureM: 2,
        rootBallM: null,
        waterUse: null,
      }),
    ],
    ['a level written anew', change('', 'levels', ['Z1'], { zM: -1.2 })],
    [
      'a run beside it',
      add('', 'runs', {
        name: '',
        path: [
          [20, 0],
          [21, 0],
        ],
        tubing: 'blank-half-600',
        inline: null,
      }),
    ],
  ])('%s leaves the rows alone', (_, edit) => {
    const edited = edit.apply(plan);
    const next = followed(plan, edited);
    expect(next.fills).toBe(plan.fills);
    for (const { id } of runsOfFill(plan)) expect(next.runs.get(id)).toBe(plan.runs.get(id));
    expect(next).toBe(edited);
  });
});

describe('changed by hand', () => {
  const plan = filledPlan();
  const [row] = runsOfFill(plan);

  test('a bent row ends the following, and is told', () => {
    const bent = insertVertex('', { table: 'runs', id: row!.id, ring: 0, index: 1 }, [4, 1.1]);
    const { plan: next, notes } = follow(plan, bent.apply(plan));
    expect(theFill(next).byHand).toBe(true);
    expect(notes).toMatchObject([{ kind: 'by-hand', name: 'Bank' }]);
    const moved = after(next, corner(2, [10, 6]));
    expect(moved.runs).toBe(next.runs);
    const anew = after(moved, change('', 'fills', [theFill(plan).id], { byHand: false }));
    expectFresh(anew);
  });

  test('a row that is taken out', () => {
    expect(theFill(after(plan, remove('', [{ table: 'runs', id: row!.id }]))).byHand).toBe(true);
  });

  test('rows moved without their bed, and other emitters', () => {
    expect(theFill(after(plan, move('', [{ table: 'runs', id: row!.id }], 0, 0.1))).byHand).toBe(true);
    const inline = { ...row!.inline!, spacingM: 0.2 };
    expect(theFill(after(plan, change('', 'runs', [row!.id], { inline }))).byHand).toBe(true);
  });

  test('a bed grown too small keeps its rows and says why', () => {
    const small = { ...BED, outline: rectangle(0, 0, 0.2, 0.2) };
    const { plan: next, notes } = follow(plan, { ...plan, areas: plan.areas.with(small) });
    expect(next.runs).toBe(plan.runs);
    expect(theFill(next).byHand).toBe(true);
    expect(notes[0]).toMatchObject({ kind: 'failed' });
    expect(notes[0]!.kind === 'failed' && notes[0]!.problem.what).toContain('no room');
  });
});

describe('what hangs on the rows', () => {
  test('a check valve, an air relief and a fed emitter stay on the nearest run', () => {
    const bare = filledPlan();
    const runs = runsOfFill(bare);
    const row = runs[2]!;
    const header = runs.find(({ inline }) => inline === null)!;
    const at: Point = [4, row.path[0]![1]];
    const plan: Plan = {
      ...bare,
      checkValves: Table.of([{ id: 'K1', runId: row.id, at, openKpa: 10 }]),
      lineParts: Table.of([{ id: 'Q1', kind: 'air relief' as const, runId: header.id, at: header.path[0]! }]),
      emitters: Table.of([emitter('E1', header.id, [-0.5, 1.5])]),
    };
    const next = after(after(plan, corner(3, [0, 5.1])), corner(2, [8, 5.1]));
    const near = Math.min(
      ...runsOfFill(next)
        .filter(({ inline }) => inline)
        .map(({ path }) => Math.abs(path[0]![1] - at[1])),
    );
    const valve = next.checkValves.get('K1')!;
    expect(Math.abs(next.runs.get(valve.runId)!.path[0]![1] - at[1])).toBeCloseTo(near, 9);
    expect(valve.at[1]).toBeCloseTo(next.runs.get(valve.runId)!.path[0]![1], 9);
    expect(next.runs.get(next.lineParts.get('Q1')!.runId)!.inline).toBeNull();
    expect(next.runs.get(next.emitters.get('E1')!.runId)!.inline).toBeNull();
    expect(next.emitters.get('E1')!.at).toEqual([-0.5, 1.5]);
  });

  test('rows without headers keep an emitter that a header fed', () => {
    const bare = filledPlan();
    const header = runsOfFill(bare).find(({ inline }) => inline === null)!;
    const plan = { ...bare, emitters: Table.of([emitter('E1', header.id, [-0.5, 1.5])]) };
    const next = after(
      plan,
      change('', 'fills', [theFill(plan).id], { choices: { ...CHOICES, headers: 'none' } }),
    );
    expect(next.runs.has(next.emitters.get('E1')!.runId)).toBe(true);
  });

  test('a pipe that was joined to a header by hand stays joined', () => {
    const bare = filledPlan();
    const start = runsOfFill(bare).find(({ name }) => /supply/i.test(name))!.path[0]!;
    const plan = { ...bare, runs: bare.runs.with(blank('R90', [-4, -4], start)) };
    const next = after(plan, corner(0, [-1, -1]));
    const header = runsOfFill(next).find(({ name }) => /supply/i.test(name))!;
    expect(next.runs.get('R90')!.path).toEqual([[-4, -4], header.path[0]]);
    expectFresh(next);
  });

  test('a flush end that the person set at a free end stays, one at a joint goes', () => {
    const bare = filledPlan(undefined, { headers: 'none' });
    const [row] = runsOfFill(bare);
    const plan = { ...bare, flushEnds: Table.of([{ id: 'F1', runId: row!.id, end: 'end' as const }]) };
    expect(after(plan, corner(2, [9, 4])).flushEnds.get('F1')).toEqual(plan.flushEnds.get('F1'));
    const joined = after(
      plan,
      change('', 'fills', [theFill(plan).id], { choices: { ...CHOICES, headers: 'both ends' } }),
    );
    expectFresh(joined);
  });
});

describe('the way of the water', () => {
  const runsWater = (plan: Plan) => {
    const built = buildPlanNetwork(plan);
    expect(built.notices.filter(({ rule }) => /^run-(loose|apart)/.test(rule))).toEqual([]);
  };

  test('a lead joins the rows to the control set', () => {
    const plan = ledPlan();
    expect(theFill(plan).leadIds).toHaveLength(1);
    runsWater(plan);
    runsWater(after(plan, corner(0, [-1, -1])));
    expect(followed(bedPlan([]), plan)).toBe(plan);
  });

  test('beside the supply header the lead enters it there, and does not run along or across it', () => {
    // Rows run east; the header along the west end is nearest to the control set in its middle.
    for (const at of [
      [-1, 2],
      [0.3, 1.85],
    ] as const) {
      const bare: Plan = {
        ...bedPlan([BED]),
        supplies: Table.of([supply('V1', at)]),
        controls: Table.of([control('C1', at)]),
      };
      const plan = filledPlan(bare, {}, { lead: true });
      const header = runsOfFill(plan).find(({ name }) => name.startsWith('Supply header'))!;
      const lead = plan.runs.get(theFill(plan).leadIds![0]!)!;
      const near = nearestOnPath(header.path, at);
      expect(near.along).toBeGreaterThan(0.5);
      expect(distance(lead.path.at(-1)!, near.point)).toBeLessThan(0.06);
      expect(pathLength(lead.path)).toBeCloseTo(near.distance, 1);
      const { notices, results } = studyOf(plan);
      expect(notices.filter(({ rule }) => rule === 'runs-cross')).toEqual([]);
      expect(results.outlets.every(({ state }) => state === 'good')).toBe(true);
    }
  });
  test('a control set that is moved takes the lead along, and the rows stay live', () => {
    const plan = ledPlan();
    const next = after(
      plan,
      move(
        '',
        [
          { table: 'controls', id: 'C1' },
          { table: 'supplies', id: 'V1' },
        ],
        14,
        8,
      ),
    );
    expectFresh(next);
    runsWater(next);
    expect(next.runs.get(theFill(next).leadIds![0]!)!.path[0]).toEqual([11, 6]);
  });

  test('a control set on the header is led to when the header goes', () => {
    const bare = filledPlan();
    const start = runsOfFill(bare).find(({ inline }) => inline === null)!.path[0]!;
    const placed = after(bare, add('', 'controls', { ...control('', start), name: 'C' }));
    expect(theFill(placed).leadIds).toBeUndefined();
    const next = after(placed, corner(0, [-1, -1]));
    expect(theFill(next).leadIds).toHaveLength(1);
    expect(next.controls.get('C1')!.at).toEqual(start);
    runsWater({ ...next, supplies: ledPlan().supplies.with({ ...[...ledPlan().supplies][0]!, at: start }) });
  });

  test('it goes round paving, and begins on tubing that is fed already', () => {
    const house = area('H', rectangle(-2, -1.5, 1.5, 1.2), { use: 'building' });
    const plan = ledPlan([BED, house]);
    const path = plan.runs.get(theFill(plan).leadIds![0]!)!.path;
    expect(path.length).toBeGreaterThan(2);
    const main = {
      ...ledPlan(),
      fills: Table.of([]),
      flushEnds: Table.of([]),
      runs: Table.of([blank('R1', [-3, -2], [-3, 1], [-0.5, 1])]),
    } as Plan;
    const teed = filledPlan(main, {}, { lead: true });
    const lead = teed.runs.get(theFill(teed).leadIds![0]!)!;
    expect(lead.path[0]).not.toEqual([-3, -2]);
    runsWater(teed);
    const moved = after(teed, moveVertex('', { table: 'runs', id: 'R1', ring: 0, index: 2 }, [-0.5, 0.7]));
    expectFresh(moved);
    runsWater(moved);
  });

  test('it goes round a bed that is full of rows, and begins on the lead of the fill before', () => {
    const first = ledPlan([BED, area('A2', rectangle(9, -0.5, 4, 5), { name: 'Border' })]);
    const choices = { ...CHOICES };
    const laid = layFill(first, { kind: 'bed', areaId: 'A2', choices }, { lead: true });
    if (!laid.ok) throw new Error(laid.problem.what);
    const plan = fillEdit(first, 'A2', laid.value, { replace: true, choices, lead: true }).apply(first);
    const [, second] = [...plan.fills];
    const path = plan.runs.get(second!.leadIds![0]!)!.path;
    const rows = runsOfFill(plan, theFill(plan)).filter(({ inline }) => inline);
    const crossed = rows.filter((row) =>
      path.slice(1).some((p, i) => segmentsCross(path[i]!, p, row.path[0]!, row.path[1]!)),
    );
    expect(crossed).toEqual([]);
    runsWater(plan);
    const moved = after(plan, corner(0, [-1, -1]));
    runsWater(moved);
    expect([...moved.fills].map(({ byHand }) => byHand)).toEqual([false, false]);
  });

  test('a bed that is filled elsewhere leaves the lead of another where it is', () => {
    const empty = { runs: Table.of([]), fills: Table.of([]), flushEnds: Table.of([]) } as Partial<Plan>;
    const bare = { ...ledPlan([BED, area('A2', rectangle(10, -1, 4, 4))]), ...empty };
    const first = filledPlan(bare, {}, { lead: true, areaId: 'A2' });
    const lead = (on: Plan) => on.runs.get(theFill(on).leadIds![0]!);
    const next = followed(first, filledPlan(first, {}, { lead: true }));
    expect(next.fills.size).toBe(2);
    expect(lead(next)).toBe(lead(first));
    runsWater(next);
  });

  test('a tie-in counts while there is no control set, and nothing is led over more than 200 ft', () => {
    const far = { ...bedPlan([BED]), controls: Table.of([control('C1', [-80, 0])]) };
    const plan = filledPlan(far, {}, { lead: true });
    expect(theFill(plan).leadIds).toEqual([]);
    const fresh = freshly(plan);
    expect(fresh.ok && fresh.value.leads.tooFar).toBe(1);
  });
});

describe('while a corner is dragged', () => {
  const rows = (on: Plan) => tubingOf(runsOfFill(on).filter(({ inline }) => inline));

  test('rows are laid at once, and the end lays the same', () => {
    for (const plan of [ledPlan(), filledPlan(bedPlan([area('A1', rectangle(0, 0, 128, 18))]))]) {
      const edited = corner(0, [-1, -1]).apply(plan);
      const { plan: shown } = follow(plan, edited, { drafted: true });
      expect(rows(shown)).not.toEqual(rows(plan));
      expect(rows(shown)).toEqual(rows(followed(plan, edited)));
    }
  });

  test('a lead reaches for the start that moves, and finds its way at the end', () => {
    const plan = ledPlan([BED, area('H', rectangle(-2, -1.5, 1.5, 1.2), { use: 'building' })]);
    const edited = corner(0, [-1.4, 0]).apply(plan);
    const { plan: shown } = follow(plan, edited, { drafted: true });
    const lead = (on: Plan) => on.runs.get(theFill(on).leadIds![0]!)!.path;
    expect(lead(shown).slice(0, -1)).toEqual(lead(plan).slice(0, -1));
    const start = runsOfFill(shown).find(({ inline }) => !inline)!.path[0];
    expect(lead(shown).at(-1)).toEqual(start);
    expectFresh(followed(plan, edited));
  });

  test('beyond a count of emitters they wait for the end', () => {
    const huge = filledPlan(bedPlan([area('A1', rectangle(0, 0, 150, 20))]));
    const edited = corner(0, [-1, -1]).apply(huge);
    expect(follow(huge, edited, { drafted: true }).plan).toBe(edited);
    expectFresh(followed(huge, edited));
  });
});

test('levels of another place do not hurry a fill', () => {
  const plan = filledPlan({
    ...bedPlan([BED], 0, 0.2),
    levels: bedPlan([BED], 0, 0.2).levels.with(
      level('Z9', 150, 80, 3),
      level('Z10', 20, -5, -1),
      level('Z11', 20, 20, 4),
    ),
  });
  const next = followed(plan, change('', 'levels', ['Z9'], { zM: 5 }).apply(plan));
  expect(next.runs).toBe(plan.runs);
});
