import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { GPM_LPH, PSI_KPA } from '../base/units.ts';
import { jointNames } from '../derive/existing/decided.ts';
import { tieInEdits, tieInsOf } from '../derive/existing/lateral/index.ts';
import { readSurvey } from '../plan/file.ts';
import { oldPipeSchedule } from './old-pipe-schedule.ts';
import type { OutletResult, Results } from '../derive/results.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../plan/empty.ts';
import type { Head, Plan, Plant, PointEmitter, Run } from '../plan/records.ts';
import { controlSchedule } from './control-schedule.ts';
import { headSchedule } from './head-schedule.ts';
import { linePartSchedule } from './line-part-schedule.ts';
import { outletSchedule } from './outlet-schedule.ts';
import { plantSchedule, tagWords } from './plant-schedule.ts';
import { runSchedule } from './run-schedule.ts';
import { shower } from './show.ts';
import type { Schedule } from './table.ts';

function run(id: string, name: string, lengthM: number, tubing: string, dripline: boolean): Run {
  return {
    id,
    name,
    path: [
      [0, 0],
      [lengthM, 0],
    ],
    tubing,
    inline: dripline ? { law: 'inline-pc', ratedFlowLph: 2, spacingM: 0.3, firstM: 0.15 } : null,
  };
}

function emitter(id: string, runId: string, offM: number, plantId: string | null): PointEmitter {
  return { id, runId, at: [1, offM], plantId, law: 'point-pc', ratedFlowLph: 4 };
}

function plant(id: string, name: string, more: Partial<Plant> = {}): Plant {
  return {
    id,
    at: [0, 0],
    name,
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1.2,
    rootBallM: null,
    waterUse: null,
    ...more,
  };
}

function head(id: string, fate: Head['fate'], flowLph: number | null, note = ''): Head {
  return { ...UNMEASURED_HEAD, id, at: [0, 0], flowLph, fate, note };
}

const plan: Plan = {
  ...emptyPlan(),
  runs: Table.of([
    run('r1', 'Header', 12, 'blank-half-600', false),
    run('r2', 'Row', 9, 'inline-17', true),
    run('r3', '', 4, 'inline-17', true),
    run('r4', 'Spur', 3, 'blank-three-quarter', false),
    run('r5', 'Odd', 2, 'not in the catalog', true),
  ]),
  emitters: Table.of([
    emitter('e1', 'r1', 0.5, 'P6'),
    emitter('e2', 'r1', 0.25, 'P6'),
    emitter('e3', 'r4', 0, 'P2'),
    emitter('e4', 'r4', 1, null),
  ]),
  plants: Table.of([
    plant('P1', 'sage', { canopyNowM: 0.4 }),
    plant('P2', 'sage', { canopyNowM: 0.6 }),
    plant('P3', 'sage'),
    plant('P6', ''),
    plant('P7', 'sage', { plantClass: 'groundcover' }),
  ]),
};

const cellsOf = ({ rows }: Schedule): string[][] => rows.map(({ cells }) => [...cells]);
const column = (schedule: Schedule, title: string): string[] => {
  const i = schedule.columns.findIndex(({ head: word }) => word === title);
  expect(i).toBeGreaterThanOrEqual(0);
  return schedule.rows.map(({ cells }) => cells[i]!);
};

describe('runs of tubing', () => {
  const schedule = runSchedule(plan, null, 'metric');

  test('feeders stand under their run with size, count and length', () => {
    const rows = cellsOf(schedule).filter(([, kind]) => kind === 'feeder');
    expect(rows.map(([name, , size, length]) => [name, size, length])).toEqual([
      ['2 feeders of Header', '4.3 / 6.3 mm', '0.75 m'],
      ['1 feeder of Spur', '4.3 / 6.3 mm', '1.00 m'],
      ['All 3 feeders, cut to 1.93 m', '4.3 / 6.3 mm', '1.75 m'],
    ]);
  });

  test('lengths are summed for each tubing and never across', () => {
    const sums = schedule.rows.filter(({ bold }) => bold).map(({ cells }) => cells);
    expect(sums.map(([name, , size, length]) => [name, size, length])).toEqual([
      ['All blank', '15.2 / 17.8 mm', '12.00 m'],
      ['All dripline', '14.2 / 17.0 mm', '13.00 m'],
      ['All blank', '20.8 / 23.9 mm', '3.00 m'],
      ['All dripline', 'not in the catalog', '2.00 m'],
      ['All 3 feeders, cut to 1.93 m', '4.3 / 6.3 mm', '1.75 m'],
      ['All outlets', '', ''],
    ]);
  });

  test('US sheets give diameters in inches', () => {
    expect(column(runSchedule(plan, null, 'us'), 'Bore / outside')[0]).toBe('0.600 / 0.700 in');
  });

  test('computed feeders have their length on the ground', () => {
    const outlet = {
      owner: { table: 'emitters', id: 'e1' },
      runId: 'r1',
      feederM: 0.8,
      tap: [1, 0],
      at: [1, 0.5],
    } as unknown as OutletResult;
    const results = { outlets: [outlet], runs: new Map(), outletCount: 1 } as unknown as Results;
    const rows = cellsOf(runSchedule(plan, results, 'metric'));
    expect(rows.find(([name]) => name === '1 feeder of Header')![3]).toBe('0.80 m');
  });

  test('a plan without runs has no lines', () => {
    expect(runSchedule(emptyPlan(), null, 'us').rows).toEqual([]);
  });
});

describe('existing heads', () => {
  test('each with its tag, what happens to it and its flow, and their sum', () => {
    const heads = Table.of([
      head('H1', 'cap', 2 * GPM_LPH),
      head('H2', 'cut off', GPM_LPH),
      head('H3', 'tie-in', GPM_LPH),
      head('H4', 'cap', GPM_LPH),
    ]);
    expect(cellsOf(headSchedule({ ...plan, heads }, 'us'))).toEqual([
      ['H1', 'remove the head, cap the riser', '2.00 gpm', 'bed'],
      ['H2', 'remove the head', '1.00 gpm', 'bed'],
      ['H3', 'tie in here: remove the head, flush, then the control set', '1.00 gpm', 'bed'],
      ['H4', 'remove the head, cap the riser', '1.00 gpm', 'bed'],
      ['All', '1 tie-in, 2 cap, 1 cut off', '5.00 gpm', ''],
    ]);
  });

  test('a flow not surveyed leaves the sum open; notes have a column when there are any', () => {
    const heads = Table.of([
      { ...head('H1', 'undecided', null, 'leans'), blocked: true },
      head('H2', 'keep', 100),
    ]);
    const schedule = headSchedule({ ...plan, heads }, 'metric');
    expect(column(schedule, 'Flow')).toEqual(['–', '100 L/h', '–']);
    expect(column(schedule, 'Note')).toEqual(['blocked; leans', '', '']);
    expect(column(schedule, 'What happens to it')).toEqual([
      'not decided',
      'stays a spray, on another valve',
      '1 keep, 1 not decided',
    ]);
  });
});

describe('the old pipe', () => {
  const survey = () => {
    const read = readSurvey(readFileSync('tests/fixtures/survey-tree.json', 'utf8'));
    if (!read.ok) throw new Error(read.problem.what);
    return read.value.plan;
  };
  test('has no line before a tie-in is decided', () => {
    expect(oldPipeSchedule(survey(), 'us').rows).toEqual([]);
  });
  test('has a line for each dead leg of the decided tie-in, and heads say where their pipe is cut', () => {
    const undecided = survey();
    const best = tieInsOf(undecided)[0]!.candidates[0]!;
    const decided = tieInEdits(undecided, best).apply(undecided);
    const schedule = oldPipeSchedule(decided, 'us');
    expect(schedule.rows).toHaveLength(best.legs.length);
    const named = jointNames(decided, null);
    expect(column(schedule, 'At')).toEqual(best.legs.map(named));
    const cut = best.legs.find(({ action }) => action === 'cut at the tee')!;
    const line = cellsOf(headSchedule(decided, 'us')).find(([id]) => id === cut.heads[0])!;
    expect(line[1]).toBe(`remove the head; its pipe is cut at ${named(cut)}`);
  });
});

describe('plants', () => {
  test('are grouped by name and class, with emitters to each', () => {
    expect(cellsOf(plantSchedule(plan, null, 'metric'))).toEqual([
      ['P1 to P3', 'sage', '3', '0.40 to 0.60 m', '1.20 m', '0 to 1'],
      ['P6', 'shrub', '1', '–', '1.20 m', '2'],
      ['P7', 'sage', '1', '–', '1.20 m', '0'],
    ]);
    expect(column(plantSchedule(plan, null, 'us'), 'Canopy now')[0]).toBe(`1' 3 3/4" to 1' 11 1/2"`);
  });

  test('an emitter that plants share counts for each of them', () => {
    const shared = { ...emitter('e9', 'r1', 0.2, 'P1'), alsoPlantIds: ['P2'] };
    const own = { ...plan, emitters: Table.of([shared]) };
    const each = column(
      plantSchedule({ ...own, plants: Table.of([plant('P1', 'sage'), plant('P2', 'rose')]) }, null, 'us'),
      'Emitters each',
    );
    expect(each).toEqual(['1', '1']);
    const rows = cellsOf(outletSchedule(own, null, 'metric'));
    expect(rows.some((cells) => cells.includes('sage P1, sage P2'))).toBe(true);
  });

  test('feeders stand in the outlet schedule as laid and as cut', () => {
    const feeders = column(outletSchedule(plan, null, 'metric'), 'Feeder, laid / cut');
    expect(feeders).toContain('1.00 m / 1.10 m');
    const tight = { ...plan, practice: { ...plan.practice, feederSlackPercent: 0 } };
    expect(column(outletSchedule(tight, null, 'metric'), 'Feeder, laid / cut')).toContain('1.00 m / 1.00 m');
  });

  test('with results an emitter of a neighbour does not count, and dripline counts apart', () => {
    const at = (x: number, table: 'runs' | 'emitters', plantId: string | null = null): OutletResult =>
      ({ owner: { table, id: 'r2' }, at: [x, 0], plantId }) as unknown as OutletResult;
    // Mature canopy 1.2 m: roots reach 0.6 m from the stem.
    const plants = Table.of([
      plant('P1', 'sage'),
      plant('P4', 'rose', { at: [0.4, 0] }),
      plant('P8', 'fern', { at: [5, 0] }),
      plant('P9', 'moss', { at: [9, 0] }),
    ]);
    const emitters = Table.of([emitter('e1', 'r1', 0.1, 'P1'), emitter('e2', 'r1', 0.3, 'P4')]);
    const outlets = [
      at(0.1, 'emitters', 'P1'),
      at(0.3, 'emitters', 'P4'),
      at(4.8, 'runs'),
      at(5.2, 'runs'),
      at(5.4, 'runs'),
      at(7, 'runs'),
      at(9.2, 'emitters'),
    ];
    const results = { outlets } as unknown as Results;
    const each = (given: Results | null) =>
      column(plantSchedule({ ...plan, plants, emitters }, given, 'metric'), 'Emitters each');
    expect(each(results)).toEqual(['1', '1', '3 of dripline', '1']);
    expect(each(null)).toEqual(['1', '1', '0', '0']);
  });

  test('tags left off the drawing are told of', () => {
    expect(plantSchedule(plan, null, 'us').note).toBeUndefined();
    expect(plantSchedule(plan, null, 'us', 3).note).toContain('3 tags are left off');
  });

  test('no tag is lost, however many there are', () => {
    const plants = Table.of(Array.from({ length: 90 }, (_, i) => plant(`P${2 * i + 1}`, 'thyme')));
    const tags = column(plantSchedule({ ...plan, plants }, null, 'us'), 'Tags');
    expect(tags.length).toBeGreaterThan(5);
    for (const line of tags) expect(line.length).toBeLessThan(50);
    const all = tags.join(' ').split(', ');
    expect(all).toEqual(plants.toArray().map(({ id }) => id));
  });

  test('tags go by their numbers; three and more in a row are drawn together', () => {
    expect(tagWords(['P10', 'P9', 'P2', 'P3', 'P11', 'x', 'T1', 'P007'])).toEqual([
      'P2',
      'P3',
      'P9 to P11',
      'P007',
      'T1',
      'x',
    ]);
  });
});

describe('outlets', () => {
  test('name the plant with its tag, by its class where the species is not noted', () => {
    const names = column(outletSchedule(plan, null, 'us'), 'Plant');
    expect(names).toEqual(['shrub P6', 'shrub P6', '–', '–', 'sage P2', '–', '–']);
  });

  test('pressures that are not known are one dash', () => {
    const { span } = shower('us');
    expect(span('pressure', [NaN, NaN])).toBe('–');
    expect(span('pressure', [])).toBe('–');
    expect(span('pressure', [NaN, 100])).toBe('14.5 psi');
    expect(span('pressure', [100, 140, -Infinity])).toBe('14.5 to 20.3 psi');
  });
});

describe('filters and regulators', () => {
  const controls = Table.of([
    {
      id: 'C1',
      name: 'Set',
      at: [0, 0] as const,
      filter: 'screen-155',
      regulator: 'window-0.1-8',
      setKpa: 25 * PSI_KPA,
    },
  ]);

  test('are named in the units of the sheet', () => {
    const [metric] = cellsOf(controlSchedule({ ...plan, controls }, null, 'metric'));
    expect(metric!.slice(1, 4)).toEqual(['screen filter, 150 mesh, 100 µm', '23 to 1817 L/h', '1.72 bar']);
    expect(metric!.join(' ')).not.toContain('gpm');
    const [us] = cellsOf(controlSchedule({ ...plan, controls }, null, 'us'));
    expect(us!.slice(1, 4)).toEqual(['screen filter, 150 mesh', '0.10 to 8.00 gpm', '25.0 psi']);
  });
});

describe('parts in the lines', () => {
  const flushEnds = Table.of([
    { id: 'f1', runId: 'r1', end: 'end' as const },
    { id: 'f2', runId: 'r3', end: 'start' as const },
  ]);
  const checkValves = Table.of([{ id: 'k1', runId: 'r2', at: [1, 0] as const, openKpa: 2 * PSI_KPA }]);

  test('flush ends say which end, check valves what opens them', () => {
    expect(cellsOf(linePartSchedule({ ...plan, flushEnds, checkValves }, 'us'))).toEqual([
      ['flush end', 'Header', 'end', '–'],
      ['flush end', '(run 3)', 'start', '–'],
      ['check valve', 'Row', `3' 3 1/4" from its start`, '2.0 psi'],
      ['All', '2 flush ends, 1 check valve', '', ''],
    ]);
  });

  test('air reliefs and drains by kind, as far along the ground as tubing is laid', () => {
    const lineParts = Table.of([
      { id: 'q1', kind: 'drain' as const, runId: 'r2', at: [0, 0] as const },
      { id: 'q2', kind: 'air relief' as const, runId: 'r2', at: [1, 0.2] as const },
      { id: 'q3', kind: 'drain' as const, runId: 'gone', at: [1, 0] as const },
    ]);
    // A slope of 3 in 4: 1 m in plan is 1.25 m of tubing.
    const levels = Table.of([
      { id: 'z1', at: [0, 0] as const, zM: 0 },
      { id: 'z2', at: [8, 0] as const, zM: 6 },
      { id: 'z3', at: [0, 8] as const, zM: 0 },
    ]);
    expect(cellsOf(linePartSchedule({ ...plan, levels, checkValves, lineParts }, 'metric'))).toEqual([
      ['check valve', 'Row', '1.25 m from its start', '0.14 bar'],
      ['air relief', 'Row', '1.25 m from its start', '–'],
      ['drain', 'Row', '0.00 m from its start', '–'],
      ['drain', '–', '–', '–'],
      ['All', '1 check valve, 1 air relief, 2 drains', '', ''],
    ]);
  });

  test('a plan without any has no lines', () => {
    expect(linePartSchedule(plan, 'us').rows).toEqual([]);
  });
});

describe('computed pressures', () => {
  test('say for which state they hold, and nothing while they are not computed', () => {
    const results = { outlets: [], runs: new Map(), zones: [], outletCount: 0 } as unknown as Results;
    for (const schedule of [runSchedule, controlSchedule, outletSchedule]) {
      expect(schedule(plan, results, 'us').note).toBe('Pressures: zone running, clean filter');
      expect(schedule(plan, null, 'us').note).toBeUndefined();
    }
  });
});
