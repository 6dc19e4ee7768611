import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { migrated, MIGRATIONS, PLAN_VERSION, type Migration } from './migrate.ts';
import { readPlan } from './read.ts';

/** One case for each step: a piece of the older file and what the step makes of it, by the step's number from 1. */
const STEP_CASES: Record<number, { before: Record<string, unknown>; after: Record<string, unknown> }> = {
  1: {
    before: { version: 1, water: { staticKpa: 400, workingPoints: [] }, runs: [{ id: 'R1' }] },
    after: {
      version: 1,
      water: { staticKpa: 400, workingPoints: [], lowStaticKpa: null, measuredAt: null, waterC: null },
      runs: [{ id: 'R1' }],
      checkValves: [],
      flushEnds: [],
    },
  },
  2: {
    before: {
      version: 2,
      site: { name: 'Court' },
      photo: null,
      water: { staticKpa: 400 },
      soil: 'wet',
      heads: [{ id: 'H1' }, 7],
      laterals: [{ id: 'L1' }],
    },
    after: {
      version: 2,
      falls: [],
      planting: { kinds: [] },
      controller: { longestRunMin: null, startsPerDay: null, longestIntervalDays: null, freeStations: null },
      site: { name: 'Court', contourM: null },
      photo: null,
      water: { staticKpa: 400, backflowZM: null },
      soil: 'wet',
      heads: [{ id: 'H1', pressureKpa: null, body: null, thread: null, blocked: null }, 7],
      laterals: [{ id: 'L1', depthM: null, fate: 'undecided' }],
    },
  },
  3: {
    before: { version: 3, controller: { freeStations: 1 }, supplies: [{ id: 'V1' }, null] },
    after: {
      version: 3,
      controller: { freeStations: 1, nightWindow: null },
      supplies: [{ id: 'V1', watering: null }, null],
      practice: { fittings: null, feederSlackPercent: null },
      checks: { limits: {}, waivers: [] },
      lineParts: [],
      fills: [],
    },
  },
};

describe('migration', () => {
  test('every step has a case, and every case holds', () => {
    expect(Object.keys(STEP_CASES).map(Number)).toEqual(MIGRATIONS.map((_, index) => index + 1));
    MIGRATIONS.forEach((step, index) => {
      expect(step(STEP_CASES[index + 1]!.before)).toEqual(STEP_CASES[index + 1]!.after);
    });
  });

  test('a file of every version so far can still be read whole', () => {
    for (let version = 1; version <= PLAN_VERSION; version++) {
      const file = new URL(`../../tests/fixtures/plan-v${version}.json`, import.meta.url);
      const text = readFileSync(file, 'utf8');
      expect((JSON.parse(text) as { version: number }).version).toBe(version);
      const read = readPlan(text);
      if (!read.ok) throw new Error(`version ${version}: ${read.problem.what}`);
      expect(read.value.notices).toEqual([]);
      expect(read.value.plan.emitters.size).toBeGreaterThan(0);
    }
  });

  test('the step to version 2 leaves damaged water as it is, for the reader to report', () => {
    expect(MIGRATIONS[0]!({ water: 'wet' })).toEqual({ water: 'wet', checkValves: [], flushEnds: [] });
    expect(MIGRATIONS[0]!({})).toEqual({ checkValves: [], flushEnds: [] });
  });

  const steps: Migration[] = [
    (file) => ({ ...file, a: 1 }),
    (file) => ({ ...file, b: Number(file['a']) + 1 }),
    (file) => ({ ...file, c: Number(file['b']) + 1 }),
  ];

  test('steps run in order from the version of the file', () => {
    expect(migrated({ version: 1 }, 1, steps)).toEqual({ version: 4, a: 1, b: 2, c: 3 });
    expect(migrated({ version: 3, b: 7 }, 3, steps)).toEqual({ version: 4, b: 7, c: 8 });
    expect(migrated({ version: 4 }, 4, steps)).toEqual({ version: 4 });
  });
});
