import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { Problem } from '../base/result.ts';
import { emptyPlan } from './empty.ts';
import { openAnything, PLAN_VERSION, readPlan, writePlan, type PlanFile } from './file.ts';

type Json = Record<string, any>;

const fixture = (): Json =>
  JSON.parse(readFileSync(new URL('../../tests/fixtures/plan-v2.json', import.meta.url), 'utf8')) as Json;

function read(file: unknown): PlanFile {
  const result = readPlan(JSON.stringify(file));
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

function refusal(text: string): Problem {
  const result = readPlan(text);
  if (result.ok) throw new Error('was read');
  return result.problem;
}

/** The fixture after `change`. */
function changed(change: (file: Json) => void): PlanFile {
  const file = fixture();
  change(file);
  return read(file);
}

describe('writing', () => {
  test('puts one record a line and the picture last', () => {
    const text = writePlan(read(fixture()).plan, { mediaType: 'image/png', base64: 'AAAA' });
    const lines = text.split('\n');
    expect(lines.filter((line) => line.startsWith('  {"id":"H'))).toHaveLength(2);
    expect(lines.at(-3)).toContain('"picture"');
    expect(JSON.parse(text)).toMatchObject({ format: 'dripwright-plan', version: PLAN_VERSION });
  });

  test('an empty plan comes back empty, with nothing turned into zero', () => {
    const back = read(JSON.parse(writePlan(emptyPlan('Lot 4'), null)));
    expect(back.notices).toEqual([]);
    expect(back.plan.site.name).toBe('Lot 4');
    expect(back.plan.water).toEqual(emptyPlan().water);
    expect(back.plan.soil.rootDepthM).toBeNull();
  });
});

describe('refusing', () => {
  test('text that is not JSON, with line and column', () => {
    expect(refusal('{\n"format": dripwright-plan}')).toMatchObject({ where: 'line 2, column 11' });
  });

  test('another format, by its name', () => {
    expect(refusal('{"format": "recipe"}')).toMatchObject({
      where: 'format',
      what: expect.stringContaining('"recipe"'),
    });
    expect(refusal('[1]').what).toContain('[1]');
    expect(refusal('{"__proto__": {"format": "dripwright-plan"}}').where).toBe('format');
  });

  test('a newer version, naming both', () => {
    const { where, what, todo } = refusal(JSON.stringify({ ...fixture(), version: PLAN_VERSION + 3 }));
    expect(where).toBe('version');
    expect(what).toContain(`version ${PLAN_VERSION + 3}`);
    expect(todo).toMatch(/not changed/);
  });

  test.each([0, -1, 1.5, '1', null])('version %j', (version) => {
    expect(refusal(JSON.stringify({ ...fixture(), version })).where).toBe('version');
  });
});

describe('reading on past faults', () => {
  test('a bad record is left out and named with its path; the others stay', () => {
    const { plan, notices } = changed((file) => {
      file['heads'][0].at = [0.2, 'x'];
      file['runs'][0].path = [[1, 1]];
      file['levels'].push(null, 7);
    });
    expect(notices.map((notice) => notice.where).sort()).toEqual([
      'checkValves[0].runId',
      'flushEnds[0].runId',
      'heads[0].at[1]',
      'levels[3]',
      'levels[4]',
      'runs[0].path',
    ]);
    expect([...plan.heads].map((head) => head.id)).toEqual(['H2']);
    expect(plan.runs.size).toBe(1);
    expect(plan.levels.size).toBe(3);
    expect(notices.find((notice) => notice.where === 'heads[0].at[1]')).toMatchObject({
      what: expect.stringContaining('"x"'),
      todo: expect.stringContaining('"H1"'),
    });
  });

  test('numbers out of all bounds are refused, in records and in fields', () => {
    const { plan, notices } = changed((file) => {
      file['levels'][0].zM = 1e9;
      file['water'].staticKpa = -5;
      file['soil'].sandPercent = 130;
      file['climate'].lowestWinterC = '5';
    });
    expect(notices.map((notice) => notice.where)).toEqual(
      expect.arrayContaining([
        'levels[0].zM',
        'water.staticKpa',
        'soil.sandPercent',
        'climate.lowestWinterC',
      ]),
    );
    expect(plan.water.staticKpa).toBeNull();
    expect(plan.water.meterSize).toBe('5/8');
    expect(plan.soil.sandPercent).toBeNull();
    expect(plan.soil.clayPercent).toBe(20);
  });

  test('a second record with an id gets a free one', () => {
    const { plan, notices } = changed((file) => {
      file['heads'].push({ ...file['heads'][0] }, { ...file['heads'][0], id: 'H1-2' });
    });
    expect([...plan.heads].map((head) => head.id)).toEqual(['H1', 'H2', 'H1-3', 'H1-2']);
    expect(notices).toEqual([expect.objectContaining({ where: 'heads[2].id' })]);
  });

  test('an emitter whose run is missing goes to the blank run beside it, or is left out', () => {
    const { plan, notices } = changed((file) => {
      file['emitters'][0].runId = 'gone';
      file['emitters'].push({ ...file['emitters'][0], id: 'E2', at: [60, 60] });
    });
    expect(plan.emitters.toArray()).toMatchObject([{ id: 'E1', runId: 'R2' }]);
    expect(notices.map((notice) => notice.where)).toEqual(['emitters[0].runId', 'emitters[1].runId']);
    expect(notices[0]!.todo).toContain('R2');
  });

  test('an emitter whose plant is missing is kept without it', () => {
    const { plan, notices } = changed((file) => {
      file['plants'] = [];
    });
    expect(plan.emitters.get('E1')?.plantId).toBeNull();
    expect(notices.map((notice) => notice.where)).toEqual(['emitters[0].plantId']);
  });

  test('a check valve or flush end whose run is missing is left out and named', () => {
    const { plan, notices } = changed((file) => {
      file['checkValves'].push({ id: 'K2', runId: 'gone', at: [0, 0], openKpa: 4 });
      file['flushEnds'][0].runId = 'gone';
    });
    expect([...plan.checkValves].map((valve) => valve.id)).toEqual(['K1']);
    expect([...plan.flushEnds].map((flush) => flush.id)).toEqual(['F2']);
    expect(notices.map((notice) => notice.where)).toEqual(['checkValves[1].runId', 'flushEnds[0].runId']);
    expect(notices[0]!.what).toContain('check valve K2 names run gone');
  });

  test('the second flush end at one end of a run is left out and named', () => {
    const { plan, notices } = changed((file) => {
      file['flushEnds'].push({ id: 'F3', runId: 'R1', end: 'end' }, { id: 'F4', runId: 'R1', end: 'start' });
    });
    expect([...plan.flushEnds].map((flush) => flush.id)).toEqual(['F1', 'F2', 'F4']);
    expect(notices).toEqual([expect.objectContaining({ where: 'flushEnds[2]' })]);
  });

  test('a place of measuring or an end that is no word of ours is named', () => {
    const { plan, notices } = changed((file) => {
      file['water'].measuredAt = 'kitchen tap';
      file['flushEnds'][0].end = 'middle';
    });
    expect(plan.water.measuredAt).toBeNull();
    expect(plan.water.lowStaticKpa).toBe(360);
    expect(plan.flushEnds.size).toBe(1);
    expect(notices.map((notice) => notice.where).toSorted()).toEqual([
      'flushEnds[0].end',
      'water.measuredAt',
    ]);
  });

  test('a missing table or part is empty and named', () => {
    const { plan, notices } = changed((file) => {
      delete file['runs'];
      delete file['soil'];
      file['heads'] = { H1: {} };
    });
    expect(notices.map((notice) => notice.where)).toEqual(expect.arrayContaining(['runs', 'soil', 'heads']));
    expect(plan.soil).toEqual(emptyPlan().soil);
    expect(plan.plants.size).toBe(1);
  });

  test('fields that a plan does not know are named once', () => {
    const { notices } = changed((file) => {
      file['heads'].forEach((head: Json) => (head['brandColour'] = 'red'));
      file['weather'] = {};
    });
    expect(notices).toEqual([
      expect.objectContaining({ where: 'weather' }),
      expect.objectContaining({ where: 'heads[0].brandColour', what: expect.stringContaining('2 of them') }),
    ]);
  });

  test('a bad picture or photo is left out, the plan stays', () => {
    expect(changed((file) => (file['picture'].base64 = 'not base64!')).picture).toBeNull();
    expect(changed((file) => (file['picture'].mediaType = 'text/html')).notices[0]!.where).toBe(
      'picture.mediaType',
    );
    expect(changed((file) => (file['picture'] = null)).notices[0]).toMatchObject({ where: 'picture' });
    const noPhoto = changed((file) => (file['photo'].widthPx = 0));
    expect(noPhoto.plan.photo).toBeNull();
    expect(noPhoto.plan.areas.size).toBe(1);
    const strength = changed((file) => (file['photo'].strength = 9));
    expect(strength.plan.photo?.strength).toBe(1);
    const measure = changed((file) =>
      file['photo'].measures.push({ a: [0, 0], b: [1], lengthM: 1, role: 'fit' }),
    );
    expect(measure.plan.photo?.measures).toHaveLength(1);
    expect(measure.notices[0]!.where).toBe('photo.measures[1].b[1]');
  });

  test('no file can reach the prototype of objects', () => {
    const text = writePlan(emptyPlan(), null)
      .replace('"site": {', '"site": {"__proto__": {"stained": true}, ')
      .replace(
        '"heads": []',
        '"heads": [{"__proto__": {"id": "H1"}, "constructor": {"prototype": {"stained": true}}}]',
      );
    const result = readPlan(text);
    expect(result.ok).toBe(true);
    expect(({} as Json)['stained']).toBeUndefined();
    if (result.ok) {
      expect((result.value.plan.site as unknown as Json)['stained']).toBeUndefined();
      expect(result.value.plan.heads.size).toBe(0);
    }
  });

  test('a picture of tens of megabytes is read', () => {
    const base64 = 'QUJD'.repeat(10_000_000);
    const file = { ...fixture(), picture: { mediaType: 'image/jpeg', base64 } };
    expect(read(file).picture?.base64.length).toBe(40_000_000);
  });
});

describe('opening whatever was chosen', () => {
  test('tells plan and survey apart', () => {
    const plan = openAnything(JSON.stringify(fixture()));
    expect(plan).toMatchObject({ ok: true, value: { kind: 'plan', picture: { mediaType: 'image/png' } } });
    const survey = openAnything(
      '{"format": "survey", "version": 1, "units": {"length": "m"}, "name": "Yard"}',
    );
    expect(survey).toMatchObject({ ok: true, value: { kind: 'survey', picture: null, notices: [] } });
  });

  test.each([
    ['{"format": "map"}', /"map"/],
    ['{"type": "FeatureCollection", "features": []}', /"type", "features"/],
    ['[]', /a list/],
    ['7', /7/],
    ['{}', /empty object/],
  ])('names what %s is', (text, what) => {
    const result = openAnything(text);
    expect(result).toMatchObject({
      ok: false,
      problem: { where: 'format', what: expect.stringMatching(what) },
    });
  });
});
