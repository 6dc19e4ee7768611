import { Table } from '../base/table.ts';
import type { Plan } from './records.ts';

/** A plan with nothing in it: every measured thing is `null`, i.e. not measured. */
export function emptyPlan(name = ''): Plan {
  return {
    site: { name, client: '', address: '', drawnBy: '', date: '', notes: '', northDeg: 0 },
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
      recycledWater: null,
      flowSensor: null,
      masterValve: null,
    },
    soil: {
      texture: null,
      sandPercent: null,
      siltPercent: null,
      clayPercent: null,
      intakeMmPerH: null,
      rootDepthM: null,
      compacted: null,
      cover: null,
    },
    climate: { lowestWinterC: null, note: '' },
    areas: Table.of(),
    levels: Table.of(),
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
