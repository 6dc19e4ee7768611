import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { readPlan, writePlan } from './file.ts';
import {
  TABLES,
  type CheckValve,
  type Fill,
  type FlushEnd,
  type LinePart,
  type Plan,
  type PointEmitter,
} from './records.ts';

const number = (min: number, max: number): fc.Arbitrary<number> =>
  // Adding zero: JSON does not keep the sign of -0.
  fc.double({ min, max, noNaN: true }).map((value) => value + 0);
const place: fc.Arbitrary<Point> = fc.tuple(number(-5000, 5000), number(-5000, 5000));
const words = fc.oneof(fc.string({ maxLength: 12 }), fc.string({ unit: 'binary', maxLength: 8 }));
const id = fc.oneof(
  { weight: 8, arbitrary: fc.string({ minLength: 1, maxLength: 8 }) },
  fc.constantFrom('__proto__', 'constructor', 'toString', 'propertyIsEnumerable', '__defineGetter__'),
);
const size = number(0, 100);
const maybe = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null });
const path = (minLength: number): fc.Arbitrary<Point[]> => fc.array(place, { minLength, maxLength: 6 });

function table<T extends { readonly id: string }>(fields: {
  [K in keyof Omit<T, 'id'>]: fc.Arbitrary<T[K & keyof T]>;
}): fc.Arbitrary<Table<T>> {
  const record = fc.record({ id, ...fields }) as unknown as fc.Arbitrary<T>;
  return fc.uniqueArray(record, { selector: (one) => one.id, maxLength: 5 }).map((all) => Table.of(all));
}

const outletChoice = { law: id, ratedFlowLph: number(0, 50) };
type OnRuns = 'emitters' | 'checkValves' | 'flushEnds' | 'lineParts' | 'fills';
const withoutParts: fc.Arbitrary<Omit<Plan, OnRuns>> = fc.record({
  site: fc.record({
    name: words,
    client: words,
    address: words,
    drawnBy: words,
    date: words,
    notes: words,
    northDeg: number(-360, 360),
    contourM: maybe(number(0.05, 10)),
  }),
  photo: maybe(
    fc.record({
      pictureId: id,
      name: words,
      widthPx: fc.integer({ min: 1, max: 9000 }),
      heightPx: fc.integer({ min: 1, max: 9000 }),
      corner: place,
      turnDeg: number(-180, 180),
      assumedWidthM: number(0.1, 500),
      measures: fc.array(
        fc.record({ a: place, b: place, lengthM: size, role: fc.constantFrom('fit', 'check') }),
        { maxLength: 3 },
      ),
      strength: number(0, 1),
      rectification: maybe(
        fc.record({
          source: fc.record({
            pictureId: id,
            widthPx: fc.integer({ min: 1, max: 9000 }),
            heightPx: fc.integer({ min: 1, max: 9000 }),
          }),
          marks: fc.tuple(place, place, place, place),
          sidesM: fc.tuple(number(0.1, 99), number(0.1, 99), number(0.1, 99), number(0.1, 99)),
          diagonalsM: fc.tuple(maybe(number(0.1, 99)), maybe(number(0.1, 99))),
        }),
      ),
    }),
  ),
  water: fc.record({
    staticKpa: maybe(number(0, 1000)),
    lowStaticKpa: maybe(number(0, 1000)),
    measuredAt: maybe(fc.constantFrom('meter', 'valve')),
    waterC: maybe(number(0, 60)),
    workingPoints: fc.array(
      fc.record(
        {
          pressureKpa: number(0, 900),
          flowLph: number(0, 1e5),
          how: fc.constantFrom('gauge', 'bucket', 'meter'),
        },
        { requiredKeys: ['pressureKpa', 'flowLph'] },
      ),
      { maxLength: 3 },
    ),
    meterSize: maybe(words),
    serviceSize: maybe(words),
    serviceMaterial: maybe(words),
    serviceLengthM: maybe(size),
    backflowType: maybe(words),
    backflowSize: maybe(words),
    backflowZM: maybe(number(-100, 100)),
    recycledWater: maybe(fc.boolean()),
    flowSensor: maybe(fc.boolean()),
    masterValve: maybe(words),
  }),
  controller: fc.record({
    longestRunMin: maybe(number(0, 999)),
    startsPerDay: maybe(fc.integer({ min: 0, max: 20 })),
    longestIntervalDays: maybe(fc.integer({ min: 0, max: 60 })),
    freeStations: maybe(fc.integer({ min: 0, max: 20 })),
    nightWindow: maybe(fc.record({ fromMin: number(0, 1440), toMin: number(0, 1440) })),
  }),
  planting: fc.record({
    kinds: fc.array(
      fc.record({
        name: words,
        plantClass: fc.constantFrom('tree', 'shrub', 'perennial', 'groundcover'),
        canopyNowM: maybe(size),
        canopyMatureM: size,
        rootBallM: maybe(size),
        waterUse: maybe(fc.constantFrom('high', 'moderate', 'low', 'very low')),
        count: maybe(fc.integer({ min: 0, max: 5000 })),
      }),
      { maxLength: 3 },
    ),
  }),
  practice: fc.record({
    fittings: maybe(fc.constantFrom('barb', 'clamped barb', 'press-in', 'lock', 'compression')),
    feederSlackPercent: maybe(number(0, 100)),
  }),
  checks: fc.record({
    limits: fc.dictionary(fc.string({ unit: 'grapheme-ascii', maxLength: 8 }), number(-100, 100), {
      maxKeys: 3,
      noNullPrototype: true,
    }),
    waivers: fc.array(
      fc.record({
        rule: id,
        refs: fc.array(fc.record({ table: fc.constantFrom(...TABLES), id }), { maxLength: 2 }),
        reason: fc.string({ minLength: 1, maxLength: 9 }),
        by: words,
      }),
      { maxLength: 2 },
    ),
  }),
  soil: fc.record({
    texture: maybe(words),
    ribbonM: maybe(number(0, 0.2)),
    sandPercent: maybe(number(0, 100)),
    siltPercent: maybe(number(0, 100)),
    clayPercent: maybe(number(0, 100)),
    intakeMmPerH: maybe(number(0, 200)),
    intakeTable: maybe(id),
    rootDepthM: maybe(number(0, 3)),
    compacted: maybe(fc.boolean()),
    cover: maybe(words),
    coverKind: maybe(fc.constantFrom('bare', 'mulch', 'gravel', 'fabric', 'netting', 'plants')),
    coverDepthM: maybe(number(0, 1)),
    fabricIntakeMmPerH: maybe(number(0, 200)),
  }),
  climate: fc.record({ lowestWinterC: maybe(number(-60, 30)), note: words }),
  areas: table({
    use: fc.constantFrom('bed', 'paving', 'lawn', 'building'),
    name: words,
    outline: path(3),
    holes: fc.array(path(3), { maxLength: 2 }),
  }),
  levels: table({ at: place, zM: number(-100, 100) }),
  falls: table({
    from: place,
    to: place,
    by: fc.oneof(
      fc.record({ kind: fc.constant('drop' as const), dropM: number(-50, 50) }),
      fc.record({ kind: fc.constant('slope' as const), percent: number(-200, 200) }),
    ),
  }),
  plants: table({
    at: place,
    name: words,
    plantClass: fc.constantFrom('tree', 'shrub', 'perennial', 'groundcover'),
    canopyNowM: maybe(size),
    canopyMatureM: size,
    rootBallM: maybe(size),
    waterUse: maybe(fc.constantFrom('high', 'moderate', 'low', 'very low')),
  }),
  supplies: table({
    name: words,
    at: place,
    zM: maybe(number(-100, 100)),
    pressureKpa: maybe(number(0, 1000)),
    valveSize: maybe(words),
    valveType: maybe(words),
    minFlowLph: maybe(number(0, 1e4)),
    maxFlowLph: maybe(number(0, 1e5)),
    runningFlowLph: maybe(number(0, 1e5)),
    runningFlowHow: maybe(fc.constantFrom('gauge', 'bucket', 'meter')),
    watering: maybe(
      fc.record({
        minutesPerStart: number(0, 600),
        startsPerDay: number(0, 9),
        intervalDays: number(1, 30),
      }),
    ),
    zone: maybe(words),
  }),
  heads: table({
    at: place,
    flowLph: maybe(number(0, 1e4)),
    pressureKpa: maybe(number(0, 900)),
    body: maybe(words),
    thread: maybe(words),
    blocked: maybe(fc.boolean()),
    pattern: maybe(
      fc.oneof(
        fc.record({
          kind: fc.constant('sector' as const),
          radiusM: size,
          startDeg: number(0, 360),
          sweepDeg: number(0, 360),
        }),
        fc.record({
          kind: fc.constant('strip' as const),
          lengthM: size,
          widthM: size,
          directionDeg: maybe(number(-180, 360)),
        }),
      ),
    ),
    waters: fc.constantFrom('bed', 'lawn'),
    fate: fc.constantFrom('undecided', 'tie-in', 'cap', 'cut off', 'keep'),
    zone: maybe(words),
    note: words,
  }),
  laterals: table({
    from: words,
    to: words,
    a: place,
    b: place,
    size: maybe(words),
    material: maybe(words),
    depthM: maybe(number(0, 3)),
    fate: fc.constantFrom('undecided', 'live', 'dead', 'cut off'),
    measured: fc.boolean(),
    zone: maybe(words),
  }),
  controls: table({ name: words, at: place, filter: id, regulator: id, setKpa: number(0, 500) }),
  runs: table({
    name: words,
    path: path(2),
    tubing: id,
    inline: maybe(fc.record({ ...outletChoice, spacingM: number(0.05, 2), firstM: size })),
  }),
});

const plan: fc.Arbitrary<Plan> = withoutParts.chain((rest) => {
  const runIds = [...rest.runs].map((run) => run.id);
  if (runIds.length === 0) {
    return fc.constant({
      ...rest,
      emitters: Table.of<PointEmitter>(),
      checkValves: Table.of<CheckValve>(),
      flushEnds: Table.of<FlushEnd>(),
      lineParts: Table.of<LinePart>(),
      fills: Table.of<Fill>(),
    });
  }
  const plantIds = [...rest.plants].map((plant) => plant.id);
  const runId = fc.constantFrom(...runIds);
  return fc
    .record({
      emitters: table<PointEmitter>({
        ...outletChoice,
        runId,
        at: place,
        plantId: fc.constantFrom(null, ...plantIds),
      }),
      checkValves: table<CheckValve>({ runId, at: place, openKpa: number(0, 50) }),
      lineParts: table<LinePart>({ kind: fc.constantFrom('air relief', 'drain'), runId, at: place }),
      fills: fillsOf(
        runId,
        [...rest.areas].map((area) => area.id),
        plantIds,
      ),
      // One at most at each end of a run.
      flushEnds: fc
        .uniqueArray(fc.record({ id, runId, end: fc.constantFrom('start' as const, 'end' as const) }), {
          selector: (one) => one.id,
          maxLength: 5,
        })
        .map((all) => Table.of(all.filter((one, i) => all.findIndex((other) => sameEnd(one, other)) === i))),
    })
    .map((parts) => ({ ...rest, ...parts }));
});

function fillsOf(
  runId: fc.Arbitrary<string>,
  areaIds: readonly string[],
  plantIds: readonly string[],
): fc.Arbitrary<Table<Fill>> {
  const dripline = { ...outletChoice, tubing: id, headerTubing: id, emitterSpacingM: number(0.05, 2) };
  const base = { id, runIds: fc.uniqueArray(runId, { maxLength: 3 }), byHand: fc.boolean() };
  const kinds: fc.Arbitrary<Fill>[] = [];
  if (areaIds.length)
    kinds.push(
      fc.record({
        ...base,
        kind: fc.constant('bed' as const),
        areaId: fc.constantFrom(...areaIds),
        choices: fc.record({
          ...dripline,
          pattern: fc.constantFrom('straight' as const, 'curved' as const, 'loops' as const),
          rowSpacingM: number(0.1, 3),
          edgeM: number(0, 2),
          direction: fc.oneof(fc.constantFrom('contour' as const, 'long edge' as const), number(0, 180)),
          stagger: fc.boolean(),
          lowerThirdFactor: number(1, 3),
          leaveOut: fc.array(id, { maxLength: 2 }),
          headers: fc.constantFrom('both ends' as const, 'serpentine' as const, 'none' as const),
          equalise: fc.boolean(),
        }),
      }),
    );
  if (plantIds.length)
    kinds.push(
      fc.record({
        ...base,
        kind: fc.constant('tree' as const),
        plantId: fc.constantFrom(...plantIds),
        choices: fc.record({
          ...dripline,
          form: fc.constantFrom('rings' as const, 'spiral' as const),
          canopy: fc.constantFrom('now' as const, 'mature' as const),
          ringSpacingM: maybe(number(0.1, 3)),
          trunkClearM: number(0, 2),
        }),
      }),
    );
  return kinds.length
    ? fc
        .uniqueArray(fc.oneof(...kinds), { selector: (one) => one.id, maxLength: 4 })
        // No run is part of two of them.
        .map((all) =>
          all.map((one, i) => {
            const before = all.slice(0, i).flatMap(({ runIds }) => runIds);
            return { ...one, runIds: one.runIds.filter((run) => !before.includes(run)) };
          }),
        )
        // Every other one is led to.
        .map((all) =>
          Table.of(all.map((one, i) => (i % 2 ? { ...one, leadIds: one.runIds.slice(0, 1) } : one))),
        )
    : fc.constant(Table.of<Fill>());
}

function sameEnd(a: FlushEnd, b: FlushEnd): boolean {
  return a.runId === b.runId && a.end === b.end;
}

const picture = maybe(
  fc.record({
    mediaType: fc.constantFrom('image/jpeg', 'image/png'),
    base64: fc
      .uint8Array({ minLength: 1, maxLength: 40 })
      .map((bytes) => Buffer.from(bytes).toString('base64')),
  }),
);

/** The plan with plain lists for tables, for comparing. */
function plainOf(value: Plan): Record<string, unknown> {
  return { ...value, ...Object.fromEntries(TABLES.map((name) => [name, value[name].toArray()])) };
}

describe('plan files', () => {
  test('reading what was written gives the plan and the picture back', () => {
    fc.assert(
      fc.property(plan, picture, (before, image) => {
        const read = readPlan(writePlan(before, image));
        if (!read.ok) throw new Error(read.problem.what);
        const missing = before.photo && !image ? ['picture'] : [];
        expect(read.value.notices.map((notice) => notice.where)).toEqual(missing);
        expect(plainOf(read.value.plan)).toEqual(plainOf(before));
        expect(read.value.picture).toEqual(image);
      }),
      { seed: 20_260_101, numRuns: 200 },
    );
  });

  test('no damage to a file makes reading throw or lose the sound records', () => {
    fc.assert(
      fc.property(plan, fc.jsonValue({ maxDepth: 3 }), fc.nat(), (before, junk, pick) => {
        const file = JSON.parse(writePlan(before, null)) as Record<string, unknown>;
        const name = TABLES[pick % TABLES.length]!;
        (file[name] as unknown[]).push(junk);
        const read = readPlan(JSON.stringify(file));
        if (!read.ok) throw new Error(read.problem.what);
        expect(read.value.plan[name].size).toBe(before[name].size);
        expect(
          read.value.notices.some((notice) => notice.where.startsWith(`${name}[${before[name].size}]`)),
        ).toBe(true);
      }),
      { seed: 20_260_102, numRuns: 100 },
    );
  });
});
