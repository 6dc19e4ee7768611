import { LINK, lphToM3s, type LinkKind, type LossCurve, type Network } from '../index.ts';

/** A network written by names, for tests. Lengths and heads in m, bores in mm, flows in L/h. */
export interface Sketch {
  readonly nodes: readonly { readonly id: string; readonly zM?: number; readonly fixedHeadM?: number }[];
  readonly links: readonly {
    readonly from: string;
    readonly to: string;
    readonly kind?: LinkKind;
    readonly lengthM?: number;
    readonly extraM?: number;
    readonly boreMm?: number;
    readonly roughnessMm?: number;
    readonly lossK?: number;
    readonly settingM?: number;
    readonly curve?: number;
  }[];
  readonly outlets?: readonly SketchOutlet[];
  readonly curves?: readonly LossCurve[];
  readonly viscosityM2s?: number;
}

export interface SketchOutlet {
  readonly node: string;
  /** Coefficient in L/h per m^x. */
  readonly k: number;
  readonly x: number;
  /** Given for compensating outlets, L/h. */
  readonly ratedLph?: number;
  readonly rangeFromM?: number;
  readonly residual?: number;
  readonly riseM?: number;
}

/** Roughness that stands for a smooth pipe where an engine refuses zero, mm. */
export const SMOOTH_MM = 1e-7;
/** Viscosity of water of 20 °C in the comparison cases, m2/s. */
export const NU_20 = 1.004e-6;

/** Gravity in the engine that the comparison cases come from, 32.2 ft/s2, in m/s2. */
export const ENGINE_GRAVITY = 9.81456;

/** Turns a sketch into typed arrays. */
export function networkOf(sketch: Sketch): Network {
  const index = new Map(sketch.nodes.map((node, i) => [node.id, i]));
  const at = (id: string) => index.get(id) ?? -1;
  const { nodes, links } = sketch;
  const outlets = sketch.outlets ?? [];
  return {
    nodes: {
      count: nodes.length,
      elevationM: Float64Array.from(nodes, (n) => n.zM ?? 0),
      fixedHeadM: Float64Array.from(nodes, (n) => n.fixedHeadM ?? NaN),
    },
    links: {
      count: links.length,
      from: Int32Array.from(links, (l) => at(l.from)),
      to: Int32Array.from(links, (l) => at(l.to)),
      kind: Uint8Array.from(links, (l) => l.kind ?? LINK.pipe),
      lengthM: Float64Array.from(links, (l) => l.lengthM ?? 0),
      extraLengthM: Float64Array.from(links, (l) => l.extraM ?? 0),
      boreM: Float64Array.from(links, (l) => (l.boreMm ?? 13.8) / 1000),
      roughnessM: Float64Array.from(links, (l) => (l.roughnessMm ?? SMOOTH_MM) / 1000),
      lossK: Float64Array.from(links, (l) => l.lossK ?? 0),
      settingM: Float64Array.from(links, (l) => l.settingM ?? NaN),
      curve: Int32Array.from(links, (l) => l.curve ?? -1),
    },
    outlets: {
      count: outlets.length,
      node: Int32Array.from(outlets, (o) => at(o.node)),
      coefficient: Float64Array.from(outlets, (o) => lphToM3s(o.k)),
      exponent: Float64Array.from(outlets, (o) => o.x),
      ratedM3s: Float64Array.from(outlets, (o) => (o.ratedLph === undefined ? NaN : lphToM3s(o.ratedLph))),
      rangeFromM: Float64Array.from(outlets, (o) => o.rangeFromM ?? NaN),
      residualExponent: Float64Array.from(outlets, (o) => o.residual ?? 0),
      riseM: Float64Array.from(outlets, (o) => o.riseM ?? 0),
    },
    curves: sketch.curves ?? [],
    viscosityM2s: sketch.viscosityM2s ?? NU_20,
  };
}

export interface LateralSketch {
  readonly inletM: number;
  readonly count: number;
  readonly spacingM: number;
  readonly boreMm: number;
  /** Rise per metre of run; negative falls away from the inlet. */
  readonly slope?: number;
  readonly extraM?: number;
  readonly k: number;
  readonly x: number;
  readonly ratedLph?: number;
  readonly rangeFromM?: number;
  readonly viscosityM2s?: number;
  /** Factor on the friction lengths alone: loss goes with length over gravity, so this stands for another gravity. */
  readonly lengthFactor?: number;
}

/** One run with equal outlets, the first one spacing from its inlet (node and level 0); node i is outlet i. */
export function lateral(l: LateralSketch): Network {
  const ids = Array.from({ length: l.count }, (_, i) => i + 1);
  return networkOf({
    nodes: [
      { id: '0', fixedHeadM: l.inletM },
      ...ids.map((i) => ({ id: `${i}`, zM: (l.slope ?? 0) * l.spacingM * i })),
    ],
    links: ids.map((i) => ({
      from: `${i - 1}`,
      to: `${i}`,
      lengthM: l.spacingM * (l.lengthFactor ?? 1),
      extraM: (l.extraM ?? 0) * (l.lengthFactor ?? 1),
      boreMm: l.boreMm,
    })),
    outlets: ids.map((i) => ({
      node: `${i}`,
      k: l.k,
      x: l.x,
      ...(l.ratedLph === undefined ? {} : { ratedLph: l.ratedLph }),
      ...(l.rangeFromM === undefined ? {} : { rangeFromM: l.rangeFromM }),
    })),
    viscosityM2s: l.viscosityM2s ?? NU_20,
  });
}
