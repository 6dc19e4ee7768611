import {
  frictionFactor,
  headLoss,
  lphToM3s,
  m3sToLph,
  multipleOutletFactor,
  outletCoefficient,
  reynolds,
  solve,
  velocity,
} from '../../src/hydraulics/index.ts';
import { NU_20, networkOf, SMOOTH_MM, type Sketch } from '../../src/hydraulics/samples/build.ts';
import { SOURCE, table, type Case, type Table } from './cases.ts';

const GRAVITY = 9.80665;
const INCH_M = 0.0254;
const FOOT_M = 0.3048;
const GPM_M3S = 6.30901964e-5;

const exact = (name: string, got: () => number, expected: number, absolute: number): Case => ({
  name,
  got,
  expected,
  within: { absolute },
  source: SOURCE.exact,
});

/** Two sizes of tubing in line, 80 outlets of 4 L/h, 0.5 m apart: the last 40 on the narrower one. */
const TAPER = { outletLph: 4, spacingM: 0.5, count: 80, narrow: 40, wideM: 0.0174, narrowM: 0.0138 } as const;

/** Blasius: f = 0.3164 Re^-0.25 throughout. */
function blasiusLoss(lph: number, boreM: number, lengthM: number): number {
  const q = lphToM3s(lph);
  const f = 0.3164 / reynolds(q, boreM, NU_20) ** 0.25;
  return ((f * lengthM) / boreM) * (velocity(q, boreM) ** 2 / (2 * GRAVITY));
}
/** Loss of a run of `count` outlets of one bore after Blasius: loss of the whole flow times the factor. */
function runLoss(boreM: number, count: number): number {
  const whole = blasiusLoss(count * TAPER.outletLph, boreM, count * TAPER.spacingM);
  return whole * multipleOutletFactor(count, 1.75);
}
const boreBefore = (outlet: number) => (outlet > TAPER.count - TAPER.narrow ? TAPER.narrowM : TAPER.wideM);
const places = Array.from({ length: TAPER.count }, (_, i) => i + 1);
const flowBefore = (outlet: number) => (TAPER.count - outlet + 1) * TAPER.outletLph;

/** A compensating outlet that gives `lph` from 1 m on. */
const steady = (node: string, lph: number) => ({
  node,
  k: outletCoefficient(lph, 1, 0.5),
  x: 0.5,
  ratedLph: lph,
  rangeFromM: 1,
});
const tapered: Sketch = {
  nodes: [{ id: '0', fixedHeadM: 20 }, ...places.map((i) => ({ id: `${i}` }))],
  links: places.map((i) => ({
    from: `${i - 1}`,
    to: `${i}`,
    lengthM: TAPER.spacingM,
    boreMm: 1000 * boreBefore(i),
  })),
  outlets: places.map((i) => steady(`${i}`, TAPER.outletLph)),
};
const taper: Case[] = [
  exact('two sizes: the wide one throughout', () => runLoss(TAPER.wideM, 80), 0.213669, 1e-6),
  exact('two sizes: the wide one over the last 40', () => runLoss(TAPER.wideM, 40), 0.032305, 1e-6),
  exact('two sizes: the narrow one over the last 40', () => runLoss(TAPER.narrowM, 40), 0.097151, 1e-6),
  exact('two sizes: the narrow one throughout', () => runLoss(TAPER.narrowM, 80), 0.642576, 1e-6),
  exact(
    'two sizes: wide throughout, less wide, plus narrow over the last 40',
    () => runLoss(TAPER.wideM, 80) - runLoss(TAPER.wideM, 40) + runLoss(TAPER.narrowM, 40),
    0.278515,
    1e-6,
  ),
  exact(
    'two sizes: sum of the pieces after Blasius',
    () => places.reduce((sum, i) => sum + blasiusLoss(flowBefore(i), boreBefore(i), TAPER.spacingM), 0),
    0.278515,
    1e-6,
  ),
  exact(
    'two sizes: the solver gives the sum of the friction of its pieces',
    () => 20 - solve(networkOf(tapered)).headM[80]!,
    places.reduce(
      (sum, i) =>
        sum +
        headLoss(
          { lengthM: TAPER.spacingM, boreM: boreBefore(i), roughnessM: SMOOTH_MM / 1000 },
          lphToM3s(flowBefore(i)),
          NU_20,
        ),
      0,
    ),
    1e-8,
  ),
];

/** 400 steady outlets along one straight line, fed at a place in between; x runs downhill. */
const PAIR = { count: 400, spacingM: 0.25, outletLph: 4, boreMm: 17.4, inletM: 30 } as const;
const PAIR_LENGTH_M = PAIR.count * PAIR.spacingM;

/** Lowest pressure on the pair, and pressure at its downhill end, m, when it is fed at `inletX`. */
function pair(inletX: number, slope: number): { readonly lowestM: number; readonly endM: number } {
  const xs = Array.from({ length: PAIR.count }, (_, i) => (i + 0.5) * PAIR.spacingM);
  const all = [...xs, inletX].sort((a, b) => a - b);
  const inlet = all.indexOf(inletX);
  const network = networkOf({
    nodes: all.map((x, i) => ({
      id: `${i}`,
      zM: slope * (inletX - x),
      ...(i === inlet ? { fixedHeadM: PAIR.inletM } : {}),
    })),
    links: all.slice(1).map((x, i) => ({
      from: `${i}`,
      to: `${i + 1}`,
      lengthM: x - all[i]!,
      boreMm: PAIR.boreMm,
    })),
    outlets: all.flatMap((_, i) => (i === inlet ? [] : [steady(`${i}`, PAIR.outletLph)])),
  });
  const { headM } = solve(network);
  const pressures = headM.map((h, i) => h - network.nodes.elevationM[i]!);
  return { lowestM: Math.min(...pressures), endM: pressures[pressures.length - 1]! };
}

/** Golden section: the place in (low, high) where `f`, with one top, is highest. */
function highest(f: (x: number) => number, low: number, high: number, within: number): number {
  const part = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [low, high];
  let [c, d] = [b - part * (b - a), a + part * (b - a)];
  let [fc, fd] = [f(c), f(d)];
  while (b - a > within) {
    if (fc > fd) {
      [b, d, fd] = [d, c, fc];
      c = b - part * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + part * (b - a);
      fd = f(d);
    }
  }
  return (a + b) / 2;
}

/** Share of the length, from the uphill end, at which feeding leaves the highest lowest pressure on a slope. */
function bestInlet(slope: number): number {
  const x = highest((at) => pair(at, slope).lowestM, 0.05 * PAIR_LENGTH_M, 0.5 * PAIR_LENGTH_M, 0.02);
  return x / PAIR_LENGTH_M;
}

/** The slope at which the downhill end, fed at the best place, comes back to the pressure of the inlet. */
function recoveringSlope(): number {
  let [low, high] = [0, 0.2];
  for (let i = 0; i < 14; i++) {
    const slope = (low + high) / 2;
    if (pair(bestInlet(slope) * PAIR_LENGTH_M, slope).endM < PAIR.inletM) low = slope;
    else high = slope;
  }
  return (low + high) / 2;
}

/** The same place for friction that goes with a power of the flow. */
function powerLawInlet(m: number): number {
  const u = (1 / (m + 1)) ** (1 / m);
  const deep = u - u ** (m + 1);
  let [low, high] = [0, 1];
  for (let i = 0; i < 60; i++) {
    const r = (low + high) / 2;
    if (r + r ** (m + 1) < deep) low = r;
    else high = r;
  }
  return low / (1 + low);
}
const paired: Case[] = [
  exact('pair on a slope, friction with the power 1.75: inlet', () => powerLawInlet(1.75), 0.2397, 5e-5),
  exact('pair on a slope, friction with the power 1.852: inlet', () => powerLawInlet(1.852), 0.2466, 5e-5),
  {
    name: 'pair on a slope, solved: inlet at 24 % of the length from the uphill end',
    got: () => bestInlet(recoveringSlope()),
    expected: 0.24,
    within: { absolute: 0.005 },
    source:
      'Baiamonte, Agricultural Water Management 191 (2017), abstract: best inlet of paired laterals on a slope',
  },
  exact('pair on level ground: inlet in the middle', () => bestInlet(0), 0.5, 0.002),
];

/** A level run whose far end is opened: it gives what its whole bore lets out, A sqrt(2 g h). */
const FLUSH = { inletM: 10, count: 60, spacingM: 0.3, boreM: 0.0142, k: 2 / Math.sqrt(10) } as const;
const FLUSH_AREA = (Math.PI / 4) * FLUSH.boreM ** 2;
const numbers = Array.from({ length: FLUSH.count }, (_, i) => i + 1);
export const flushing: Sketch = {
  nodes: [{ id: '0', fixedHeadM: FLUSH.inletM }, ...numbers.map((i) => ({ id: `${i}` }))],
  links: numbers.map((i) => ({
    from: `${i - 1}`,
    to: `${i}`,
    lengthM: FLUSH.spacingM,
    boreMm: 1000 * FLUSH.boreM,
  })),
  outlets: [
    ...numbers.map((i) => ({ node: `${i}`, k: FLUSH.k, x: 0.5 })),
    { node: `${FLUSH.count}`, k: m3sToLph(FLUSH_AREA * Math.sqrt(2 * GRAVITY)), x: 0.5 },
  ],
};

/** The same from the far end upwards: what the inlet has, for a pressure at the open end in m. */
function marchUp(endM: number): { readonly inletM: number; readonly inflowM3s: number } {
  let h = endM;
  let q = FLUSH_AREA * Math.sqrt(2 * GRAVITY * endM);
  for (let i = FLUSH.count; i >= 1; i--) {
    q += lphToM3s(FLUSH.k) * Math.sqrt(h);
    const f = frictionFactor(reynolds(q, FLUSH.boreM, NU_20), SMOOTH_MM / 1000 / FLUSH.boreM);
    h += ((f * FLUSH.spacingM) / FLUSH.boreM) * (velocity(q, FLUSH.boreM) ** 2 / (2 * GRAVITY));
  }
  return { inletM: h, inflowM3s: q };
}
function openEndM(): number {
  let low = 0.05;
  let high: number = FLUSH.inletM;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (marchUp(middle).inletM < FLUSH.inletM) low = middle;
    else high = middle;
  }
  return low;
}
const flushed = () => solve(networkOf(flushing));

const atOneFootGpm = (boreIn: number) => FOOT_M / velocity(1, boreIn * INCH_M) / GPM_M3S;
/** Flow in gpm at which water moves at 1 ft/s, by bore in inches: 2.448 d². */
const AT_ONE_FOOT = [
  [0.17, 0.071],
  [0.52, 0.662],
  [0.56, 0.768],
  [0.6, 0.881],
  [0.62, 0.941],
  [0.69, 1.165],
  [0.824, 1.662],
] as const;
/** Nominal size, bore that gives it and printed flow, which is rounded up. */
const PRINTED_FLUSH = [
  [0.625, 0.956, 1],
  [0.875, 1.874, 2],
] as const;
const flush: Case[] = [
  ...AT_ONE_FOOT.map(([boreIn, gpm]) =>
    exact(`bore of ${boreIn} in at 1 ft/s`, () => atOneFootGpm(boreIn), gpm, 5.5e-4),
  ),
  ...PRINTED_FLUSH.flatMap(([boreIn, gpm, printed]) => [
    exact(`bore of ${boreIn} in at 1 ft/s`, () => atOneFootGpm(boreIn), gpm, 1e-3),
    {
      name: `bore of ${boreIn} in at 1 ft/s, as printed`,
      got: () => atOneFootGpm(boreIn),
      expected: printed,
      within: { share: 0.065 },
      source: SOURCE.uc,
    },
  ]),
  {
    name: 'run with an open end: pressure there',
    got: () => flushed().headM[FLUSH.count]!,
    expected: openEndM(),
    within: { absolute: 1e-7 },
    source: 'march from the far end with the plain formula, apart from the solver',
  },
  {
    name: 'run with an open end: inflow, L/h',
    got: () => m3sToLph(flushed().flowM3s[0]!),
    expected: m3sToLph(marchUp(openEndM()).inflowM3s),
    within: { share: 1e-8 },
    source: 'march from the far end with the plain formula, apart from the solver',
  },
  exact(
    'run with an open end: its velocity head is the whole pressure there',
    () => {
      const { headM, outletM3s } = flushed();
      return velocity(outletM3s[FLUSH.count]!, FLUSH.boreM) ** 2 / (2 * GRAVITY) / headM[FLUSH.count]!;
    },
    1,
    1e-9,
  ),
];

/** Tables on what a design asks of the solver. */
export const design: readonly Table[] = [
  table('design: two sizes in line', taper),
  table('design: best inlet of a pair', paired),
  table('design: flushing', flush),
];
