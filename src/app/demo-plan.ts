import { between, polar, shifted } from '../base/point.ts';
import type { Path, Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { FOOT_M, GALLON_L, GPM_LPH, PSI_KPA } from '../base/units.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL, UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type {
  Area,
  Fall,
  FlushEnd,
  Head,
  InlineEmitters,
  LateralPipe,
  Level,
  Plan,
  PointEmitter,
  Run,
  SitePhoto,
} from '../plan/records.ts';
import {
  BASIN,
  DEMO_CORNER,
  DEMO_HEADS,
  DEMO_MEASURES,
  DEMO_PICTURE,
  DEMO_PLANTS,
  DEMO_VALVE,
  DRIVEWAY,
  HOUSE_BED,
  LAWN,
  ROUND_BED,
  WALK,
  demoHeightM,
  demoPixel,
} from './demo-site.ts';

/**
 * An invented site on which every function can be tried: photo with scale, beds, slope, plants, an old spray zone,
 * a tie-in, point emitters and dripline in loops. All its figures are invented.
 * @param pictureId id under which the painted picture is stored; see `openDemo`
 */
export function demoPlan(pictureId: string): Plan {
  return {
    ...emptyPlan('Sample front yard'),
    site: {
      name: 'Sample front yard',
      client: 'Invented example',
      address: '',
      drawnBy: '',
      date: '',
      notes: 'An invented site to try things on. Draw over it, or start a new plan.',
      northDeg: 0,
      contourM: null,
    },
    photo: photo(pictureId),
    water: {
      staticKpa: 62 * PSI_KPA,
      lowStaticKpa: null,
      workingPoints: [{ pressureKpa: 55 * PSI_KPA, flowLph: 4 * GPM_LPH }],
      measuredAt: 'valve',
      waterC: null,
      meterSize: '5/8',
      serviceSize: '3/4',
      serviceMaterial: 'copper',
      serviceLengthM: 16,
      backflowType: 'PVB',
      backflowSize: '3/4',
      backflowZM: null,
      recycledWater: false,
      flowSensor: false,
      masterValve: null,
    },
    soil: {
      ...emptyPlan().soil,
      texture: 'loam',
      sandPercent: 42,
      siltPercent: 38,
      clayPercent: 20,
      intakeMmPerH: 12,
      rootDepthM: 0.3,
      compacted: false,
      cover: '5 cm bark',
      coverKind: 'mulch',
      coverDepthM: 0.05,
    },
    climate: { lowestWinterC: -7, note: '' },
    areas: Table.of(areas),
    levels: Table.of(levels),
    falls: Table.of(falls),
    plants: Table.of(DEMO_PLANTS.map((plant, i) => ({ id: `P${i + 1}`, rootBallM: null, ...plant }))),
    supplies: Table.of([
      {
        ...UNMEASURED_SUPPLY,
        id: 'V1',
        name: 'Front bed valve',
        at: DEMO_VALVE,
        valveSize: '3/4',
        valveType: 'globe',
        minFlowLph: 0.25 * GPM_LPH,
        maxFlowLph: 15 * GPM_LPH,
        runningFlowLph: 3.7 * GPM_LPH,
        runningFlowHow: 'meter',
      },
    ]),
    heads: Table.of(heads),
    laterals: Table.of(laterals()),
    controls: Table.of([
      {
        id: 'C1',
        name: 'Tie-in filter and regulator',
        at: TIE_IN,
        filter: 'screen-155',
        regulator: 'window-0.1-8',
        setKpa: 25 * PSI_KPA,
      },
    ]),
    runs: Table.of(runs),
    // Keeps the upper rows from draining out through the loops below them.
    checkValves: Table.of([{ id: 'K1', runId: 'R1', at: [HEADER_X, 10.6], openKpa: PSI_KPA }]),
    flushEnds: Table.of<FlushEnd>([
      { id: 'F1', runId: 'R1', end: 'end' },
      { id: 'F2', runId: 'R4', end: 'end' },
    ]),
    emitters: Table.of(emitters()),
  };
}

function photo(pictureId: string): SitePhoto {
  return {
    pictureId,
    name: 'site.png',
    widthPx: DEMO_PICTURE.widthPx,
    heightPx: DEMO_PICTURE.heightPx,
    corner: DEMO_CORNER,
    turnDeg: 0,
    assumedWidthM: DEMO_PICTURE.widthPx * DEMO_PICTURE.metresPerPixel,
    measures: DEMO_MEASURES.map(({ line, tapeM, role }) => ({
      a: demoPixel(line[0]!),
      b: demoPixel(line[1]!),
      lengthM: tapeM,
      role,
    })),
    strength: 0.8,
    rectification: null,
  };
}

const areas: readonly Area[] = [
  { id: 'A1', use: 'lawn', name: 'Lawn', outline: LAWN, holes: [ROUND_BED] },
  { id: 'A2', use: 'paving', name: 'Front walk', outline: WALK, holes: [] },
  { id: 'A3', use: 'paving', name: 'Driveway', outline: DRIVEWAY, holes: [] },
  { id: 'A4', use: 'bed', name: 'House bed', outline: HOUSE_BED, holes: [] },
  { id: 'A5', use: 'bed', name: 'Round bed', outline: ROUND_BED, holes: [BASIN] },
];

const levels: readonly Level[] = (
  [
    [0.6, 13.3],
    [6.5, 13.3],
    [13.3, 13.2],
    [1.6, 10.7],
    [9.3, 9.6],
    [15, 10.3],
    [0.6, 6.5],
    [12, 4.4],
    [0.5, 1.9],
    [12, 1.9],
    [15, 1.9],
  ] as const
).map((at, i) => ({ id: `L${i + 1}`, at, zM: Math.round(demoHeightM(at) * 100) / 100 }));

/** From the lawn's upper corner down beside it, read with a hand level. */
const falls: readonly Fall[] = [
  {
    id: 'S1',
    from: [1.6, 10.7],
    to: [0.8, 8.7],
    by: {
      kind: 'drop',
      dropM: Math.round((demoHeightM([1.6, 10.7]) - demoHeightM([0.8, 8.7])) * 100) / 100,
    },
  },
];

/** The last head of the old line: low, reachable, and all of the old pipe carries water to it. */
const TIE_IN: Point = DEMO_HEADS.at(-1)!;

function head(
  id: string,
  at: Point,
  startDeg: number,
  sweepDeg: number,
  gpm: number,
  fate: Head['fate'],
): Head {
  const pattern = { kind: 'sector', radiusM: 10 * FOOT_M, startDeg, sweepDeg } as const;
  return { ...UNMEASURED_HEAD, id, at, flowLph: gpm * GPM_LPH, pattern, fate };
}

const heads: readonly Head[] = [
  head('H1', DEMO_HEADS[0]!, 0, 90, 0.4, 'cap'),
  head('H2', DEMO_HEADS[1]!, 0, 180, 0.8, 'cap'),
  head('H3', DEMO_HEADS[2]!, 270, 270, 1.2, 'cap'),
  head('H4', DEMO_HEADS[3]!, 270, 180, 0.8, 'cap'),
  head('H5', TIE_IN, 0, 90, 0.4, 'tie-in'),
];

function laterals(): LateralPipe[] {
  const stops: readonly { readonly id: string; readonly at: Point }[] = [
    { id: 'V1', at: DEMO_VALVE },
    ...heads,
  ];
  return stops.slice(1).map((stop, i) => ({
    ...UNMEASURED_LATERAL,
    id: `B${i + 1}`,
    from: stops[i]!.id,
    to: stop.id,
    a: stops[i]!.at,
    b: stop.at,
    size: i < 3 ? '3/4' : '1/2',
    material: 'PVC Class 200',
    measured: i < 3,
    // The tie-in is the last head, so all of it carries water.
    fate: 'live',
  }));
}

/** Header of blank tubing: up the bed beside the walk, then along the wall. */
const HEADER: Path = [TIE_IN, [10.65, 4.75], [10.65, 12.1], [2, 12.1]];
const LOW = 5.3;
const HIGH = 10;
const HEADER_X = 10.65;
/** Under the lawn to the round bed. */
const CROSSING: Path = [TIE_IN, [8.7, 5.5], [7.6, 6.1], [5.5, 5.8]];
const TREE: Point = [4.3, 5.8];
const RING: Path = Array.from({ length: 17 }, (_, i) =>
  i === 16 ? polar(TREE, 1.2, 0) : polar(TREE, 1.2, i * 22.5),
);

const DRIPLINE: InlineEmitters = {
  law: 'inline-pc',
  ratedFlowLph: 0.6 * GALLON_L,
  spacingM: FOOT_M,
  firstM: FOOT_M / 2,
};

function blank(id: string, name: string, path: Path): Run {
  return { id, name, path, tubing: 'blank-half-600', inline: null };
}
function dripline(id: string, name: string, path: Path): Run {
  return { id, name, path, tubing: 'inline-17', inline: DRIPLINE };
}

const side = (x: number): Path => [
  [HEADER_X, LOW],
  [x, LOW],
  [x, HIGH],
  [HEADER_X, HIGH],
];

const runs: readonly Run[] = [
  blank('R1', 'Header', HEADER),
  dripline('R2', 'Walk loop', side(11.6)),
  dripline('R3', 'Lawn loop', side(9.75)),
  dripline('R4', 'Front row', [
    [HEADER_X, 11.2],
    [2, 11.2],
  ]),
  blank('R5', 'Crossing', CROSSING),
  dripline('R6', 'Tree ring', RING),
];

function emitters(): PointEmitter[] {
  const list: Omit<PointEmitter, 'id'>[] = [];
  const add = (runId: string, plant: number, at: Point, gph: number) =>
    list.push({ runId, plantId: `P${plant + 1}`, at, law: 'point-pc', ratedFlowLph: gph * GALLON_L });
  DEMO_PLANTS.forEach((plant, i) => {
    if (plant.plantClass === 'shrub') {
      // One on each side, a little uphill of the stem, a feeder's length off the header.
      add('R1', i, shifted(plant.at, -0.35, 0.15), 1);
      add('R1', i, shifted(plant.at, 0.35, 0.15), 1);
    }
  });
  // On the tubing itself, and off it by a feeder.
  add('R5', 15, between(CROSSING[2]!, CROSSING[3]!, 1 / 3), 0.5);
  add('R5', 16, shifted(DEMO_PLANTS[16]!.at, -0.1, 0.2), 0.5);
  return list.map((emitter, i) => ({ id: `E${i + 1}`, ...emitter }));
}
