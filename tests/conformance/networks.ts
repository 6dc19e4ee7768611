import { LINK, m3sToLph, outletCoefficient, solve, type Solution } from '../../src/hydraulics/index.ts';
import { ENGINE_GRAVITY, networkOf, type Sketch } from '../../src/hydraulics/samples/build.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const GRAVITY_FACTOR = 9.80665 / ENGINE_GRAVITY;

type Values = readonly (readonly [string, number])[];
interface Answer {
  /** Pressure in m by node. */
  readonly pressure: (id: string) => number;
  /** Flow in L/h by link, named by its ends. */
  readonly flow: (from: string, to: string) => number;
  readonly outletLph: (index: number) => number;
  readonly solution: Solution;
}

/** Solves a sketch with friction and local losses brought to the gravity of the engine. */
function answer(sketch: Sketch, factor = GRAVITY_FACTOR): Answer {
  const network = networkOf({
    ...sketch,
    links: sketch.links.map((l) => ({
      ...l,
      lengthM: (l.lengthM ?? 0) * factor,
      lossK: (l.lossK ?? 0) * factor,
    })),
  });
  const solution = solve(network);
  const node = (id: string) => sketch.nodes.findIndex((n) => n.id === id);
  return {
    pressure: (id) => solution.headM[node(id)]! - network.nodes.elevationM[node(id)]!,
    flow: (from, to) =>
      m3sToLph(solution.flowM3s[sketch.links.findIndex((l) => l.from === from && l.to === to)]!),
    outletLph: (index) => m3sToLph(solution.outletM3s[index]!),
    solution,
  };
}

/** Eight rows of forty outlets from a header of 20.9 mm, with or without a footer that joins their ends. */
function grid(options: { looped: boolean; fall: number; compensating?: boolean }): Sketch {
  const z = (row: number) => -options.fall * 0.45 * row;
  const rows = Array.from({ length: 8 }, (_, r) => r);
  const places = Array.from({ length: 40 }, (_, i) => i + 1);
  const law = options.compensating
    ? { k: outletCoefficient(2.3, 7, 0.5), x: 0.5, ratedLph: 2.3, rangeFromM: 7 }
    : { k: 2.3 / Math.sqrt(10.2), x: 0.5 };
  return {
    nodes: [
      { id: 'R', fixedHeadM: 14 },
      ...rows.flatMap((r) => [
        { id: `H${r}`, zM: z(r) },
        ...places.map((i) => ({ id: `E${r}_${i}`, zM: z(r) })),
        ...(options.looped ? [{ id: `F${r}`, zM: z(r) }] : []),
      ]),
    ],
    links: [
      { from: 'R', to: 'H0', lengthM: 2, boreMm: 20.9 },
      ...rows.slice(1).map((r) => ({ from: `H${r - 1}`, to: `H${r}`, lengthM: 0.45, boreMm: 20.9 })),
      ...rows.flatMap((r) =>
        places.map((i) => ({
          from: i === 1 ? `H${r}` : `E${r}_${i - 1}`,
          to: `E${r}_${i}`,
          lengthM: 0.3,
          boreMm: 13.8,
        })),
      ),
      ...(options.looped
        ? [
            ...rows.map((r) => ({ from: `E${r}_40`, to: `F${r}`, lengthM: 0.3, boreMm: 13.8 })),
            ...rows.slice(1).map((r) => ({ from: `F${r - 1}`, to: `F${r}`, lengthM: 0.45, boreMm: 20.9 })),
          ]
        : []),
    ],
    outlets: rows.flatMap((r) => places.map((i) => ({ node: `E${r}_${i}`, ...law }))),
  };
}

function pressures(name: string, sketch: Sketch, values: Values, absolute = 2e-5, factor?: number): Case[] {
  return values.map(([id, expected]) => ({
    name: `${name}: pressure at ${id}`,
    got: () => answer(sketch, factor).pressure(id),
    expected,
    within: { absolute },
    source: SOURCE.engine,
  }));
}

const looped = grid({ looped: true, fall: 0.15 });
const loopedPressures: Values = [
  ['H0', 13.93289],
  ['E0_1', 13.929996],
  ['E0_10', 13.910525],
  ['E0_20', 13.89896],
  ['E0_40', 13.887449],
  ['F0', 13.887145],
  ['E1_1', 13.987047],
  ['E1_20', 13.963825],
  ['E1_40', 13.954741],
  ['F1', 13.954558],
  ['E2_10', 14.036267],
  ['E2_40', 14.021992],
  ['F2', 14.021919],
  ['E3_1', 14.109416],
  ['E3_40', 14.089238],
  ['F3', 14.089258],
  ['E4_20', 14.160151],
  ['F4', 14.156604],
  ['E5_10', 14.231849],
  ['F5', 14.223975],
  ['E6_1', 14.305619],
  ['E6_40', 14.291231],
  ['F6', 14.291385],
  ['H7', 14.37382],
  ['E7_1', 14.372873],
  ['E7_20', 14.360955],
  ['E7_40', 14.358679],
  ['F7', 14.35884],
];
const loopedFlows: readonly (readonly [string, string, number])[] = [
  ['R', 'H0', 866.25385],
  ['E0_40', 'F0', 31.8051],
  ['E1_40', 'F1', 19.17705],
  ['E2_40', 'F2', 7.68932],
  ['E3_40', 'F3', -2.08268],
  ['E4_40', 'F4', -9.45952],
  ['E5_40', 'F5', -14.21884],
  ['E6_40', 'F6', -16.14189],
  ['E7_40', 'F7', -16.76856],
  ['H0', 'E0_1', 139.20969],
  ['H3', 'E3_1', 106.06885],
  ['H7', 'E7_1', 92.40136],
];

const inflow = (name: string, sketch: Sketch, to: string, expected: number, share = 3e-6): Case => ({
  name: `${name}: inflow`,
  got: () => answer(sketch).flow('R', to),
  expected,
  within: { share },
  source: SOURCE.engine,
});

const lateralUp = {
  nodes: Array.from({ length: 60 }, (_, i) => ({ id: `N${i + 1}`, zM: 0.02 * (i + 1) })),
  links: Array.from({ length: 60 }, (_, i) => ({
    from: i === 0 ? 'B' : `N${i}`,
    to: `N${i + 1}`,
    lengthM: 1,
    boreMm: 14,
  })),
  outlets: Array.from({ length: 60 }, (_, i) => ({ node: `N${i + 1}`, k: 4 / Math.sqrt(10), x: 0.5 })),
};
const regulated = (sourceM: number): Sketch => ({
  ...lateralUp,
  nodes: [{ id: 'R', fixedHeadM: sourceM }, { id: 'A' }, { id: 'B' }, ...lateralUp.nodes],
  links: [
    { from: 'R', to: 'A', lengthM: 30, boreMm: 26.64 },
    { from: 'A', to: 'B', kind: LINK.regulator, settingM: 17.577 },
    ...lateralUp.links,
  ],
});
const behindRegulator: Values = [
  ['B', 17.577],
  ['N1', 17.519829],
  ['N12', 16.959591],
  ['N30', 16.273816],
  ['N45', 15.887493],
  ['N60', 15.569387],
];

const stations = Array.from({ length: 20 }, (_, i) => i + 1);
const feeders: Sketch = {
  nodes: [
    { id: 'R', fixedHeadM: 10.55 },
    ...stations.map((i) => ({ id: `T${i}` })),
    ...stations.map((i) => ({ id: `E${i}` })),
  ],
  links: [
    ...stations.map((i) => ({ from: i === 1 ? 'R' : `T${i - 1}`, to: `T${i}`, lengthM: 1, boreMm: 15.2 })),
    ...stations.map((i) => ({ from: `T${i}`, to: `E${i}`, lengthM: 3, boreMm: 4.3 })),
  ],
  outlets: stations.map((i) => ({ node: `E${i}`, k: 7.57 / Math.sqrt(10.55), x: 0.5 })),
};

const standing: Sketch = {
  nodes: [{ id: 'R', fixedHeadM: 20 }, { id: 'A' }, { id: 'B', zM: 5 }, { id: 'C', zM: -4 }],
  links: [
    { from: 'R', to: 'A', lengthM: 10 },
    { from: 'A', to: 'B', lengthM: 10 },
    { from: 'B', to: 'C', lengthM: 10 },
  ],
};
const deadEnd: Sketch = {
  nodes: [
    { id: 'R', fixedHeadM: 10 },
    { id: 'A' },
    { id: 'E', zM: 1 },
    { id: 'D1', zM: -2 },
    { id: 'D2', zM: 3 },
  ],
  links: [
    { from: 'R', to: 'A', lengthM: 10 },
    { from: 'A', to: 'E', lengthM: 5 },
    { from: 'A', to: 'D1', lengthM: 20 },
    { from: 'D1', to: 'D2', lengthM: 20 },
  ],
  outlets: [{ node: 'E', k: 4 / Math.sqrt(10), x: 0.5 }],
};
const highOutlet: Sketch = {
  nodes: [{ id: 'R', fixedHeadM: 10 }, { id: 'A' }, { id: 'B', zM: 12 }],
  links: [
    { from: 'R', to: 'A', lengthM: 10 },
    { from: 'A', to: 'B', lengthM: 10 },
  ],
  outlets: [
    { node: 'A', k: 4 / Math.sqrt(10), x: 0.5 },
    { node: 'B', k: 4 / Math.sqrt(10), x: 0.5 },
  ],
};
/** 20 L/min taken by a compensating outlet of that rated flow. */
const oneFitting: Sketch = {
  nodes: [{ id: 'R', fixedHeadM: 20 }, { id: 'A' }],
  links: [{ from: 'R', to: 'A', lengthM: 1, boreMm: 20.93, lossK: 10 }],
  outlets: [{ node: 'A', k: outletCoefficient(1200, 5, 0.5), x: 0.5, ratedLph: 1200, rangeFromM: 5 }],
};

const exact = (name: string, got: () => number, expected: number, absolute: number): Case => ({
  name,
  got,
  expected,
  within: { absolute },
  source: SOURCE.exact,
});

/** Tables on networks. */
export const networks: readonly Table[] = [
  table('networks: grids', [
    ...pressures('looped grid that falls', looped, loopedPressures),
    ...loopedFlows.map(([from, to, expected]) => ({
      name: `looped grid that falls: flow from ${from} to ${to}`,
      got: () => answer(looped).flow(from, to),
      expected,
      within: { absolute: 2e-3 },
      source: SOURCE.engine,
    })),
    ...pressures('branched grid that falls', grid({ looped: false, fall: 0.15 }), [
      ['H0', 13.932898],
      ['E0_1', 13.931551],
      ['E0_20', 13.915981],
      ['E0_40', 13.910579],
      ['H7', 14.368381],
      ['E7_1', 14.366976],
      ['E7_40', 14.345523],
    ]),
    inflow('branched grid that falls', grid({ looped: false, fall: 0.15 }), 'H0', 866.19503),
    ...pressures('branched level grid', grid({ looped: false, fall: 0 }), [
      ['H0', 13.933866],
      ['E0_1', 13.932519],
      ['E0_20', 13.916948],
      ['E0_40', 13.911546],
      ['H7', 13.897581],
      ['E7_1', 13.896239],
      ['E7_40', 13.875306],
    ]),
    inflow('branched level grid', grid({ looped: false, fall: 0 }), 'H0', 858.98474),
    exact(
      'grid of compensating outlets in their range: inflow is 320 times 2.3 L/h',
      () => answer(grid({ looped: false, fall: 0, compensating: true })).flow('R', 'H0'),
      736,
      1e-6,
    ),
  ]),
  table('networks: regulators', [
    ...pressures('source of 42.184 m', regulated(42.184), [['A', 42.129811], ...behindRegulator]),
    ...pressures('source of 20 m, just enough', regulated(20), [['A', 19.945811], ...behindRegulator]),
    inflow('source of 42.184 m', regulated(42.184), 'A', 306.9473),
  ]),
  table('networks: feeders and fittings', [
    ...pressures('feeders of quarter-inch tube', feeders, [
      ['T1', 10.543137],
      ['T10', 10.513029],
      ['T20', 10.50405],
      ['E1', 10.466535],
      ['E10', 10.436536],
      ['E20', 10.427591],
    ]),
    ...[7.54, 7.52918, 7.52596].map((expected, i) => ({
      name: `feeders of quarter-inch tube: outlet ${[1, 10, 20][i]}`,
      got: () => answer(feeders).outletLph([0, 9, 19][i]!),
      expected,
      within: { absolute: 1e-5 },
      source: SOURCE.engine,
    })),
    // The engine rounds its constant of local loss to 0.02517 (US units), 0.013 % of half a metre.
    ...pressures('one fitting of K 10 at 20 L/min', oneFitting, [['A', 19.463027]], 7e-5),
  ]),
  table('networks: standing water, dead ends, dry outlets', [
    exact('standing water: A', () => answer(standing).pressure('A'), 20, 0),
    exact('standing water: B', () => answer(standing).pressure('B'), 15, 0),
    exact('standing water: C', () => answer(standing).pressure('C'), 24, 0),
    exact('standing water: flow', () => Math.abs(answer(standing).flow('A', 'B')), 0, 0),
    exact('dead end: flow', () => Math.abs(answer(deadEnd).flow('A', 'D1')), 0, 0),
    exact('dead end: far flow', () => Math.abs(answer(deadEnd).flow('D1', 'D2')), 0, 0),
    ...pressures(
      'dead end',
      deadEnd,
      [
        ['A', 9.998789],
        ['E', 8.998183],
        ['D1', 11.998789],
        ['D2', 6.998789],
      ],
      2e-6,
    ),
    exact('outlet above the source gives nothing', () => answer(highOutlet).outletLph(1), 0, 0),
    exact(
      'outlet above the source is named',
      () => answer(highOutlet).solution.findings[0]!.outlets[0]!,
      1,
      0,
    ),
    exact('the lower outlet goes on', () => answer(highOutlet).outletLph(0), 3.99974, 1e-5),
  ]),
];
