import { isObject, type JsonObject } from './json.ts';

/**
 * Lifts the parsed content of a plan file from one version to the next. It gets plain JSON, may meet damaged
 * records, must not throw, and leaves alone what it does not understand: checking comes after.
 */
export type Migration = (file: JsonObject) => JsonObject;

/**
 * The steps in order: the first lifts version 1 to version 2, and so on. A step is added when a change of the
 * records would make an older file unreadable or change its meaning; it is never edited afterwards. Each step
 * needs a case in migrate.test.ts, and the last version before it a file in tests/fixtures.
 */
export const MIGRATIONS: readonly Migration[] = [
  withFlushEndsAndCheckValves,
  withTheWholeSurvey,
  withLayoutAids,
];

/** The version that `writePlan` writes. */
export const PLAN_VERSION = MIGRATIONS.length + 1;

/** Content of a file of `version` (1 .. number of steps + 1) as the newest version has it. */
export function migrated(
  file: JsonObject,
  version: number,
  steps: readonly Migration[] = MIGRATIONS,
): JsonObject {
  let lifted = file;
  for (const step of steps.slice(version - 1)) lifted = step(lifted);
  return isObject(lifted) ? { ...lifted, version: steps.length + 1 } : file;
}

/** 1 to 2: tables of flush ends and check valves; three more facts about the water service, not measured. */
function withFlushEndsAndCheckValves(file: JsonObject): JsonObject {
  const water = Object.hasOwn(file, 'water') ? file['water'] : undefined;
  return {
    checkValves: [],
    flushEnds: [],
    ...file,
    ...(isObject(water) && { water: { lowStaticKpa: null, measuredAt: null, waterC: null, ...water } }),
  };
}

/** 2 to 3: falls, plant list, controller, and what else a survey of the old system holds; all of it not measured. */
function withTheWholeSurvey(file: JsonObject): JsonObject {
  const own = (name: string): unknown => (Object.hasOwn(file, name) ? file[name] : undefined);
  const part = (name: string, fields: JsonObject): JsonObject => {
    const value = own(name);
    return isObject(value) ? { [name]: { ...fields, ...value } } : {};
  };
  const rows = (name: string, fields: JsonObject): JsonObject => {
    const value = own(name);
    if (!Array.isArray(value)) return {};
    return { [name]: value.map((row: unknown) => (isObject(row) ? { ...fields, ...row } : row)) };
  };
  return {
    falls: [],
    planting: { kinds: [] },
    controller: { longestRunMin: null, startsPerDay: null, longestIntervalDays: null, freeStations: null },
    ...file,
    ...part('site', { contourM: null }),
    ...part('photo', { rectification: null }),
    ...part('water', { backflowZM: null }),
    ...part('soil', {
      ribbonM: null,
      intakeTable: null,
      coverKind: null,
      coverDepthM: null,
      fabricIntakeMmPerH: null,
    }),
    ...rows('supplies', { runningFlowLph: null, runningFlowHow: null }),
    ...rows('heads', { pressureKpa: null, body: null, thread: null, blocked: null }),
    ...rows('laterals', { depthM: null, fate: 'undecided' }),
  };
}

/** 3 to 4: how beds were filled, parts at high and low places, settings of the checks, how stations are watered. */
function withLayoutAids(file: JsonObject): JsonObject {
  const controller = Object.hasOwn(file, 'controller') ? file['controller'] : undefined;
  const supplies = Object.hasOwn(file, 'supplies') ? file['supplies'] : undefined;
  return {
    lineParts: [],
    fills: [],
    practice: { fittings: null, feederSlackPercent: null },
    checks: { limits: {}, waivers: [] },
    ...file,
    ...(isObject(controller) && { controller: { nightWindow: null, ...controller } }),
    ...(Array.isArray(supplies) && {
      supplies: supplies.map((row: unknown) => (isObject(row) ? { watering: null, ...row } : row)),
    }),
  };
}
