import { GPM_LPH, FOOT_M, INCH_MM } from '../../src/base/units.ts';
import { Table as Records } from '../../src/base/table.ts';
import { SURFACE_STORAGE, SOAKING_SOILS, textureOfShares, type Texture } from '../../src/catalog/index.ts';
import { existingOf } from '../../src/derive/existing/index.ts';
import { intakeOf } from '../../src/derive/soil/index.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../src/plan/empty.ts';
import type { Soil } from '../../src/plan/records.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const FROM_MEMORY = ' (from memory, to be checked)';
const USDA = 'USDA maximum sprinkler rates, reprint of 19 March 2018';
const USDA_M = `USDA maximum sprinkler rates, National Engineering Handbook 15-11${FROM_MEMORY}`;

const soilOf = (more: Partial<Soil>): Soil => ({ ...emptyPlan().soil, ...more });
const rounding = { absolute: 1e-9 };

/** One of the columns of the USDA table: texture, compact subsoil, slope, covered and bare, in/h. */
type UsdaRow = readonly [texture: Texture, compact: boolean, slope: number, covered: number, bare: number];
const SEEN: readonly UsdaRow[] = [
  ['sand', false, 2, 2, 2],
  ['sand', false, 6, 2, 1.5],
  ['sand', false, 10, 1.5, 1],
  ['sandy loam', false, 2, 1.75, 1],
  ['sandy loam', false, 6, 1.25, 0.8],
  ['sandy loam', false, 10, 1, 0.6],
  ['silt loam', false, 2, 1, 0.5],
  ['silt loam', false, 6, 0.8, 0.4],
  ['silt loam', false, 10, 0.6, 0.3],
  ['clay loam', false, 2, 0.2, 0.15],
  ['clay', false, 6, 0.15, 0.1],
  ['clay', false, 10, 0.12, 0.08],
];
const REMEMBERED: readonly UsdaRow[] = [
  ['sand', false, 20, 1, 0.5],
  ['sandy loam', false, 20, 0.75, 0.4],
  ['silt loam', false, 20, 0.4, 0.2],
  ['clay', false, 20, 0.1, 0.06],
  ['sand', true, 2, 1.75, 1.5],
  ['sand', true, 6, 1.25, 1],
  ['sand', true, 10, 1, 0.75],
  ['sand', true, 20, 0.75, 0.4],
  ['sandy loam', true, 2, 1.25, 0.75],
  ['sandy loam', true, 6, 1, 0.5],
  ['sandy loam', true, 10, 0.75, 0.4],
  ['sandy loam', true, 20, 0.5, 0.3],
  ['silt loam', true, 2, 0.6, 0.3],
  ['silt loam', true, 6, 0.5, 0.25],
  ['silt loam', true, 10, 0.4, 0.15],
  ['silt loam', true, 20, 0.3, 0.1],
];

function usda(rows: readonly UsdaRow[], source: string): Case[] {
  return rows.flatMap(([texture, compacted, slope, covered, bare]) =>
    (['mulch', 'bare'] as const).map((coverKind) => ({
      name: `${texture}${compacted ? ' over compact subsoil' : ''}, ${slope} %, ${coverKind}`,
      got: () => intakeOf(soilOf({ texture, compacted, coverKind }), slope)!.mmPerH / INCH_MM,
      expected: coverKind === 'bare' ? bare : covered,
      within: rounding,
      source,
    })),
  );
}

/** What a table says of a texture: lowest and highest, mm/h, on level ground. */
function figures(
  tableId: string,
  source: string,
  perUnitMm: number,
  rows: readonly (readonly [Texture, number, number])[],
): Case[] {
  const found = (texture: Texture) =>
    intakeOf(soilOf({ texture }), 0)!.tables.find(({ id }) => id === tableId)!;
  return rows.flatMap(([texture, low, high]) => [
    {
      name: `${tableId}, ${texture}, lowest`,
      got: () => found(texture).lowMmPerH / perUnitMm,
      expected: low,
      within: rounding,
      source,
    },
    {
      name: `${tableId}, ${texture}, highest`,
      got: () => found(texture).highMmPerH / perUnitMm,
      expected: high,
      within: rounding,
      source,
    },
  ]);
}

const levelTables: Case[] = [
  ...figures('fao-basic', 'FAO irrigation water management training manual, basic infiltration rates', 1, [
    ['sandy loam', 20, 30],
    ['loam', 10, 20],
    ['clay loam', 5, 10],
    ['clay', 1, 5],
  ]),
  ...figures('stormwater', 'Minnesota stormwater manual, design infiltration rates', INCH_MM, [
    ['sand', 0.8, 1.6],
    ['loam', 0.3, 0.6],
    ['sandy clay loam', 0.2, 0.2],
  ]),
  ...figures('colorado-fines', 'table of a Colorado public agency', INCH_MM, [
    ['clay loam', 0.05, 0.1],
    ['clay', 0.01, 0.02],
  ]),
  ...figures('permeability', 'soil permeability chart, organic farming teaching manual, unit 2.1', INCH_MM, [
    ['sand', 6, 20],
    ['sandy loam', 2, 6],
    ['loam', 0.6, 2],
    ['clay loam', 0.2, 0.6],
    ['clay', 0.06, 0.2],
  ]),
  ...figures('texture-chart', 'texture chart of basic intake, row of clay', INCH_MM, [['clay', 0.13, 0.13]]),
  ...figures('texture-chart', `texture chart of basic intake${FROM_MEMORY}`, INCH_MM, [
    ['sand', 0.94, 1.25],
    ['loamy sand', 0.88, 0.88],
    ['sandy loam', 0.59, 0.75],
    ['loam', 0.54, 0.54],
    ['silt loam', 0.5, 0.5],
    ['silt', 0.44, 0.44],
    ['sandy clay', 0.31, 0.31],
    ['clay loam', 0.25, 0.25],
    ['silty clay', 0.19, 0.19],
  ]),
];

const chart = (texture: Texture, slope: number) =>
  intakeOf(soilOf({ texture, intakeTable: 'texture-chart' }), slope)!.mmPerH / INCH_MM;
const onSlopes: Case[] = [
  {
    name: 'texture chart, clay at 12 %',
    got: () => chart('clay', 12),
    expected: 0.05,
    within: { absolute: 0.005 },
    source: 'texture chart of basic intake, row of clay',
  },
  ...(
    [
      [4, 1],
      [6, 0.8],
      [10, 0.6],
      [14, 0.4],
      [20, 0.25],
    ] as const
  ).map(([slope, factor]) => ({
    name: `texture chart, share left at ${slope} %`,
    got: () => chart('loam', slope) / chart('loam', 0),
    expected: factor,
    within: rounding,
    source: `texture chart of basic intake${FROM_MEMORY}`,
  })),
];

const protocol = `public test protocol for climatologically based controllers${FROM_MEMORY}`;
const soaking = (texture: Texture) => SOAKING_SOILS.find((row) => row.texture === texture)!;
const storage: Case[] = [
  ...(
    [
      ['desert landscape', 0.1],
      ['lawn', 0.2],
    ] as const
  ).map(([ground, inches]) => ({
    name: `surface storage, ${ground}`,
    got: () => SURFACE_STORAGE.find((entry) => entry.ground === ground)!.depthMm / INCH_MM,
    expected: inches,
    within: rounding,
    source: 'Drainage Design Manual of Maricopa County, Table 4.1',
  })),
  ...(
    [
      ['clay', 0.1, 0.2, 0.1],
      ['silty clay', 0.15, 0.23, 0.13],
      ['clay loam', 0.2, 0.26, 0.15],
      ['loam', 0.35, 0.3, 0.17],
      ['sandy loam', 0.4, 0.33, 0.2],
      ['loamy sand', 0.5, 0.36, 0.22],
      ['sand', 0.6, 0.4, 0.25],
    ] as const
  ).flatMap(([texture, intake, level, steep]) => [
    {
      name: `controller protocol, ${texture}, basic intake`,
      got: () => intakeOf(soilOf({ texture, intakeTable: 'controller-protocol' }), 0)!.mmPerH / INCH_MM,
      expected: intake,
      within: rounding,
      source: protocol,
    },
    {
      name: `controller protocol, ${texture}, standing water on level ground`,
      got: () => soaking(texture).standingMm[0] / INCH_MM,
      expected: level,
      within: rounding,
      source: protocol,
    },
    {
      name: `controller protocol, ${texture}, standing water on 13 % and more`,
      got: () => soaking(texture).standingMm[3] / INCH_MM,
      expected: steep,
      within: rounding,
      source: protocol,
    },
  ]),
];

/** Rate of heads of one flow in all over a rectangular bed, in/h. */
function rateInPerH(gpm: readonly number[], widthFt: number, heightFt: number): number {
  const width = widthFt * FOOT_M;
  const height = heightFt * FOOT_M;
  const plan = {
    ...emptyPlan(),
    areas: Records.of([
      {
        id: 'B',
        use: 'bed' as const,
        name: 'B',
        outline: [
          [0, 0],
          [width, 0],
          [width, height],
          [0, height],
        ] as const,
        holes: [],
      },
    ]),
    heads: Records.of(
      gpm.map((flow, i) => ({
        ...UNMEASURED_HEAD,
        id: `H${i}`,
        at: [0, 0] as const,
        flowLph: flow * GPM_LPH,
      })),
    ),
  };
  return existingOf(plan).precipitationMmPerH! / INCH_MM;
}
const rates: Case[] = [
  {
    name: '1 gpm on 1 square foot: 231 x 60 / 144 in/h',
    got: () => rateInPerH([1], 1, 1),
    expected: 96.25,
    within: { absolute: 1e-6 },
    source: SOURCE.exact,
  },
  {
    name: 'six heads of 1.0 and four of 0.5 gpm on 60 by 15 ft',
    got: () => rateInPerH([1, 1, 1, 1, 1, 1, 0.5, 0.5, 0.5, 0.5], 60, 15),
    expected: 0.86,
    within: { absolute: 0.005 },
    source: 'precipitation rate in training slides on sprinkler zones',
  },
  {
    name: '10 gpm on 500 square feet',
    got: () => rateInPerH([10], 50, 10),
    expected: 1.93,
    within: { absolute: 0.006 },
    source: 'precipitation rate, public worked example with 96.3',
  },
  {
    name: '8 gpm on 900 square feet',
    got: () => rateInPerH([8], 30, 30),
    expected: 0.855556,
    within: { absolute: 1e-6 },
    source: SOURCE.exact,
  },
];

const HANDBOOK = `USDA Soil Survey Manual, Handbook 18, texture classes${FROM_MEMORY}`;
/** Clay percent at which a soil of a given ratio of sand to silt turns into the next class. */
const limits: Case[] = (
  [
    ['from loam to clay loam, sand 35 %', 35, 'loam', 27],
    ['from clay loam to clay, sand 35 %', 35, 'clay loam', 40],
    ['from sandy loam to sandy clay loam, sand 65 %', 65, 'sandy loam', 20],
    ['from sandy clay loam to sandy clay, sand 55 %', 55, 'sandy clay loam', 35],
    ['from silty clay loam to silty clay, sand 10 %', 10, 'silty clay loam', 40],
    ['from silt to silt loam, sand 2 %', 2, 'silt', 12],
  ] as const
).map(([name, sand, below, clay]) => ({
  name,
  got: () => {
    const at = (tenths: number) => {
      const share = tenths / 10;
      return textureOfShares({ sand, clay: share, silt: 100 - sand - share });
    };
    let tenths = 0;
    while (at(tenths) !== below) tenths += 1;
    while (at(tenths) === below) tenths += 1;
    return tenths / 10;
  },
  expected: clay,
  within: rounding,
  source: HANDBOOK,
}));

export const soilIntake: readonly Table[] = [
  table('intake of soil, USDA rates as seen', usda(SEEN, USDA)),
  table('intake of soil, USDA rates as remembered', usda(REMEMBERED, USDA_M)),
  table('intake of soil on level ground', levelTables),
  table('intake of soil on slopes', onSlopes),
  table('standing water and storage', storage),
  table('limits of texture classes', limits),
  table('precipitation rate', rates),
];
