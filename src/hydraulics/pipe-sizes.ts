import { LINK, type Links } from './network.ts';
import {
  hazenWilliamsFactor,
  LAMINAR_RE,
  transitionCubic,
  TURBULENT_RE,
  turbulentFactor,
  turbulentFactorSlope,
} from './friction.ts';
import { GRAVITY_MS2 } from './units.ts';

/** Places of the constants of a size in `constants`. */
export const PER_REYNOLDS = 0;
export const LAMINAR = 1;
export const SQUARE = 2;
export const LOCAL = 3;
const LAW = 4;
export const CUBIC = 5;
export const STRIDE = 9;

/** Shorter pipes count as this long: a pipe of no length would have an endless conductance. */
export const SHORTEST_M = 0.001;

/**
 * Turbulent friction factors are read from a table that is filled as it is needed: from Re 4000 on, each doubling of
 * Re is cut into `CUTS` equal parts with a cubic through the values and slopes at their ends. It leaves the formula
 * by less than 1e-9 of its value, and its logarithms and powers out of the iteration.
 */
export const CUTS = 64;
const DOUBLINGS = 6;
const KNOTS = CUTS * DOUBLINGS + 1;
export const CUTS_PER_RE = CUTS / TURBULENT_RE;
export const HIGHEST_RE = TURBULENT_RE * 2 ** DOUBLINGS;
/** More laws than this have no table, so that memory stays bounded. */
const MOST_TABLES = 64;
/**
 * By law (`turbulentFactor`), for all networks: at each knot the factor, its slope times the width of the part after it,
 * and times that of the part before it; NaN where not yet worked out.
 */
const factorTables = new Map<number, Float64Array>();

function factorTable(law: number): Float64Array {
  let found = factorTables.get(law);
  if (!found && factorTables.size < MOST_TABLES) {
    found = new Float64Array(3 * KNOTS).fill(NaN);
    factorTables.set(law, found);
  }
  return found ?? NO_FACTORS;
}

/** Stands for the table of a size that has none. */
export const NO_FACTORS = new Float64Array(3 * KNOTS).fill(NaN);

/** Fills one knot; gives the factor there. */
function workOut(factors: Float64Array, law: number, knot: number): number {
  const base = TURBULENT_RE * 2 ** Math.floor(knot / CUTS);
  const within = knot % CUTS;
  const re = base * (1 + within / CUTS);
  const slope = (turbulentFactorSlope(re, law) * base) / CUTS;
  const factor = turbulentFactor(re, law);
  factors[3 * knot] = factor;
  factors[3 * knot + 1] = slope;
  // Where the width doubles, the part before is half as wide.
  factors[3 * knot + 2] = within === 0 ? slope / 2 : slope;
  return factor;
}

/**
 * Lengths of the pipes of a network and, once for each pair of bore and roughness (or C), the constants of the
 * friction law. Beds are laid out with few sizes of tubing, so what depends on size alone is taken out of the iteration.
 */
export class PipeSizes {
  readonly lengthM: Float64Array;
  readonly lossK: Float64Array;
  /** Size of a pipe; -1 for other links. */
  readonly sizeOf: Int32Array;
  /** By size, `STRIDE` for each. */
  constants = new Float64Array(8 * STRIDE);
  /** By size. */
  private factors: Float64Array[] = [];
  private viscosityM2s = NaN;
  private readonly index = new Map<number, Map<number, number>>();
  private count = 0;

  /** Pipes are known by their positions in a list of links of a network. */
  constructor(linkCount: number) {
    this.lengthM = new Float64Array(linkCount);
    this.lossK = new Float64Array(linkCount);
    this.sizeOf = new Int32Array(linkCount).fill(-1);
  }

  /** Takes over the pipes among the links that `linkAt` lists. */
  read(links: Links, linkAt: Int32Array, viscosityM2s: number): void {
    if (viscosityM2s !== this.viscosityM2s) {
      this.viscosityM2s = viscosityM2s;
      this.index.clear();
      this.factors = [];
      this.count = 0;
    }
    const { kind, lengthM, extraLengthM, boreM, roughnessM, hazenWilliamsC, lossK } = links;
    let lastBore = NaN;
    let lastRoughness = NaN;
    let lastC = 0;
    let lastSize = 0;
    for (let p = 0; p < linkAt.length; p++) {
      const l = linkAt[p]!;
      if (kind[l] !== LINK.pipe) continue;
      const bore = boreM[l]!;
      const roughness = roughnessM[l]!;
      const coefficientC = hazenWilliamsC === undefined ? 0 : hazenWilliamsC[l]! || 0;
      if (bore !== lastBore || roughness !== lastRoughness || coefficientC !== lastC) {
        lastSize = this.sizeFor(bore, roughness, coefficientC);
        lastC = coefficientC;
        lastBore = bore;
        lastRoughness = roughness;
      }
      const length = lengthM[l]! + extraLengthM[l]!;
      this.lengthM[p] = length > SHORTEST_M ? length : SHORTEST_M;
      this.lossK[p] = lossK[l]!;
      this.sizeOf[p] = lastSize;
    }
  }

  /** Takes over link `l` alone, which has position `p`. */
  readOne(links: Links, l: number, p: number): void {
    this.lengthM[p] = Math.max(links.lengthM[l]! + links.extraLengthM[l]!, SHORTEST_M);
    this.lossK[p] = links.lossK[l]!;
    this.sizeOf[p] = this.sizeFor(links.boreM[l]!, links.roughnessM[l]!, links.hazenWilliamsC?.[l] ?? NaN);
  }

  /** Head lost in pipe `p` at a flow, m, and its slope, s/m2, to `out[0]` and `out[1]`. */
  lossAt(p: number, flowM3s: number, out: Float64Array): void {
    const table = this.constants;
    const size = this.sizeOf[p]!;
    const at = size * STRIDE;
    const flow = Math.abs(flowM3s);
    const re = table[at + PER_REYNOLDS]! * flow;
    let loss: number;
    let slope: number;
    if (re <= LAMINAR_RE) {
      slope = table[at + LAMINAR]! * this.lengthM[p]!;
      loss = slope * flow;
    } else {
      const square = table[at + SQUARE]! * this.lengthM[p]! * flow;
      if (re <= TURBULENT_RE) {
        const r = re * (1 / LAMINAR_RE);
        const c1 = table[at + CUBIC + 1]!;
        const c2 = table[at + CUBIC + 2]!;
        const c3 = table[at + CUBIC + 3]!;
        const f = table[at + CUBIC]! + r * (c1 + r * (c2 + r * c3));
        loss = square * flow * f;
        slope = square * (2 * f + r * (c1 + r * (2 * c2 + r * 3 * c3)));
      } else {
        this.turbulent(size, re, out);
        loss = square * flow * out[0]!;
        slope = square * (2 * out[0]! + out[1]!);
      }
    }
    const lossK = this.lossK[p]!;
    if (lossK > 0) {
      const local = table[at + LOCAL]! * lossK * flow;
      loss += local * flow;
      slope += 2 * local;
    }
    out[0] = flowM3s < 0 ? -loss : loss;
    out[1] = slope;
  }

  /** Turbulent factors of a size. */
  factorsOf(size: number): Float64Array {
    return this.factors[size]!;
  }

  /** Friction factor above Re 4000 and its slope times Re, to `out[0]` and `out[1]`. */
  turbulent(size: number, re: number, out: Float64Array): void {
    const factors = this.factors[size]!;
    if (factors === NO_FACTORS || re >= HIGHEST_RE) {
      const law = this.constants[size * STRIDE + LAW]!;
      out[0] = turbulentFactor(re, law);
      out[1] = turbulentFactorSlope(re, law) * re;
      return;
    }
    let cuts = re * CUTS_PER_RE;
    let first = -CUTS;
    while (cuts >= 2 * CUTS) {
      cuts *= 0.5;
      first += CUTS;
    }
    const part = Math.floor(cuts);
    const knot = 3 * (first + part);
    let f0 = factors[knot]!;
    if (f0 !== f0) f0 = workOut(factors, this.constants[size * STRIDE + LAW]!, first + part);
    let f1 = factors[knot + 3]!;
    if (f1 !== f1) f1 = workOut(factors, this.constants[size * STRIDE + LAW]!, first + part + 1);
    const t = cuts - part;
    const m0 = factors[knot + 1]!;
    const rise = f1 - f0;
    const m1 = factors[knot + 5]!;
    const c2 = 3 * rise - 2 * m0 - m1;
    const c3 = m0 + m1 - 2 * rise;
    out[0] = f0 + t * (m0 + t * (c2 + t * c3));
    out[1] = (m0 + t * (2 * c2 + t * 3 * c3)) * cuts;
  }

  /** @param coefficientC of Hazen and Williams; not above 0, or NaN, for the law of Darcy and Weisbach. */
  private sizeFor(bore: number, roughness: number, coefficientC: number): number {
    // One number for the law, in which a coefficient cannot be taken for a roughness.
    const key = coefficientC > 0 ? -coefficientC : roughness;
    let sameBore = this.index.get(bore);
    if (!sameBore) {
      sameBore = new Map<number, number>();
      this.index.set(bore, sameBore);
    }
    const known = sameBore.get(key);
    if (known !== undefined) return known;
    const size = this.count++;
    sameBore.set(key, size);
    if (this.count * STRIDE > this.constants.length) {
      const next = new Float64Array(this.constants.length * 2);
      next.set(this.constants);
      this.constants = next;
    }
    const at = size * STRIDE;
    const law =
      coefficientC > 0 ? -hazenWilliamsFactor(bore, coefficientC, this.viscosityM2s) : roughness / bore;
    this.factors.push(factorTable(law));
    this.constants[at + PER_REYNOLDS] = 4 / (Math.PI * bore * this.viscosityM2s);
    this.constants[at + LAMINAR] = (128 * this.viscosityM2s) / (Math.PI * GRAVITY_MS2 * bore ** 4);
    this.constants[at + SQUARE] = 8 / (Math.PI ** 2 * GRAVITY_MS2 * bore ** 5);
    this.constants[at + LOCAL] = 8 / (Math.PI ** 2 * GRAVITY_MS2 * bore ** 4);
    this.constants[at + LAW] = law;
    this.constants.set(transitionCubic(law), at + CUBIC);
    return size;
  }
}
