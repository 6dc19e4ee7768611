import { bad, good, type Problem, type Result } from '../base/result.ts';
import { Table } from '../base/table.ts';
import { checked, Notices, readFields, shown } from './check.ts';
import { emptyPlan } from './empty.ts';
import { isObject, parseJson, type JsonObject } from './json.ts';
import { migrated, PLAN_VERSION } from './migrate.ts';
import {
  TABLES,
  type Plan,
  type RecordOf,
  type SitePhoto,
  type TableName,
  type WaterService,
} from './records.ts';
import { emittersWithRuns, fillsWhole, freeId, oneAtEachEnd, onRuns } from './repair.ts';
import {
  CLIMATE,
  CONTROLLER,
  LIMIT,
  LIMIT_KEY,
  photoMeasure,
  PHOTO,
  PICTURE,
  plantKind,
  PRACTICE,
  RECORDS,
  SITE,
  SOIL,
  waiver,
  WATER,
  workingPoint,
} from './schema.ts';
import { PLAN_FORMAT, type Picture } from './write.ts';

/** What a plan file held. */
export interface PlanFile {
  readonly plan: Plan;
  readonly picture: Picture | null;
  /** What was left out or repaired; each tells its place in the file. Empty for a sound file. */
  readonly notices: readonly Problem[];
}

const KNOWN = new Set<string>([
  'format',
  'version',
  'site',
  'photo',
  'water',
  'controller',
  'soil',
  'climate',
  'planting',
  'practice',
  'checks',
  'picture',
  ...TABLES,
]);

/**
 * Reads the text of a plan file. Refuses text that is not JSON (with line and column), that is no plan, or that
 * was written by a newer version. Anything less is no reason to refuse: a faulty record is left out, a faulty
 * field emptied, a reference repaired, and each is reported. A photo without its picture is reported under
 * `picture`; whoever keeps pictures apart may drop that notice.
 */
export function readPlan(text: string): Result<PlanFile> {
  const parsed = parseJson(text);
  return parsed.ok ? readPlanValue(parsed.value) : parsed;
}

/** The same for text that is parsed already. */
export function readPlanValue(value: unknown): Result<PlanFile> {
  if (!isObject(value)) {
    return bad('file', `the file holds ${shown(value)}, not a plan`, 'Choose a plan file.');
  }
  if (value['format'] !== PLAN_FORMAT) {
    return bad(
      'format',
      `the format is ${shown(value['format'])}, not "${PLAN_FORMAT}"`,
      'Choose a plan file.',
    );
  }
  const version = value['version'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    return bad(
      'version',
      `the version is ${shown(version)} but must be a whole number from 1 to ${PLAN_VERSION}`,
      `Write the version that the file was saved with, usually ${PLAN_VERSION}.`,
    );
  }
  if (version > PLAN_VERSION) {
    return bad(
      'version',
      `the plan was saved as version ${version}, and this program reads up to version ${PLAN_VERSION}`,
      'Open it with the newer program that saved it. The file was not changed.',
    );
  }
  return good(readCurrent(migrated(value, version)));
}

function readCurrent(file: JsonObject): PlanFile {
  const notices = new Notices();
  const empty = emptyPlan();
  for (const key of Object.keys(file)) {
    if (!KNOWN.has(key)) {
      notices.add(
        key,
        'is not part of a plan and was not read',
        'Keep the file if you need it: saving drops this part.',
      );
    }
  }
  const photo = readPhoto(own(file, 'photo'), notices);
  const picture = readPicture(own(file, 'picture'), photo, notices);
  const runs = readTable(file, 'runs', notices);
  const plants = readTable(file, 'plants', notices);
  const table = <K extends TableName>(name: K): Table<RecordOf<K>> =>
    Table.of(readTable(file, name, notices).map((row) => row.record));
  const runTable = Table.of(runs.map((row) => row.record));
  const plantTable = Table.of(plants.map((row) => row.record));
  const emitters = readTable(file, 'emitters', notices);
  const checkValves = onRuns('check valve', readTable(file, 'checkValves', notices), runTable, notices);
  const flushEnds = onRuns('flush end', readTable(file, 'flushEnds', notices), runTable, notices);
  const lineParts = onRuns('line part', readTable(file, 'lineParts', notices), runTable, notices);
  const areaTable = table('areas');
  const plan: Plan = {
    site: readFields(own(file, 'site'), SITE, empty.site, 'site', notices),
    photo,
    water: readWater(own(file, 'water'), empty.water, notices),
    controller: readFields(own(file, 'controller'), CONTROLLER, empty.controller, 'controller', notices),
    soil: readFields(own(file, 'soil'), SOIL, empty.soil, 'soil', notices),
    climate: readFields(own(file, 'climate'), CLIMATE, empty.climate, 'climate', notices),
    planting: { kinds: readItems(own(file, 'planting'), 'kinds', plantKind, 'planting', notices) },
    practice: readFields(own(file, 'practice'), PRACTICE, empty.practice, 'practice', notices),
    checks: {
      limits: readLimits(own(file, 'checks'), notices),
      waivers: readItems(own(file, 'checks'), 'waivers', waiver, 'checks', notices),
    },
    areas: areaTable,
    levels: table('levels'),
    falls: table('falls'),
    plants: plantTable,
    supplies: table('supplies'),
    heads: table('heads'),
    laterals: table('laterals'),
    controls: table('controls'),
    runs: runTable,
    checkValves: Table.of(checkValves.map((row) => row.record)),
    flushEnds: Table.of(oneAtEachEnd(flushEnds, notices).map((row) => row.record)),
    lineParts: Table.of(lineParts.map((row) => row.record)),
    emitters: Table.of(emittersWithRuns(emitters, runTable, plantTable, notices)),
    fills: Table.of(fillsWhole(readTable(file, 'fills', notices), areaTable, plantTable, runTable, notices)),
  };
  return { plan, picture, notices: notices.list };
}

/** A field of the file itself, never one that every object inherits. */
function own(file: JsonObject, name: string): unknown {
  return Object.hasOwn(file, name) ? file[name] : undefined;
}

interface Row<K extends TableName> {
  readonly record: RecordOf<K>;
  readonly where: string;
}

function readTable<K extends TableName>(file: JsonObject, name: K, notices: Notices): Row<K>[] {
  const value = own(file, name);
  if (!Array.isArray(value)) {
    notices.add(
      name,
      `is ${shown(value)} but must be a list`,
      'The list is empty now: open an earlier copy if you need it.',
    );
    return [];
  }
  const rows: Row<K>[] = [];
  const taken = new Set<string>();
  const inFile = new Set(value.map((item: unknown) => (isObject(item) ? item['id'] : undefined)));
  const strange = new Map<string, { where: string; count: number }>();
  value.forEach((item: unknown, index) => {
    const where = `${name}[${index}]`;
    let result = checked(RECORDS[name], item, where);
    if (!result.ok && name === 'supplies' && isObject(item)) {
      // Minutes and starts are quickly typed again; the supply with its place and flows is not.
      const rest = checked(RECORDS[name], { ...item, watering: null }, where);
      if (rest.ok) {
        notices.add(result.where, result.what, 'The watering was emptied: type it again.');
        result = rest;
      }
    }
    if (!result.ok) {
      notices.add(
        result.where,
        result.what,
        `Record ${naming(item, index)} was left out: correct the file or draw it again.`,
      );
      return;
    }
    let record = result.value;
    const id = taken.has(record.id) ? freeId(record.id, inFile, taken) : record.id;
    if (id !== record.id) {
      notices.add(
        `${where}.id`,
        `"${record.id}" is the id of an earlier record too`,
        `The later one is called "${id}" now.`,
      );
      record = { ...record, id };
    }
    taken.add(id);
    rows.push({ record, where });
    for (const key of Object.keys(item as object)) {
      if (Object.hasOwn(record, key)) continue;
      const seen = strange.get(key);
      if (seen) seen.count++;
      else strange.set(key, { where: `${where}.${key}`, count: 1 });
    }
  });
  for (const { where, count } of strange.values()) {
    notices.add(
      where,
      `is not a field of such a record (${count} of them have it)`,
      'Keep the file if you need it: saving drops the field.',
    );
  }
  return rows;
}

function naming(item: unknown, index: number): string {
  const id = isObject(item) ? item['id'] : undefined;
  return typeof id === 'string' && id !== '' ? `"${id.slice(0, 40)}"` : `${index + 1} of the list`;
}

function readWater(value: unknown, empty: WaterService, notices: Notices): WaterService {
  const water = readFields(value, WATER, empty, 'water', notices);
  return { ...water, workingPoints: readItems(value, 'workingPoints', workingPoint, 'water', notices) };
}

/** Limits of checks one by one: a faulty one is left out, so that its check goes by the usual limit. */
function readLimits(checks: unknown, notices: Notices): Plan['checks']['limits'] {
  if (!isObject(checks)) {
    notices.add(
      'checks',
      `is ${shown(checks)} but must be an object`,
      'All checks count and go by their usual limits: set your own again.',
    );
    return {};
  }
  const value = own(checks, 'limits');
  if (!isObject(value)) {
    notices.add(
      'checks.limits',
      `is ${shown(value)} but must be an object`,
      'All checks go by their usual limits: set your own again.',
    );
    return {};
  }
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, limit]) => {
      const where = `checks.limits.${key.slice(0, LIMIT_KEY)}`;
      const result = checked(LIMIT, limit, where);
      if (result.ok && key.length <= LIMIT_KEY) return [[key, result.value] as const];
      const what = result.ok ? `has a name of more than ${LIMIT_KEY} characters` : result.what;
      notices.add(where, what, 'That check goes by its usual limit: set your own again.');
      return [];
    }),
  );
}

function readPhoto(value: unknown, notices: Notices): SitePhoto | null {
  if (value === null) return null;
  if (!isObject(value)) {
    notices.add('photo', `is ${shown(value)} but must be an object or null`, 'Add the photo again.');
    return null;
  }
  // Without its size or its place a photo cannot be shown; a faulty strength or way of rectifying alone does no harm.
  const strength = checked(PHOTO.strength, value['strength'], 'photo.strength');
  const flat = checked(PHOTO.rectification, value['rectification'], 'photo.rectification');
  if (!flat.ok) notices.add(flat.where, flat.what, 'The photo is kept as it is; its marks are forgotten.');
  const fields: Record<string, unknown> = {
    measures: readItems(value, 'measures', photoMeasure, 'photo', notices),
  };
  if (!strength.ok) notices.add(strength.where, strength.what, 'It is shown at full strength: set it again.');
  for (const [name, schema] of Object.entries(PHOTO)) {
    const result =
      name === 'strength' && !strength.ok
        ? { ok: true as const, value: 1 }
        : name === 'rectification' && !flat.ok
          ? { ok: true as const, value: null }
          : checked<unknown>(schema, own(value, name), `photo.${name}`);
    if (!result.ok) {
      notices.add(result.where, result.what, 'The photo was left out: add it again and set its scale.');
      return null;
    }
    fields[name] = result.value;
  }
  return fields as unknown as SitePhoto;
}

function readPicture(value: unknown, photo: SitePhoto | null, notices: Notices): Picture | null {
  if (value === null || value === undefined) {
    if (photo)
      notices.add(
        'picture',
        `the picture "${photo.name}" is not in the file`,
        'Add the picture again; the scale is kept.',
      );
    return null;
  }
  const result = checked(PICTURE, value, 'picture');
  if (result.ok) return result.value;
  notices.add(result.where, result.what, 'The picture was left out: add it again; the scale is kept.');
  return null;
}

function readItems<T>(
  parent: unknown,
  name: string,
  schema: Parameters<typeof checked<T>>[0],
  where: string,
  notices: Notices,
): T[] {
  if (!isObject(parent)) return [];
  const value = own(parent, name);
  if (!Array.isArray(value)) {
    notices.add(
      `${where}.${name}`,
      `is ${shown(value)} but must be a list`,
      'The list is empty now: type it again.',
    );
    return [];
  }
  return value.flatMap((item: unknown, index) => {
    const result = checked(schema, item, `${where}.${name}[${index}]`);
    if (result.ok) return [result.value];
    notices.add(result.where, result.what, 'It was left out: type it again.');
    return [];
  });
}
