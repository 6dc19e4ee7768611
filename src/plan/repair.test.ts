import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readPlan, writePlan, type PlanFile } from './file.ts';

type Json = Record<string, any>;

/** The fixture after `change`, with the notices that the fixture itself does not give. */
function changed(change: (file: Json) => void): PlanFile {
  const text = readFileSync(new URL('../../tests/fixtures/plan-v4.json', import.meta.url), 'utf8');
  const read = (file: unknown): PlanFile => {
    const result = readPlan(JSON.stringify(file));
    if (!result.ok) throw new Error(result.problem.what);
    return result.value;
  };
  const sound = read(JSON.parse(text)).notices;
  const file = JSON.parse(text) as Json;
  change(file);
  const { notices, ...rest } = read(file);
  return { ...rest, notices: notices.filter(({ where }) => !sound.some((one) => one.where === where)) };
}
const places = ({ notices }: PlanFile) => notices.map(({ where }) => where);

const run = (id: string): Json => ({
  id,
  name: id,
  path: [
    [0, 0],
    [5, 0],
  ],
  tubing: 'blank-half-600',
  inline: null,
});

const choices = {
  pattern: 'straight',
  rowSpacingM: 0.4,
  edgeM: 0.1,
  direction: 'contour',
  stagger: true,
  lowerThirdFactor: 1,
  leaveOut: [],
  headers: 'both ends',
  equalise: true,
  emitterSpacingM: 0.3,
  law: 'inline-pc',
  ratedFlowLph: 2,
  tubing: 'inline-17',
  headerTubing: 'blank-half-600',
};

/** A file with a bed, three runs and fills that name some of them. */
function filled(...fills: Json[]): PlanFile {
  return changed((file) => {
    file['areas'] = [
      { id: 'B', use: 'bed', name: '', outline: [[0, 0], [5, 0], [5, 5]], holes: [] }, // prettier-ignore
    ];
    file['runs'] = ['R1', 'R2', 'R3'].map(run);
    for (const table of ['checkValves', 'flushEnds', 'lineParts', 'emitters']) file[table] = [];
    file['fills'] = fills.map((fill, i) => ({
      id: `F${i + 1}`,
      kind: 'bed',
      areaId: 'B',
      byHand: false,
      choices,
      ...fill,
    }));
  });
}

describe('fills', () => {
  test('the control set from which a fill is led is kept, in the file and when there is no such set', () => {
    const file = filled({ runIds: ['R1', 'R2'], leadIds: ['R2'], leadFrom: 'C99' });
    const again = readPlan(writePlan(file.plan, null));
    expect(again.ok && again.value.plan.fills.get('F1')).toMatchObject({ leadFrom: 'C99', byHand: false });
  });

  test('sound ones are read as they are, with no word', () => {
    const file = filled({ runIds: ['R1', 'R2'], leadIds: ['R2'] }, { runIds: ['R3'] });
    expect(file.notices).toEqual([]);
    expect([...file.plan.fills].map(({ byHand }) => byHand)).toEqual([false, false]);
  });

  test('a run that is missing: told, and the fill counts as changed by hand', () => {
    const file = filled({ runIds: ['R1', 'R9', 'R8'] });
    expect(file.plan.fills.get('F1')).toMatchObject({ runIds: ['R1'], byHand: true });
    expect(places(file)).toEqual(['fills[0].runIds']);
    expect(file.notices[0]!.what).toContain('runs R9, R8');
  });

  test('a run that two fills own stays with the first', () => {
    const file = filled({ runIds: ['R1', 'R2'] }, { runIds: ['R2', 'R3'], leadIds: ['R2'] });
    expect(file.plan.fills.get('F1')).toMatchObject({ runIds: ['R1', 'R2'], byHand: false });
    expect(file.plan.fills.get('F2')).toMatchObject({ runIds: ['R3'], leadIds: [], byHand: true });
    expect(places(file)).toEqual(['fills[1].runIds']);
    expect(file.notices[0]!.what).toContain('part of fill F1');
    // Nothing more to say of it once it is saved.
    const again = readPlan(writePlan(file.plan, null));
    expect(again.ok && again.value.plan.fills.get('F2')).toEqual(file.plan.fills.get('F2'));
    expect(again.ok && again.value.notices.filter(({ where }) => where.startsWith('fills'))).toEqual([]);
  });

  test('a run that is named twice counts once, and the fill still follows', () => {
    const file = filled({ runIds: ['R1', 'R2', 'R1', 'R1'], leadIds: ['R2', 'R2'] });
    expect(file.plan.fills.get('F1')).toMatchObject({ runIds: ['R1', 'R2'], leadIds: ['R2'], byHand: false });
    expect(places(file)).toEqual(['fills[0].runIds']);
  });

  test('leads that are no runs of the fill', () => {
    const file = filled({ runIds: ['R1'], leadIds: ['R1', 'R3'] });
    expect(file.plan.fills.get('F1')).toMatchObject({ runIds: ['R1'], leadIds: ['R1'], byHand: true });
    expect(places(file)).toEqual(['fills[0].leadIds']);
  });
});

describe('emitters', () => {
  const emitters = (...list: Json[]): PlanFile =>
    changed((file) => {
      file['runs'] = [run('R1')];
      file['plants'] = [plant('P1'), plant('P2')];
      for (const table of ['checkValves', 'flushEnds', 'lineParts', 'fills']) file[table] = [];
      file['emitters'] = list.map((more, i) => ({
        id: `E${i + 1}`,
        runId: 'R1',
        at: [1, 0.1],
        plantId: 'P1',
        law: 'point-pc',
        ratedFlowLph: 4,
        ...more,
      }));
    });
  const plant = (id: string): Json => ({
    id,
    at: [1, 0],
    name: '',
    plantClass: 'shrub',
    canopyNowM: null,
    canopyMatureM: 1,
    rootBallM: null,
    waterUse: null,
  });

  test('a feeder that starts nowhere or at itself starts at the run, told', () => {
    const file = emitters({ fromEmitterId: 'E9' }, { fromEmitterId: 'E2' }, { fromEmitterId: 'E1' });
    expect([...file.plan.emitters].map(({ fromEmitterId }) => fromEmitterId)).toEqual([
      undefined,
      undefined,
      'E1',
    ]);
    expect(places(file)).toEqual(['emitters[0].fromEmitterId', 'emitters[1].fromEmitterId']);
    expect(file.notices[1]!.what).toContain('itself');
  });

  test('a feeder from an emitter that was itself left out', () => {
    const file = emitters({ runId: 'R9', at: [50, 50] }, { fromEmitterId: 'E1' });
    expect([...file.plan.emitters].map(({ id }) => id)).toEqual(['E2']);
    expect(places(file)).toEqual(['emitters[0].runId', 'emitters[1].fromEmitterId']);
  });

  test('further plants that are missing are told', () => {
    const file = emitters({ alsoPlantIds: ['P2', 'P8'] }, { alsoPlantIds: ['P9'] }, { alsoPlantIds: ['P2'] });
    expect([...file.plan.emitters].map(({ alsoPlantIds }) => alsoPlantIds)).toEqual([
      ['P2'],
      undefined,
      ['P2'],
    ]);
    expect(places(file)).toEqual(['emitters[0].alsoPlantIds', 'emitters[1].alsoPlantIds']);
  });
});

describe('limits of checks', () => {
  const limits = (value: unknown): PlanFile =>
    changed((file) => (file['checks'] = { limits: value, waivers: [] }));

  test('a faulty one leaves the others', () => {
    const file = limits({ one: 3, warning: null, two: 5, three: '7' });
    expect(file.plan.checks.limits).toEqual({ one: 3, two: 5 });
    expect(places(file)).toEqual(['checks.limits.warning', 'checks.limits.three']);
  });

  test('names that are no names', () => {
    const long = 'x'.repeat(300);
    const file = limits(JSON.parse(`{"__proto__": 4, "${long}": 1, "one": 2}`));
    expect(file.plan.checks.limits['one']).toBe(2);
    expect(Object.getPrototypeOf(file.plan.checks.limits)).toBe(Object.prototype);
    expect(places(file)).toEqual([`checks.limits.${'x'.repeat(200)}`]);
  });

  test('no object at all', () => {
    for (const value of [null, [], 4, undefined]) {
      const file = limits(value);
      expect(file.plan.checks.limits).toEqual({});
      expect(places(file)).toEqual(['checks.limits']);
    }
    expect(places(changed((file) => (file['checks'] = 'none')))).toEqual(['checks']);
  });
});

describe('a supply', () => {
  test('with a faulty watering keeps all else', () => {
    for (const watering of [{ minutesPerStart: -5, startsPerDay: 1, intervalDays: 1 }, 'daily', [3]]) {
      const file = changed((json) => (json['supplies'][0]['watering'] = watering));
      const was = changed(() => undefined);
      expect(file.plan.supplies.toArray()[0]).toEqual({ ...was.plan.supplies.toArray()[0], watering: null });
      expect(file.plan.supplies.size).toBe(was.plan.supplies.size);
      expect(file.notices).toHaveLength(1);
      expect(file.notices[0]!.where).toMatch(/^supplies\[0\]\.watering/);
    }
  });
  test('faulty elsewhere is left out as before', () => {
    const file = changed((json) => {
      json['supplies'][0]['watering'] = 'daily';
      json['supplies'][0]['at'] = 'here';
    });
    expect(places(file)[0]).toBe('supplies[0].at');
    expect(file.notices[0]!.todo).toContain('left out');
  });
});
