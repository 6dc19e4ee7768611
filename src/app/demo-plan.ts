import { between, shifted } from '../base/point.ts';
import type { Path, Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { FOOT_M, GALLON_L, GPM_LPH, PSI_KPA } from '../base/units.ts';
import { layFill, ringEdit } from '../layout/live/index.ts';
import { ringDefaults } from '../layout/rings/index.ts';
import { fillDefaults, fillEdit } from '../layout/rows/index.ts';
import { emptyPlan, UNMEASURED_HEAD, UNMEASURED_LATERAL, UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type {
  Area,
  Fall,
  FlushEnd,
  Head,
  InlineEmitters,
  LateralPipe,
  Level,
  LinePart,
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
  WALK_BED,
  demoHeightM,
  demoPixel,
} from './demo-site.ts';

/**
 * An invented site on which every function can be tried: photo with scale, beds, slope, plants, an old spray zone,
 * a tie-in, point emitters, a bed filled with rows and a tree in rings that follow them. All its figures are invented.
 * @param pictureId id under which the painted picture is stored; see `openDemo`
 */
export function demoPlan(pictureId: string): Plan {
  return ringed(filled(drawn(pictureId)));
}

const RINGED = `P${DEMO_PLANTS.findIndex(({ plantClass }) => plantClass === 'tree') + 1}`;
const FILLED = 'A6';

/** The bed along the walk in rows, with its lead from the tie-in. */
function filled(plan: Plan): Plan {
  const choices = { ...fillDefaults(plan, FILLED).choices, edgeM: ROW_EDGE_M };
  const laid = layFill(plan, { kind: 'bed', areaId: FILLED, choices }, { lead: true });
  if (!laid.ok) throw new Error(laid.problem.what);
  return fillEdit(plan, FILLED, laid.value, { replace: false, choices, lead: true }).apply(plan);
}

/** The tree in rings out to its mature canopy; their water comes by the crossing, drawn by hand to where they start. */
function ringed(plan: Plan): Plan {
  const choices = { ...ringDefaults(plan, RINGED).choices, canopy: 'mature' } as const;
  const laid = layFill(plan, { kind: 'tree', plantId: RINGED, choices }, { lead: false });
  if (!laid.ok) throw new Error(laid.problem.what);
  const crossing = plan.runs.get('R3')!;
  const path = [...crossing.path, ...laid.value.starts];
  return ringEdit([{ plantId: RINGED, choices }], false).apply({
    ...plan,
    runs: plan.runs.with({ ...crossing, path }),
  });
}

/** What is surveyed, decided and drawn by hand. */
function drawn(pictureId: string): Plan {
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
      backflowZM: 1.6,
      recycledWater: false,
      flowSensor: false,
      masterValve: null,
    },
    controller: {
      longestRunMin: 240,
      startsPerDay: 4,
      longestIntervalDays: 30,
      freeStations: 2,
      nightWindow: { fromMin: 22 * 60, toMin: 6 * 60 },
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
    checks: {
      limits: {},
      waivers: [
        {
          rule: 'water-use-mixed',
          refs: [],
          reason:
            'Neighbouring classes only: point emitters of the low one give half, and the minutes are reckoned for the shrubs.',
          by: 'the designer',
        },
      ],
    },
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
        runningFlowLph: 4.1 * GPM_LPH,
        runningFlowHow: 'meter',
        watering: { minutesPerStart: 150, startsPerDay: 1, intervalDays: 5 },
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
        regulator: 'window-0.5-15',
        setKpa: 25 * PSI_KPA,
      },
    ]),
    runs: Table.of(runs),
    // Keeps the upper bed from draining out through the rows below it.
    checkValves: Table.of([{ id: 'K1', runId: 'R1', at: [HEADER_X, 8.9], openKpa: PSI_KPA }]),
    flushEnds: Table.of<FlushEnd>([
      { id: 'F1', runId: 'R1', end: 'end' },
      { id: 'F2', runId: 'R2', end: 'end' },
    ]),
    // Air at the top of the tubing, and the water that the check valve holds back out before winter.
    lineParts: Table.of<LinePart>([
      { id: 'T1', kind: 'air relief', runId: 'R1', at: [2.4, HEADER_Y] },
      { id: 'T2', kind: 'drain', runId: 'R1', at: [HEADER_X, 9.1] },
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
  { id: FILLED, use: 'bed', name: 'Walk bed', outline: WALK_BED, holes: [] },
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

/** The last head of the old line: low, reachable, and all of the measured old pipe carries water to it. */
const TIE_IN: Point = DEMO_HEADS[4]!;

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
  head('H6', DEMO_HEADS[5]!, 270, 90, 0.4, 'cut off'),
];

function laterals(): LateralPipe[] {
  const stops: readonly { readonly id: string; readonly at: Point }[] = [
    { id: 'V1', at: DEMO_VALVE },
    ...heads.slice(0, 5),
  ];
  const piece = (from: (typeof stops)[number], to: (typeof stops)[number]) => ({
    from: from.id,
    to: to.id,
    a: from.at,
    b: to.at,
  });
  const line = stops.slice(1).map((stop, i): LateralPipe => ({
    ...UNMEASURED_LATERAL,
    ...piece(stops[i]!, stop),
    id: `B${i + 1}`,
    size: i < 3 ? '3/4' : '1/2',
    material: 'PVC Class 200',
    measured: true,
    // The tie-in is the last head, so all of it carries water.
    fate: 'live',
  }));
  // A branch that nobody has dug up: its head is gone, and it is cut off at the tee.
  const branch: LateralPipe = {
    ...UNMEASURED_LATERAL,
    ...piece(heads[0]!, heads[5]!),
    id: 'B6',
    measured: false,
    fate: 'cut off',
  };
  return [...line, branch];
}

const HEADER_X = 9.38;
const WALK_X = 11.85;
const HEADER_Y = 13.1;
/** Blank tubing: up beside the rows of the walk bed, over to the walk and along it, then along the house wall. */
const HEADER: Path = [
  TIE_IN,
  [HEADER_X, TIE_IN[1]],
  [HEADER_X, 9.72],
  [WALK_X, 9.72],
  [WALK_X, HEADER_Y],
  [2, HEADER_Y],
];
/** Rows of the walk bed keep a hand's breadth off the header that passes them; 8 in is the most along paving. */
const ROW_EDGE_M = 0.2;
/** Under the lawn to the round bed. */
const CROSSING: Path = [TIE_IN, [8.7, 5.5], [7.6, 6.1], [6.3, 6.2]];

const DRIPLINE: InlineEmitters = {
  law: 'inline-pc-check',
  ratedFlowLph: 0.6 * GALLON_L,
  spacingM: FOOT_M,
  firstM: FOOT_M / 2,
};

/** The same bore as the dripline's, so that one kind of fitting holds both. */
function blank(id: string, name: string, path: Path): Run {
  return { id, name, path, tubing: 'blank-17', inline: null };
}

const runs: readonly Run[] = [
  blank('R1', 'Header', HEADER),
  {
    id: 'R2',
    name: 'Front row',
    path: [
      [WALK_X, 11.2],
      [2, 11.2],
    ],
    tubing: 'inline-17',
    inline: DRIPLINE,
  },
  blank('R3', 'Crossing', CROSSING),
];

function emitters(): PointEmitter[] {
  const list: Omit<PointEmitter, 'id'>[] = [];
  const add = (runId: string, plant: number, at: Point, gph: number) =>
    list.push({
      runId,
      plantId: `P${plant + 1}`,
      at,
      law: 'point-pc-check',
      ratedFlowLph: gph * GALLON_L,
    });
  DEMO_PLANTS.forEach((plant, i) => {
    if (plant.plantClass === 'shrub') {
      // One on each side, a little uphill of the stem, a feeder's length off the header.
      add('R1', i, shifted(plant.at, -0.35, 0.15), 1);
      add('R1', i, shifted(plant.at, 0.35, 0.15), 1);
    }
  });
  // On the tubing itself, and off it by a feeder: two each, so that one that clogs does not kill the plant.
  const [, , from, to] = CROSSING;
  add('R3', 15, between(from!, to!, 0.4), 0.5);
  add('R3', 15, shifted(DEMO_PLANTS[15]!.at, 0.2, 0.2), 0.5);
  add('R3', 16, shifted(DEMO_PLANTS[16]!.at, -0.2, 0.1), 0.5);
  add('R3', 16, shifted(DEMO_PLANTS[16]!.at, 0.2, 0.1), 0.5);
  return list.map((emitter, i) => ({ id: `E${i + 1}`, ...emitter }));
}
