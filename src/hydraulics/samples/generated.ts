import { LINK, lphToM3s, type Network } from '../index.ts';

/** A small generator of repeatable numbers in [0, 1) (mulberry32, public domain). */
export function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Bores of tubing and pipe, m. */
const BORES = [0.0138, 0.0152, 0.0174, 0.0209, 0.0266];

/** How a network is made. */
export interface Recipe {
  readonly seed: number;
  readonly joints: number;
  /** Links beyond those of a tree. */
  readonly loops: number;
  readonly exponent: number;
  /** Largest height above or below the source, m. */
  readonly reliefM: number;
  readonly regulator: boolean;
}

/**
 * A tree of pipes grown joint by joint, with further links between near joints, heights, barbs and fittings, and an
 * outlet at most joints. The source stands at 25 to 45 m, so that no outlet runs dry.
 */
export function generated(recipe: Recipe): Network {
  const next = numbers(recipe.seed);
  const pick = (count: number) => Math.floor(next() * count);
  const first = recipe.regulator ? 2 : 0;
  const count = first + 1 + recipe.joints;
  const from: number[] = [];
  const to: number[] = [];
  if (recipe.regulator) {
    from.push(0, 1);
    to.push(1, 2);
  }
  for (let v = first + 1; v < count; v++) {
    const back = next() < 0.7 ? v - 1 : Math.max(first, v - 1 - pick(12));
    from.push(back);
    to.push(v);
  }
  for (let i = 0; i < recipe.loops; i++) {
    const a = first + 1 + pick(recipe.joints);
    const b = first + 1 + pick(recipe.joints);
    if (a !== b) {
      from.push(a);
      to.push(b);
    }
  }
  const n = from.length;
  const kind = new Uint8Array(n);
  if (recipe.regulator) kind[1] = LINK.regulator;
  const elevationM = Float64Array.from({ length: count }, (_, v) =>
    v <= first ? 0 : (next() * 2 - 1) * recipe.reliefM,
  );
  const fixedHeadM = new Float64Array(count).fill(NaN);
  fixedHeadM[0] = (recipe.regulator ? 45 : 25) + 20 * next();
  const withOutlet: number[] = [];
  for (let v = first + 1; v < count; v++) if (next() < 0.8) withOutlet.push(v);
  const outlets = withOutlet.length;
  const lead = first + 8;
  return {
    nodes: { count, elevationM, fixedHeadM },
    links: {
      count: n,
      from: Int32Array.from(from),
      to: Int32Array.from(to),
      kind,
      lengthM: Float64Array.from({ length: n }, () => 0.15 + 2 * next()),
      extraLengthM: Float64Array.from({ length: n }, () => (next() < 0.5 ? 0.1 : 0)),
      boreM: Float64Array.from({ length: n }, (_, l) => (l < lead ? BORES[4]! : BORES[pick(BORES.length)]!)),
      roughnessM: new Float64Array(n).fill(1.5e-6),
      lossK: Float64Array.from({ length: n }, () => (next() < 0.2 ? 2 * next() : 0)),
      settingM: new Float64Array(n).fill(recipe.regulator ? 25 : NaN),
      curve: new Int32Array(n).fill(-1),
    },
    outlets: {
      count: outlets,
      node: Int32Array.from(withOutlet),
      coefficient: Float64Array.from(
        withOutlet,
        () => lphToM3s(1 + 3 * next()) / Math.pow(10, recipe.exponent),
      ),
      exponent: new Float64Array(outlets).fill(recipe.exponent),
      ratedM3s: new Float64Array(outlets).fill(NaN),
      rangeFromM: new Float64Array(outlets).fill(NaN),
      residualExponent: new Float64Array(outlets),
      riseM: new Float64Array(outlets),
    },
    curves: [],
    viscosityM2s: 1.004e-6,
  };
}

/** Velocity for which a header is sized, m/s (common practice: at most 5 ft/s in plastic pipe). */
const HEADER_MS = 1.5;

/** A grid of rows of tubing on a header, their far ends joined by a footer where `looped`. */
export function rowsOnHeader(rows: number, outletsPerRow: number, looped: boolean, riseM = -0.002): Network {
  const from: number[] = [];
  const to: number[] = [];
  const length: number[] = [];
  const bore: number[] = [];
  const z: number[] = [0];
  const node: number[] = [];
  const link = (a: number, b: number, l: number, d: number) => {
    from.push(a);
    to.push(b);
    length.push(l);
    bore.push(d);
  };
  const flowM3s = lphToM3s(2 * rows * outletsPerRow);
  const headerBore = Math.max(0.0209, Math.sqrt((4 * flowM3s) / (Math.PI * HEADER_MS)));
  let header = 0;
  let footer = -1;
  for (let r = 0; r < rows; r++) {
    const level = riseM * r;
    let last = z.push(level) - 1;
    link(header, last, r === 0 ? 2 : 0.45, headerBore);
    header = last;
    for (let i = 0; i < outletsPerRow; i++) {
      const here = z.push(level) - 1;
      link(last, here, 0.3, 0.0138);
      node.push(here);
      last = here;
    }
    if (looped) {
      const end = z.push(level) - 1;
      link(last, end, 0.3, 0.0138);
      if (footer >= 0) link(footer, end, 0.45, headerBore);
      footer = end;
    }
  }
  const n = from.length;
  const k = node.length;
  const fixedHeadM = new Float64Array(z.length).fill(NaN);
  fixedHeadM[0] = 20;
  return {
    nodes: { count: z.length, elevationM: Float64Array.from(z), fixedHeadM },
    links: {
      count: n,
      from: Int32Array.from(from),
      to: Int32Array.from(to),
      kind: new Uint8Array(n),
      lengthM: Float64Array.from(length),
      extraLengthM: new Float64Array(n),
      boreM: Float64Array.from(bore),
      roughnessM: new Float64Array(n).fill(1.5e-6),
      lossK: new Float64Array(n),
      settingM: new Float64Array(n).fill(NaN),
      curve: new Int32Array(n).fill(-1),
    },
    outlets: {
      count: k,
      node: Int32Array.from(node),
      coefficient: new Float64Array(k).fill(lphToM3s(2) / Math.sqrt(10)),
      exponent: new Float64Array(k).fill(0.5),
      ratedM3s: new Float64Array(k).fill(NaN),
      rangeFromM: new Float64Array(k).fill(NaN),
      residualExponent: new Float64Array(k),
      riseM: new Float64Array(k),
    },
    curves: [],
    viscosityM2s: 1.004e-6,
  };
}
