import type { Point } from '../base/point.ts';
import type { Network, Solution } from '../hydraulics/network.ts';
import type { Ref } from '../plan/records.ts';

/** A place where water leaves, as it stands on the plan; results are given in the same order. */
export interface PlacedOutlet {
  /** The run (built-in emitter) or the point emitter that it belongs to. */
  readonly owner: Ref<'runs' | 'emitters'>;
  readonly runId: string;
  /** Number along the run from 1, in the order of the run's path. */
  readonly number: number;
  readonly at: Point;
  readonly zM: number;
  readonly plantId: string | null;
  readonly ratedFlowLph: number;
  readonly minKpa: number;
  readonly maxKpa: number;
  readonly compensating: boolean;
  /** Where the feeder or the emitter is tapped into the run, and the feeder's length on the ground (0: none). */
  readonly tap: Point;
  readonly feederM: number;
}

/** A piece of pipe between two joints or outlets, for velocity and direction of flow. */
export interface PlacedPiece {
  readonly owner: Ref<'runs' | 'laterals' | 'emitters' | 'controls' | 'supplies'>;
  readonly a: Point;
  readonly b: Point;
}

/** A control set in the network: `inlet` and `outlet` are nodes, the others links. */
export interface PlacedControl {
  readonly id: string;
  readonly inlet: number;
  readonly outlet: number;
  readonly filterLink: number;
  readonly regulatorLink: number;
  /** False when no supply reaches its inlet. */
  readonly fed: boolean;
}

/** A supply in the network: its node, and the link by which its pressure falls with flow (-1: none). */
export interface PlacedSupply {
  readonly id: string;
  readonly node: number;
  readonly link: number;
  /** False while no pressure is known here: then nothing behind it can be computed. */
  readonly hasPressure: boolean;
}

/** What of the plan each part of the network stands for. */
export interface NetworkParts {
  readonly controls: readonly PlacedControl[];
  readonly supplies: readonly PlacedSupply[];
  /** Length of each run on the ground surface, metres. */
  readonly runLengthM: ReadonlyMap<string, number>;
  /** Runs that no supply reaches, and runs that one reaches without a control set between. */
  readonly apartRuns: readonly string[];
  readonly bareRuns: readonly string[];
}

/** The hydraulic network of a plan with the way back to what is drawn. */
export interface PlanNetwork {
  readonly network: Network;
  readonly outlets: readonly PlacedOutlet[];
  /** By link index. */
  readonly pieces: readonly PlacedPiece[];
  /** Nodes by run: inlet end, and all joints and outlets on it. */
  readonly runNodes: ReadonlyMap<string, readonly number[]>;
  readonly parts: NetworkParts;
  /** Where the plan could not be turned into a network, or only with an assumption. */
  readonly notices: readonly Notice[];
}

/** Something that the person should see, with the records concerned. */
export interface Notice {
  readonly rule: string;
  readonly severity: 'error' | 'warning' | 'info';
  readonly message: string;
  readonly refs: readonly Ref[];
  /** Source of the limit, where there is one. */
  readonly source?: string;
}

/** `dry`: no water; `low`, `high`: outside the outlet's range; `apart`: not connected to a supply. */
export type OutletState = 'good' | 'low' | 'high' | 'dry' | 'apart';

export interface OutletResult extends PlacedOutlet {
  /** Pressure at the outlet, kPa; NaN when apart. */
  readonly pressureKpa: number;
  readonly flowLph: number;
  readonly state: OutletState;
}

export interface RunResult {
  readonly runId: string;
  /** On the ground surface, metres. */
  readonly lengthM: number;
  readonly outletCount: number;
  /** What leaves through the run's own outlets, L/h. */
  readonly flowLph: number;
  /** Pressure where water enters the run, and the lowest on it, kPa; NaN when apart or without water. */
  readonly inletKpa: number;
  readonly worstKpa: number;
  readonly highestKpa: number;
  readonly maxVelocityMs: number;
}

/** What leaves one control set (or one supply without a control set). */
export interface ZoneResult {
  readonly owner: Ref<'controls' | 'supplies'>;
  readonly flowLph: number;
  readonly outletCount: number;
  readonly inletKpa: number;
  readonly outletKpa: number;
}

export interface Uniformity {
  /** Mean flow of the lowest quarter over the mean, percent; fractional quarters. */
  readonly dulq: number;
  /** Christiansen's coefficient, percent. */
  readonly cu: number;
  /** 100 (max - min) / max. */
  readonly flowVariation: number;
}

export interface Results {
  readonly outlets: readonly OutletResult[];
  readonly runs: ReadonlyMap<string, RunResult>;
  readonly zones: readonly ZoneResult[];
  readonly totalFlowLph: number;
  readonly outletCount: number;
  readonly lowestKpa: number;
  readonly highestKpa: number;
  readonly meanFlowLph: number;
  /** Over flow as a share of each outlet's rated flow, so that mixed emitters compare; null without outlets. */
  readonly uniformity: Uniformity | null;
  readonly notices: readonly Notice[];
  readonly solution: Solution;
}
