import type { OutletLaw } from '../../catalog/index.ts';
import {
  headToKpa,
  kpaToHead,
  LINK,
  lphToM3s,
  m3sToLph,
  type Network,
  type Solution,
  solve,
  viscosity,
} from '../../hydraulics/index.ts';
import { SMOOTH_ROUGHNESS_M } from '../network/pipe-bore.ts';
import { coefficientOf } from '../network/outlet-coefficient.ts';

/** A straight run of dripline, fed at one end. */
export interface LateralChoice {
  readonly innerDiameterMm: number;
  readonly law: OutletLaw;
  readonly ratedFlowLph: number;
  readonly spacingM: number;
  /** Pressure where water enters the run, kPa. */
  readonly inletKpa: number;
  /** Rise away from the inlet, percent; negative falls. */
  readonly slopePercent: number;
  readonly waterC: number;
}

/** Pressures and flows of a lateral. */
export interface SolvedLateral {
  readonly pressureKpa: Float64Array;
  readonly flowLph: Float64Array;
  readonly converged: boolean;
  readonly solution: Solution;
}

/** Solves a lateral with `count` outlets, the first one spacing from the inlet, the last one at its end. */
export function solveLateral(choice: LateralChoice, count: number): SolvedLateral {
  const network = lateralNetwork(choice, count);
  const solution = solve(network);
  const pressureKpa = new Float64Array(count);
  const flowLph = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    pressureKpa[i] = headToKpa(solution.headM[i + 1]! - network.nodes.elevationM[i + 1]!);
    flowLph[i] = m3sToLph(solution.outletM3s[i]!);
  }
  return { pressureKpa, flowLph, converged: solution.converged, solution };
}

function lateralNetwork(choice: LateralChoice, count: number): Network {
  const { law, spacingM, slopePercent } = choice;
  const filled = (value: number): Float64Array => new Float64Array(count).fill(value);
  const riseM = (spacingM * slopePercent) / Math.hypot(100, slopePercent);
  const elevationM = Float64Array.from({ length: count + 1 }, (_, i) => i * riseM);
  const fixedHeadM = new Float64Array(count + 1).fill(NaN);
  fixedHeadM[0] = kpaToHead(choice.inletKpa);
  // As in a plan's network: half of each body's length on either side of it, all of it at the end.
  const extraLengthM = filled(law.extraLengthM);
  extraLengthM[0]! -= law.extraLengthM / 2;
  extraLengthM[count - 1]! += law.extraLengthM / 2;
  const ratedM3s = lphToM3s(choice.ratedFlowLph);
  const ratedHeadM = kpaToHead(law.ratedKpa);
  return {
    nodes: { count: count + 1, elevationM, fixedHeadM },
    links: {
      count,
      from: Int32Array.from({ length: count }, (_, i) => i),
      to: Int32Array.from({ length: count }, (_, i) => i + 1),
      kind: new Uint8Array(count).fill(LINK.pipe),
      lengthM: filled(spacingM),
      extraLengthM,
      boreM: filled(choice.innerDiameterMm / 1000),
      roughnessM: filled(SMOOTH_ROUGHNESS_M),
      lossK: filled(0),
      settingM: filled(NaN),
      curve: new Int32Array(count).fill(-1),
    },
    outlets: {
      count,
      node: Int32Array.from({ length: count }, (_, i) => i + 1),
      coefficient: filled(coefficientOf(law, choice.ratedFlowLph, choice.waterC)),
      exponent: filled(law.exponent),
      ratedM3s: filled(law.compensating ? ratedM3s : NaN),
      rangeFromM: filled(law.compensating ? ratedHeadM : NaN),
      residualExponent: filled(0),
      riseM: filled(0),
      ...(law.closingKpa === null ? {} : { closingM: filled(kpaToHead(law.closingKpa)) }),
    },
    curves: [],
    viscosityM2s: viscosity(choice.waterC),
  };
}
