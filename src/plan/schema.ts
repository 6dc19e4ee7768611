import * as v from 'valibot';
import type { Point } from '../base/point.ts';
import { TABLES } from './records.ts';
import type {
  Climate,
  Controller,
  Practice,
  RecordOf,
  Rectification,
  Site,
  SitePhoto,
  Soil,
  TableName,
  WaterService,
} from './records.ts';

/** What a plan file may hold: each record's fields with the range in which a number makes sense. */

const MAX_PLACE_M = 1e6;
const MAX_LENGTH_M = 1e5;
const MAX_PRESSURE_KPA = 1e4;
const MAX_FLOW_LPH = 1e8;
const MAX_HEIGHT_M = 1e4;

/** Largest amounts that a record takes, by kind. */
export const LARGEST = { length: MAX_HEIGHT_M, pressure: MAX_PRESSURE_KPA, flow: MAX_FLOW_LPH } as const;

function number(min: number, max: number, unit: string) {
  const message = `must be a number from ${min} to ${max}${unit && ` ${unit}`}`;
  return v.pipe(v.number(message), v.finite(message), v.minValue(min, message), v.maxValue(max, message));
}

function text(maxCharacters: number) {
  return v.pipe(
    v.string('must be a text'),
    v.maxLength(maxCharacters, `must be a text of at most ${maxCharacters} characters`),
  );
}

function oneOf<const T extends readonly string[]>(words: T) {
  return v.picklist(words, `must be one of ${words.map((word) => `"${word}"`).join(', ')}`);
}

function list<S extends v.GenericSchema>(item: S, min: number, what: string) {
  const message = `must be a list of ${min > 0 ? `at least ${min} ` : ''}${what}`;
  return v.pipe(v.array(item, message), v.minLength(min, message));
}

const yesNo = v.boolean('must be true or false');
const id = v.pipe(text(200), v.nonEmpty('must be a text that is not empty'));
const words = text(10_000);
const name = words;
const place = number(-MAX_PLACE_M, MAX_PLACE_M, 'm');
const size = number(0, MAX_LENGTH_M, 'm');
const pressure = number(0, MAX_PRESSURE_KPA, 'kPa');
const flow = number(0, MAX_FLOW_LPH, 'L/h');
const percent = number(0, 100, '%');
const angle = number(-3600, 3600, 'degrees');
const maybe = v.nullable;
const PLACE = 'must be a place [x, y] in metres';
const point: v.GenericSchema<unknown, Point> = v.strictTuple([place, place], PLACE);
const ring = list(point, 3, 'places [x, y]');
const path = list(point, 2, 'places [x, y]');
const outletChoice = { law: id, ratedFlowLph: flow };

const flowWay = oneOf(['gauge', 'bucket', 'meter']);
const flowMethod = maybe(flowWay);
export const workingPoint = v.object({ pressureKpa: pressure, flowLph: flow, how: v.optional(flowWay) });
export const photoMeasure = v.object({
  a: point,
  b: point,
  lengthM: size,
  role: oneOf(['fit', 'check']),
});

const area = v.object({
  id,
  use: oneOf(['bed', 'paving', 'lawn', 'building']),
  name,
  outline: ring,
  holes: list(ring, 0, 'outlines'),
});

const level = v.object({ id, at: point, zM: number(-MAX_HEIGHT_M, MAX_HEIGHT_M, 'm') });

const fall = v.object({
  id,
  from: point,
  to: point,
  by: v.variant(
    'kind',
    [
      v.object({ kind: v.literal('drop'), dropM: number(-MAX_HEIGHT_M, MAX_HEIGHT_M, 'm') }),
      v.object({ kind: v.literal('slope'), percent: number(-1000, 1000, '%') }),
    ],
    'must be a drop or a slope',
  ),
});

const plantClass = oneOf(['tree', 'shrub', 'perennial', 'groundcover']);
const waterUse = maybe(oneOf(['high', 'moderate', 'low', 'very low']));
export const plantKind = v.object({
  name,
  plantClass,
  canopyNowM: maybe(size),
  canopyMatureM: size,
  rootBallM: maybe(size),
  waterUse,
  count: maybe(number(0, 1e6, '')),
});

const plant = v.object({
  id,
  at: point,
  name,
  plantClass,
  canopyNowM: maybe(size),
  canopyMatureM: size,
  rootBallM: maybe(size),
  waterUse,
});

const supply = v.object({
  id,
  name,
  at: point,
  zM: maybe(number(-MAX_HEIGHT_M, MAX_HEIGHT_M, 'm')),
  pressureKpa: maybe(pressure),
  valveSize: maybe(words),
  valveType: maybe(words),
  minFlowLph: maybe(flow),
  maxFlowLph: maybe(flow),
  runningFlowLph: maybe(flow),
  runningFlowHow: flowMethod,
  watering: maybe(
    v.object({
      minutesPerStart: number(0, 1440, 'min'),
      startsPerDay: number(0, 1000, ''),
      intervalDays: number(1, 366, 'days'),
    }),
  ),
  zone: maybe(words),
});

const pattern = v.variant(
  'kind',
  [
    v.object({
      kind: v.literal('sector'),
      radiusM: size,
      startDeg: angle,
      sweepDeg: number(0, 360, 'degrees'),
    }),
    v.object({ kind: v.literal('strip'), lengthM: size, widthM: size, directionDeg: maybe(angle) }),
  ],
  'must be a sector or a strip',
);

const head = v.object({
  id,
  at: point,
  flowLph: maybe(flow),
  pressureKpa: maybe(pressure),
  pattern: maybe(pattern),
  body: maybe(words),
  thread: maybe(words),
  blocked: maybe(yesNo),
  waters: oneOf(['bed', 'lawn']),
  fate: oneOf(['undecided', 'tie-in', 'cap', 'cut off', 'keep']),
  zone: maybe(words),
  note: words,
});

const lateral = v.object({
  id,
  from: text(200),
  to: text(200),
  a: point,
  b: point,
  size: maybe(words),
  material: maybe(words),
  depthM: maybe(number(0, 100, 'm')),
  measured: yesNo,
  fate: oneOf(['undecided', 'live', 'dead', 'cut off']),
  zone: maybe(words),
});

const control = v.object({
  id,
  name,
  at: point,
  filter: id,
  regulator: id,
  setKpa: pressure,
  regulatorFirst: v.optional(yesNo),
});

const run = v.object({
  id,
  name,
  path,
  tubing: id,
  inline: maybe(v.object({ ...outletChoice, spacingM: number(0.001, MAX_LENGTH_M, 'm'), firstM: size })),
});

const flushEnd = v.object({ id, runId: id, end: oneOf(['start', 'end']) });
const checkValve = v.object({ id, runId: id, at: point, openKpa: pressure });
const linePart = v.object({ id, kind: oneOf(['air relief', 'drain']), runId: id, at: point });
const emitter = v.object({
  ...outletChoice,
  id,
  runId: id,
  at: point,
  plantId: maybe(id),
  alsoPlantIds: v.optional(list(id, 0, 'plant ids')),
  onRun: v.optional(yesNo),
  fromEmitterId: v.optional(id),
});

const spacing = number(0.001, MAX_LENGTH_M, 'm');
const dripline = { emitterSpacingM: spacing, ...outletChoice, tubing: id, headerTubing: id };
const fillBase = {
  id,
  runIds: list(id, 0, 'run ids'),
  byHand: yesNo,
  leadIds: v.optional(list(id, 0, 'run ids')),
  leadFrom: v.optional(id),
};
const fill = v.variant(
  'kind',
  [
    v.object({
      ...fillBase,
      kind: v.literal('bed'),
      areaId: id,
      choices: v.object({
        ...dripline,
        pattern: oneOf(['straight', 'curved', 'loops']),
        rowSpacingM: spacing,
        edgeM: size,
        direction: v.union(
          [v.picklist(['contour', 'long edge']), angle],
          'must be "contour", "long edge" or degrees',
        ),
        stagger: yesNo,
        lowerThirdFactor: number(1, 100, ''),
        leaveOut: list(id, 0, 'area ids'),
        headers: oneOf(['both ends', 'serpentine', 'none']),
        equalise: yesNo,
      }),
    }),
    v.object({
      ...fillBase,
      kind: v.literal('tree'),
      plantId: id,
      choices: v.object({
        ...dripline,
        form: oneOf(['rings', 'spiral']),
        canopy: oneOf(['now', 'mature']),
        ringSpacingM: maybe(spacing),
        trunkClearM: size,
        clearRows: v.optional(yesNo),
      }),
    }),
  ],
  'must be the fill of a bed or a tree',
);

type Checks<T> = v.GenericSchema<unknown, T>;
/** One schema for each field of `T`. */
export type FieldChecks<T> = { readonly [K in keyof T]-?: Checks<T[K]> };

/** One schema for a record of each table. */
export const RECORDS: { readonly [K in TableName]: Checks<RecordOf<K>> } = {
  areas: area,
  levels: level,
  falls: fall,
  plants: plant,
  supplies: supply,
  heads: head,
  laterals: lateral,
  controls: control,
  runs: run,
  checkValves: checkValve,
  flushEnds: flushEnd,
  lineParts: linePart,
  emitters: emitter,
  fills: fill,
};

/** One schema for each field of the single parts of a plan; lists inside them are read item by item. */
export const SITE: FieldChecks<Site> = {
  name,
  client: words,
  address: words,
  drawnBy: words,
  date: words,
  notes: text(1_000_000),
  northDeg: angle,
  contourM: maybe(number(0.01, 100, 'm')),
};

export const WATER: FieldChecks<Omit<WaterService, 'workingPoints'>> = {
  staticKpa: maybe(pressure),
  lowStaticKpa: maybe(pressure),
  measuredAt: maybe(oneOf(['meter', 'valve'])),
  waterC: maybe(number(0, 100, 'degrees C')),
  meterSize: maybe(words),
  serviceSize: maybe(words),
  serviceMaterial: maybe(words),
  serviceLengthM: maybe(size),
  backflowType: maybe(words),
  backflowSize: maybe(words),
  backflowZM: maybe(number(-MAX_HEIGHT_M, MAX_HEIGHT_M, 'm')),
  recycledWater: maybe(yesNo),
  flowSensor: maybe(yesNo),
  masterValve: maybe(words),
};

export const CONTROLLER: FieldChecks<Controller> = {
  longestRunMin: maybe(number(0, 10_000, 'min')),
  startsPerDay: maybe(number(0, 1000, '')),
  longestIntervalDays: maybe(number(0, 366, 'days')),
  freeStations: maybe(number(0, 1000, '')),
  nightWindow: maybe(v.object({ fromMin: number(0, 1440, 'min'), toMin: number(0, 1440, 'min') })),
};

export const PRACTICE: FieldChecks<Practice> = {
  fittings: maybe(oneOf(['barb', 'clamped barb', 'press-in', 'lock', 'compression'])),
  feederSlackPercent: maybe(percent),
};

export const waiver = v.object({
  rule: id,
  refs: list(v.object({ table: oneOf(TABLES), id }), 0, 'records'),
  reason: v.pipe(words, v.nonEmpty('must be a text that is not empty')),
  by: words,
});
/** The limit of a check, and the longest name of one. */
export const LIMIT = number(-1e9, 1e9, '');
export const LIMIT_KEY = 200;

export const SOIL: FieldChecks<Soil> = {
  texture: maybe(words),
  ribbonM: maybe(number(0, 1, 'm')),
  sandPercent: maybe(percent),
  siltPercent: maybe(percent),
  clayPercent: maybe(percent),
  intakeMmPerH: maybe(number(0, 1e5, 'mm/h')),
  intakeTable: maybe(id),
  rootDepthM: maybe(number(0, 100, 'm')),
  compacted: maybe(yesNo),
  cover: maybe(words),
  coverKind: maybe(oneOf(['bare', 'mulch', 'gravel', 'fabric', 'netting', 'plants'])),
  coverDepthM: maybe(number(0, 10, 'm')),
  fabricIntakeMmPerH: maybe(number(0, 1e5, 'mm/h')),
};

export const CLIMATE: FieldChecks<Climate> = {
  lowestWinterC: maybe(number(-100, 100, 'degrees C')),
  note: words,
};

const px = number(-1e6, 1e6, 'px');
const mark: v.GenericSchema<unknown, Point> = v.strictTuple([px, px], 'must be a place [x, y] in pixels');
const side = number(0.001, MAX_LENGTH_M, 'm');
const rectification: v.GenericSchema<unknown, Rectification> = v.object({
  source: v.object({ pictureId: id, widthPx: number(1, 1e6, 'px'), heightPx: number(1, 1e6, 'px') }),
  marks: v.strictTuple([mark, mark, mark, mark], 'must be four places [x, y]'),
  sidesM: v.strictTuple([side, side, side, side], 'must be four lengths'),
  diagonalsM: v.strictTuple([maybe(side), maybe(side)], 'must be two lengths or null'),
});

export const PHOTO: FieldChecks<Omit<SitePhoto, 'measures'>> = {
  pictureId: id,
  name,
  widthPx: number(1, 1e6, 'px'),
  heightPx: number(1, 1e6, 'px'),
  corner: point,
  turnDeg: angle,
  assumedWidthM: number(0.001, MAX_LENGTH_M, 'm'),
  strength: number(0, 1, ''),
  rectification: maybe(rectification),
};

export const PICTURE = v.object({
  mediaType: v.pipe(
    v.string('must be a text'),
    v.regex(
      /^image\/(?:png|jpeg|webp|avif|gif|bmp)$/,
      'must be image/png, image/jpeg, image/webp or the like',
    ),
  ),
  base64: v.pipe(
    v.string('must be a text'),
    v.check((value) => isBase64(value), 'must be base64 text'),
  ),
});

/** No star over the whole text here: it may be megabytes, and a matcher that steps back would run out of stack. */
function isBase64(value: string): boolean {
  const body = value.endsWith('==') ? value.slice(0, -2) : value.endsWith('=') ? value.slice(0, -1) : value;
  return value.length > 0 && value.length % 4 === 0 && !/[^A-Za-z0-9+/]/.test(body);
}
