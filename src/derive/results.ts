import type { Point } from '../base/point.ts';
import type { Network, Solution } from '../hydraulics/network.ts';
import type { Ref, TableName, Waiver } from '../plan/records.ts';

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
  /** Coefficient of variation of new outlets of its kind. */
  readonly cv: number;
  /** With a built-in check: pressure below which it lets nothing out, kPa; null without one. */
  readonly closingKpa: number | null;
  /**
   * Where the feeder or the emitter is tapped into the run or into another emitter's feeder, and the feeder's length on
   * the ground (0: none).
   */
  readonly tap: Point;
  readonly feederM: number;
  /** Further plants that it waters. */
  readonly alsoPlantIds?: readonly string[] | undefined;
  /** The emitter sits at `tap` and its feeder is open at `at`. */
  readonly onRun?: boolean | undefined;
  /** The emitter at the end of whose feeder this one's starts. */
  readonly fromEmitterId?: string | undefined;
}

/** A piece of pipe between two joints or outlets, for velocity and direction of flow. */
export interface PlacedPiece {
  readonly owner: Ref<'runs' | 'laterals' | 'emitters' | 'controls' | 'supplies' | 'checkValves'>;
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

/** What lies between the street and a valve: what was measured there, or a device whose loss is computed. */
export type SupplyPart = 'measured curve' | 'meter' | 'service pipe' | 'backflow preventer' | 'zone valve';

/** A supply in the network: its node, and the last link before it (-1: none), which all its water passes. */
export interface PlacedSupply {
  readonly id: string;
  readonly node: number;
  readonly link: number;
  /** Node whose head is held at the static pressure; -1 while that is not known. */
  readonly source: number;
  /** Pressure with no flow, kPa; null while not known. */
  readonly staticKpa: number | null;
  /** Links from the source to the valve's outlet, in the direction of flow. */
  readonly chain: readonly { readonly part: SupplyPart; readonly link: number }[];
  /** Parts whose loss is left out, since they were not surveyed. */
  readonly leftOut: readonly SupplyPart[];
  /** False while no pressure is known here: then nothing behind it can be computed. */
  readonly hasPressure: boolean;
}

/** An openable end of a run in the network. */
export interface PlacedFlushEnd {
  readonly id: string;
  readonly runId: string;
  readonly end: 'start' | 'end';
  readonly node: number;
  /** The piece of tubing that ends there. */
  readonly link: number;
  readonly at: Point;
}

/** A check valve in the network. */
export interface PlacedCheckValve {
  readonly id: string;
  readonly runId: string;
  readonly link: number;
}

/** What of the plan each part of the network stands for. */
export interface NetworkParts {
  readonly controls: readonly PlacedControl[];
  readonly supplies: readonly PlacedSupply[];
  readonly checkValves: readonly PlacedCheckValve[];
  readonly flushEnds: readonly PlacedFlushEnd[];
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

/** One change of records as plain data, so that it can come from another thread and be shown before it is made. */
export type RecordChange =
  | {
      readonly kind: 'set';
      readonly table: TableName;
      readonly ids: readonly string[];
      /** Fields to be replaced; `undefined` is not among them. */
      readonly fields: Readonly<Record<string, unknown>>;
    }
  /** Without an id: it gets a fresh one. */
  | { readonly kind: 'add'; readonly table: TableName; readonly record: Readonly<Record<string, unknown>> }
  | { readonly kind: 'remove'; readonly refs: readonly Ref[] }
  | {
      readonly kind: 'part';
      readonly part: 'site' | 'water' | 'controller' | 'soil' | 'climate' | 'practice';
      readonly fields: Readonly<Record<string, unknown>>;
    };

/** A way out that the person can take with one press (`fixEdit` in checks/fix.ts makes the edit). */
export interface Fix {
  /** What the button says, e.g. `Set flush ends`. */
  readonly label: string;
  readonly changes: readonly RecordChange[];
}

/** Something that the person should see, with the records concerned. */
export interface Notice {
  readonly rule: string;
  readonly severity: 'error' | 'warning' | 'info';
  readonly message: string;
  readonly refs: readonly Ref[];
  /** Places that no record stands for, e.g. a high point on a row; shown with the records. */
  readonly places?: readonly Point[];
  /** Source of the limit, where there is one. */
  readonly source?: string;
  readonly fix?: Fix;
  /** Why the finding is accepted as it is, and by whom. */
  readonly waived?: Pick<Waiver, 'reason' | 'by'>;
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
  /** Pressure where water enters the run, and the lowest on it or at its outlets, kPa; NaN when apart or without water. */
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
  /** Pressure between filter and regulator, kPa; null for a supply without a control set. */
  readonly filteredKpa: number | null;
}

/** What a supply gives, and what is lost before its valve's outlet. */
export interface SupplyResult {
  readonly id: string;
  readonly flowLph: number;
  /** With no flow, and now at the outlet of the valve, kPa; null and NaN while no pressure is known. */
  readonly staticKpa: number | null;
  readonly outletKpa: number;
  readonly losses: readonly { readonly part: SupplyPart; readonly lossKpa: number }[];
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
  readonly counts: Readonly<Record<OutletState, number>>;
  /** Index into `outlets` of the lowest and the highest pressure; null where none has any. */
  readonly lowestOutlet: number | null;
  readonly highestOutlet: number | null;
  /**
   * Over flow as a share of each outlet's rated flow, so that mixed emitters compare. Outlets that are dry or apart
   * count with no flow. Null where nothing flows.
   */
  readonly uniformity: Uniformity | null;
  /**
   * Design emission uniformity after Keller and Karmeli, with manufacturing variation and emitters per plant, and
   * statistical uniformity with the same; percent. Null where nothing flows.
   */
  readonly eu: number | null;
  readonly us: number | null;
  readonly supplies: readonly SupplyResult[];
  readonly notices: readonly Notice[];
  readonly solution: Solution;
}
