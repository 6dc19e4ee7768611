import type { FlowMethod, MeasuredAt, Supply, WaterService, WorkingPoint } from '../records.ts';
import { Fields, notMeasured, type SurveyContext } from './fields.ts';
import { isObject } from '../json.ts';
import { UNMEASURED_SUPPLY } from '../empty.ts';
import type { Found } from './keep.ts';
import type { NamedPlaces } from './places.ts';

export interface SurveyedSupply {
  readonly water: WaterService;
  readonly valves: readonly Found<Supply>[];
  /** Zone by the valve's id, for heads and pipes that name their valve. */
  readonly zoneOfValve: ReadonlyMap<string, string>;
}

/** The water service and its valves; each valve becomes one supply of the plan. */
export function readSupply(value: unknown, places: NamedPlaces, context: SurveyContext): SurveyedSupply {
  const fields = context.fields(value ?? {}, 'supply') ?? new Fields({}, 'supply', context);
  const service = part(fields, 'service');
  const backflow = part(fields, 'backflow', 'type');
  const meter = part(fields, 'meter', 'size');
  const water: WaterService = {
    staticKpa: fields.quantity('pressure', 'static', 'staticpressure'),
    lowStaticKpa: fields.quantity('pressure', 'lowstatic', 'loweststatic'),
    workingPoints: readWorkingPoints(fields, context),
    measuredAt: readMeasuredAt(fields),
    waterC: null,
    meterSize: meter.text('size'),
    serviceSize: service.text('size'),
    serviceMaterial: service.text('material'),
    serviceLengthM: service.size('length'),
    backflowType: backflow.text('type', 'device'),
    backflowSize: backflow.text('size'),
    backflowZM: backflow.quantity('length', 'z', 'height', 'elevation', 'heightabovedatum'),
    recycledWater: fields.yesNo('recycledWater', 'recycled', 'reclaimed', 'reclaimedWater'),
    flowSensor: fields.yesNo('flowSensor'),
    masterValve: readMasterValve(fields),
  };
  const list = fields.take('valves', 'valve');
  const valves = readValves(list, fields.place(fields.has('valves') ? 'valves' : 'valve'), places, context);
  for (const inner of [service, backflow, meter, fields]) inner.close();
  const zoneOfValve = new Map<string, string>();
  for (const { record } of valves) if (record.zone !== null) zoneOfValve.set(record.id, record.zone);
  return { water, valves, zoneOfValve };
}

/** A part that is an object, or one word that stands for its field `wordIs`. */
function part(fields: Fields, name: string, wordIs = 'note'): Fields {
  const value = fields.take(name);
  if (isObject(value)) return new Fields(value, fields.place(name), fields.context);
  return new Fields(notMeasured(value) ? {} : { [wordIs]: value }, fields.place(name), fields.context);
}

function readMasterValve(fields: Fields): string | null {
  const value = fields.take('masterValve');
  if (value === true) return 'present';
  if (value === false) return 'none';
  return isObject(value)
    ? (new Fields(value, 'supply.masterValve', fields.context).text('type') ?? 'present')
    : fields.text('masterValve');
}

const METHODS: readonly (readonly [RegExp, FlowMethod])[] = [
  [/bucket|pail|container|jug/i, 'bucket'],
  [/meter|dial/i, 'meter'],
  [/gauge|gage|throttl|manometer/i, 'gauge'],
];

/** How a flow was measured, from a word such as `bucket test`; `null` when not noted, with a notice when not known. */
function readMethod(fields: Fields, ...names: readonly string[]): FlowMethod | null {
  const [name, word] = wordOf(fields, [...names, 'how', 'method', 'measuredBy']);
  if (word === null) return null;
  const known = METHODS.find(([pattern]) => pattern.test(word));
  if (!known) {
    fields.fault(
      name,
      word,
      'must be bucket, meter or gauge',
      'How it was measured is not noted: choose it in Survey.',
    );
  }
  return known ? known[1] : null;
}

function readMeasuredAt(fields: Fields): MeasuredAt | null {
  const [name, word] = wordOf(fields, ['measuredAt', 'measured']);
  if (word === null) return null;
  if (/valve/i.test(word)) return 'valve';
  if (/meter|street|point of connection/i.test(word)) return 'meter';
  fields.fault(name, word, 'must be meter or valve', 'It counts as not noted: choose it in Survey.');
  return null;
}

/** The first of the fields that is there, with its text. */
function wordOf(fields: Fields, names: readonly string[]): [name: string, word: string | null] {
  const name = names.find((one) => fields.has(one)) ?? names[0]!;
  return [name, fields.text(...names)];
}

function readWorkingPoints(fields: Fields, context: SurveyContext): WorkingPoint[] {
  const list = fields.take('workingPoints', 'workingPoint', 'working');
  return context.items(list, fields.place('workingPoints')).flatMap((item) => {
    const pair = Array.isArray(item.value)
      ? { pressure: item.value[0] as unknown, flow: item.value[1] as unknown }
      : item.value;
    const point = context.fields(pair, item.where);
    if (!point) return [];
    const pressureKpa = point.quantity('pressure', '', 'pressure', 'working');
    const flowLph = point.quantity('flow', '', 'flow', 'at');
    const how = readMethod(point);
    point.close();
    if (pressureKpa !== null && flowLph !== null) {
      return [how === null ? { pressureKpa, flowLph } : { pressureKpa, flowLph, how }];
    }
    context.notices.add(
      item.where,
      `a working point needs a pressure and the flow at it; ${pressureKpa === null ? 'the pressure' : 'the flow'} is not measured`,
      'It was left out: measure both at the same time.',
    );
    return [];
  });
}

function readValves(
  value: unknown,
  where: string,
  places: NamedPlaces,
  context: SurveyContext,
): Found<Supply>[] {
  const found: Found<Supply>[] = [];
  for (const item of context.items(value, where)) {
    const fields = context.fields(item.value, item.where);
    if (!fields) continue;
    const id = fields.text('id') ?? `V${found.length + 1}`;
    const at = fields.at() ?? places.get(id) ?? null;
    const record = {
      id,
      name: fields.text('name') ?? id,
      ...UNMEASURED_SUPPLY,
      zM: fields.quantity('length', 'z', 'height', 'elevation'),
      pressureKpa: fields.quantity('pressure', 'static', 'staticpressure', 'pressure'),
      valveSize: fields.text('size'),
      valveType: fields.text('type'),
      minFlowLph: fields.quantity('flow', 'min', 'minflow'),
      maxFlowLph: fields.quantity('flow', 'max', 'maxflow'),
      runningFlowLph: fields.quantity('flow', 'running', 'runningflow', 'measured', 'measuredflow'),
      runningFlowHow: readMethod(fields, 'runningHow', 'runningFlowHow', 'measuredHow'),
      zone: fields.text('zone', 'station'),
    };
    fields.close();
    if (at) found.push({ where: item.where, record: { ...record, at } });
    else {
      context.notices.add(
        item.where,
        `valve "${id}" has no place and no pipe starts at it`,
        'It was left out: put the supply on the plan by hand.',
      );
    }
  }
  return found;
}
