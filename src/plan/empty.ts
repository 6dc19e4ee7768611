import { Table } from '../base/table.ts';
import type { Head, LateralPipe, Plan, Supply } from './records.ts';

/** Records of which nothing but their place is known. */
export const UNMEASURED_HEAD: Omit<Head, 'id' | 'at'> = {
  flowLph: null,
  pressureKpa: null,
  pattern: null,
  body: null,
  thread: null,
  blocked: null,
  waters: 'bed',
  fate: 'undecided',
  zone: null,
  note: '',
};
export const UNMEASURED_LATERAL: Omit<LateralPipe, 'id' | 'from' | 'to' | 'a' | 'b'> = {
  size: null,
  material: null,
  depthM: null,
  measured: true,
  fate: 'undecided',
  zone: null,
};
export const UNMEASURED_SUPPLY: Omit<Supply, 'id' | 'name' | 'at'> = {
  zM: null,
  pressureKpa: null,
  valveSize: null,
  valveType: null,
  minFlowLph: null,
  maxFlowLph: null,
  runningFlowLph: null,
  runningFlowHow: null,
  zone: null,
};

/** A plan with nothing in it: every measured thing is `null`, i.e. not measured. */
export function emptyPlan(name = ''): Plan {
  return {
    site: { name, client: '', address: '', drawnBy: '', date: '', notes: '', northDeg: 0, contourM: null },
    photo: null,
    water: {
      staticKpa: null,
      lowStaticKpa: null,
      workingPoints: [],
      measuredAt: null,
      waterC: null,
      meterSize: null,
      serviceSize: null,
      serviceMaterial: null,
      serviceLengthM: null,
      backflowType: null,
      backflowSize: null,
      backflowZM: null,
      recycledWater: null,
      flowSensor: null,
      masterValve: null,
    },
    controller: { longestRunMin: null, startsPerDay: null, longestIntervalDays: null, freeStations: null },
    soil: {
      texture: null,
      ribbonM: null,
      sandPercent: null,
      siltPercent: null,
      clayPercent: null,
      intakeMmPerH: null,
      intakeTable: null,
      rootDepthM: null,
      compacted: null,
      cover: null,
      coverKind: null,
      coverDepthM: null,
      fabricIntakeMmPerH: null,
    },
    climate: { lowestWinterC: null, note: '' },
    planting: { kinds: [] },
    areas: Table.of(),
    levels: Table.of(),
    falls: Table.of(),
    plants: Table.of(),
    supplies: Table.of(),
    heads: Table.of(),
    laterals: Table.of(),
    controls: Table.of(),
    runs: Table.of(),
    checkValves: Table.of(),
    flushEnds: Table.of(),
    emitters: Table.of(),
  };
}
