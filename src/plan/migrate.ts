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
export const MIGRATIONS: readonly Migration[] = [withFlushEndsAndCheckValves];

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
