import type { Path, Point, Ring } from '../base/point.ts';
import type { Table } from '../base/table.ts';

/** What each record of a plan means. Facts only: nothing here is computed from something else here. */

/** Names and notes for the title block. */
export interface Site {
  readonly name: string;
  readonly client: string;
  readonly address: string;
  readonly drawnBy: string;
  readonly date: string;
  readonly notes: string;
  /** Direction of north on the plan, degrees clockwise from straight up. */
  readonly northDeg: number;
  /** Height between contour lines on drawing and sheets, metres; `null` draws none. */
  readonly contourM: number | null;
}

/** A line measured on the ground and marked on the photo; pixels from the photo's upper left corner, y down. */
export interface PhotoMeasure {
  readonly a: Point;
  readonly b: Point;
  readonly lengthM: number;
  /** `fit` lines set the scale, the `check` line only tests it. */
  readonly role: 'fit' | 'check';
}

/**
 * How a picture taken at a slant was laid flat: four marks on the picture as taken, in order round a four-sided figure
 * on the ground, and what was measured between them. A rectangle has equal opposite sides and no diagonal.
 */
export interface Rectification {
  /** The picture as taken; it may be missing where the plan came from a file. */
  readonly source: { readonly pictureId: string; readonly widthPx: number; readonly heightPx: number };
  /** Pixels of that picture from its upper left corner, y down. */
  readonly marks: readonly [Point, Point, Point, Point];
  /** From mark 1 to 2, 2 to 3, 3 to 4, 4 to 1, metres. */
  readonly sidesM: readonly [number, number, number, number];
  /** From mark 1 to 3 and 2 to 4, metres; `null` is not measured. None measured: a rectangle. */
  readonly diagonalsM: readonly [number | null, number | null];
}

/** The picture under the plan. The picture's bytes are kept apart, by `pictureId`. */
export interface SitePhoto {
  readonly pictureId: string;
  readonly name: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where the photo's upper left corner lies on the plan. */
  readonly corner: Point;
  /** Counter-clockwise turn of the photo about its corner, degrees. */
  readonly turnDeg: number;
  /** Width on the ground that is assumed until measures fix the scale, metres. */
  readonly assumedWidthM: number;
  readonly measures: readonly PhotoMeasure[];
  /** 0 (invisible) to 1 (full strength). */
  readonly strength: number;
  /** Set where the picture was laid flat; `pictureId` is then the flat one. */
  readonly rectification: Rectification | null;
}

/** A `building` stands up: spray that reaches it wets its wall. Walls and fences are narrow ones. */
export type AreaUse = 'bed' | 'paving' | 'lawn' | 'building';
export interface Area {
  readonly id: string;
  readonly use: AreaUse;
  readonly name: string;
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** A spot height, metres above the plan's datum. */
export interface Level {
  readonly id: string;
  readonly at: Point;
  readonly zM: number;
}

/** How far the ground falls between two places, as measured: a difference of height, or a slope along the way. */
export interface Fall {
  readonly id: string;
  readonly from: Point;
  readonly to: Point;
  /** `from` is higher than `to` by this: metres, or percent of the distance in plan; negative is a rise. */
  readonly by:
    { readonly kind: 'drop'; readonly dropM: number } | { readonly kind: 'slope'; readonly percent: number };
}

export type PlantClass = 'tree' | 'shrub' | 'perennial' | 'groundcover';
export type WaterUse = 'high' | 'moderate' | 'low' | 'very low';
export interface Plant {
  readonly id: string;
  readonly at: Point;
  /** Species or kind, as typed. */
  readonly name: string;
  readonly plantClass: PlantClass;
  /** Canopy diameters, metres; `null` is not measured. */
  readonly canopyNowM: number | null;
  readonly canopyMatureM: number;
  readonly rootBallM: number | null;
  readonly waterUse: WaterUse | null;
}

/** One line of the plant list: a kind of plant, how it is drawn when placed, and how many are planned. */
export interface PlantKind {
  readonly name: string;
  readonly plantClass: PlantClass;
  readonly canopyNowM: number | null;
  readonly canopyMatureM: number;
  readonly rootBallM: number | null;
  readonly waterUse: WaterUse | null;
  /** How many there are on the site by the list; `null` is not counted. */
  readonly count: number | null;
}

/** What is known of the planting besides the plants that have a place; kinds are told apart by name and class. */
export interface Planting {
  readonly kinds: readonly PlantKind[];
}

/** How a flow was measured. */
export type FlowMethod = 'gauge' | 'bucket' | 'meter';

/** A pressure measured while water flows. */
export interface WorkingPoint {
  readonly pressureKpa: number;
  readonly flowLph: number;
  /** How the flow was measured, where that is noted. */
  readonly how?: FlowMethod | undefined;
}

/** Where a pressure of the service was read: before everything past the meter, or at the zone's valve. */
export type MeasuredAt = 'meter' | 'valve';

/** The water service up to the valves; `null` is not measured. */
export interface WaterService {
  readonly staticKpa: number | null;
  /** Lowest static reading of the day or the year, kPa. */
  readonly lowStaticKpa: number | null;
  readonly workingPoints: readonly WorkingPoint[];
  /** Where the static pressures and the working points were taken; `null` counts as at the valve. */
  readonly measuredAt: MeasuredAt | null;
  /** Temperature of the water, degrees C. */
  readonly waterC: number | null;
  readonly meterSize: string | null;
  readonly serviceSize: string | null;
  readonly serviceMaterial: string | null;
  readonly serviceLengthM: number | null;
  readonly backflowType: string | null;
  readonly backflowSize: string | null;
  /** Height of the backflow preventer above the plan's datum, metres. */
  readonly backflowZM: number | null;
  readonly recycledWater: boolean | null;
  readonly flowSensor: boolean | null;
  readonly masterValve: string | null;
}

/** What the irrigation controller can do; `null` is not known. */
export interface Controller {
  /** Longest run of one station at one start, minutes. */
  readonly longestRunMin: number | null;
  readonly startsPerDay: number | null;
  /** Longest interval between watering days, days. */
  readonly longestIntervalDays: number | null;
  readonly freeStations: number | null;
  /** Hours of the night in which watering is allowed, minutes after midnight; it may pass midnight. */
  readonly nightWindow: { readonly fromMin: number; readonly toMin: number } | null;
}

/** How one station is watered, as it is set or meant to be set at the controller. */
export interface Watering {
  readonly minutesPerStart: number;
  readonly startsPerDay: number;
  /** Days from one watering day to the next; 1 is every day. */
  readonly intervalDays: number;
}

/** Where a zone's water starts on the plan: its valve. */
export interface Supply {
  readonly id: string;
  readonly name: string;
  readonly at: Point;
  /** Height typed for this point, metres; `null` takes it from the ground. */
  readonly zM: number | null;
  /** Pressure here with no flow, kPa; `null` takes the water service's static pressure. */
  readonly pressureKpa: number | null;
  readonly valveSize: string | null;
  readonly valveType: string | null;
  readonly minFlowLph: number | null;
  readonly maxFlowLph: number | null;
  /** Flow of the zone with its spray heads running, as measured, and how. */
  readonly runningFlowLph: number | null;
  readonly runningFlowHow: FlowMethod | null;
  /** How the new drip zone is to be watered; `null` is not set yet. */
  readonly watering: Watering | null;
  readonly zone: string | null;
}

export type HeadFate = 'undecided' | 'tie-in' | 'cap' | 'cut off' | 'keep';
/** Ground that a head wets: a sector (degrees counter-clockwise from east) or a strip along its own direction. */
export type HeadPattern =
  | {
      readonly kind: 'sector';
      readonly radiusM: number;
      readonly startDeg: number;
      readonly sweepDeg: number;
    }
  | {
      readonly kind: 'strip';
      readonly lengthM: number;
      readonly widthM: number;
      readonly directionDeg: number | null;
    };

/** An existing spray outlet. */
export interface Head {
  readonly id: string;
  readonly at: Point;
  /** Flow at `pressureKpa` where that is known, else at the pressure of the survey. */
  readonly flowLph: number | null;
  readonly pressureKpa: number | null;
  readonly pattern: HeadPattern | null;
  /** Body as found, e.g. `4 in pop-up`, and the thread of its inlet, e.g. `1/2 in female`. */
  readonly body: string | null;
  readonly thread: string | null;
  /** Whether plants or things stand in its spray. */
  readonly blocked: boolean | null;
  readonly waters: 'bed' | 'lawn';
  readonly fate: HeadFate;
  readonly zone: string | null;
  readonly note: string;
}

/**
 * What becomes of a piece of the old lateral: it carries the drip's water, stays joined and holds water that does not
 * move, or is cut off.
 */
export type LateralFate = 'undecided' | 'live' | 'dead' | 'cut off';

/** A straight piece of existing buried pipe. */
export interface LateralPipe {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly a: Point;
  readonly b: Point;
  /** Nominal size as written on the pipe, e.g. `3/4`. */
  readonly size: string | null;
  readonly material: string | null;
  /** Depth of the pipe below the ground, metres. */
  readonly depthM: number | null;
  readonly measured: boolean;
  readonly fate: LateralFate;
  readonly zone: string | null;
}

/** Filter and pressure regulator at one place. Ids name catalog entries. */
export interface ControlSet {
  readonly id: string;
  readonly name: string;
  readonly at: Point;
  readonly filter: string;
  readonly regulator: string;
  /** Set pressure, kPa. */
  readonly setKpa: number;
  /** True where water passes the regulator before the filter; the usual order is the other way round. */
  readonly regulatorFirst?: boolean | undefined;
}

/** How an outlet is made: a catalog law by id with its rated flow. */
export interface OutletChoice {
  readonly law: string;
  readonly ratedFlowLph: number;
}

/** Built-in emitters of a run of dripline. */
export interface InlineEmitters extends OutletChoice {
  readonly spacingM: number;
  /** Distance of the first emitter from the run's start, metres. */
  readonly firstM: number;
}

/** A drawn piece of drip tubing; blank where `inline` is null. */
export interface Run {
  readonly id: string;
  readonly name: string;
  readonly path: Path;
  /** Catalog id of the tubing. */
  readonly tubing: string;
  readonly inline: InlineEmitters | null;
}

/**
 * A point emitter, fed by a blank run; a feeder bridges the way from the run when it sits off the tubing. What is rare
 * is left out of the record.
 */
export interface PointEmitter extends OutletChoice {
  readonly id: string;
  readonly runId: string;
  readonly at: Point;
  readonly plantId: string | null;
  /** Further plants that it waters. */
  readonly alsoPlantIds?: readonly string[] | undefined;
  /** The emitter sits on the run and its feeder leads the drops to `at`; else it sits at the feeder's end. */
  readonly onRun?: boolean | undefined;
  /** Another emitter of the same run, from whose place its feeder starts in place of the run. */
  readonly fromEmitterId?: string | undefined;
}

/** An openable end of a run, through which it is rinsed and drained. */
export interface FlushEnd {
  readonly id: string;
  readonly runId: string;
  readonly end: 'start' | 'end';
}

/**
 * A check valve in a run: lets water pass in the direction of the run's path only. It sits on the run at the place
 * nearest to `at`.
 */
export interface CheckValve {
  readonly id: string;
  readonly runId: string;
  readonly at: Point;
  /** Pressure difference that opens it, kPa. */
  readonly openKpa: number;
}

/** A part set into a run: it lets air in and out at a high place, or water out at a low one. */
export type LinePartKind = 'air relief' | 'drain';

/** It sits on the run at the place nearest to `at`. */
export interface LinePart {
  readonly id: string;
  readonly kind: LinePartKind;
  readonly runId: string;
  readonly at: Point;
}

/** Along the contour, along the bed's long edge, or a direction in degrees counter-clockwise from east. */
export type RowDirection = 'contour' | 'long edge' | number;
export type HeaderKind = 'both ends' | 'serpentine' | 'none';
/** Straight rows; rows that follow the contour lines of curved ground; rings along the edge of a narrow bed. */
export type FillPattern = 'straight' | 'curved' | 'loops';

/** How a bed is to be filled with rows of dripline. */
export interface FillChoices {
  readonly pattern: FillPattern;
  /** Between rows, on the ground, metres. */
  readonly rowSpacingM: number;
  /** Between emitters along a row, on the ground, metres. */
  readonly emitterSpacingM: number;
  readonly ratedFlowLph: number;
  /** Catalog ids of outlet law, dripline, and blank tubing of the headers. */
  readonly law: string;
  readonly tubing: string;
  readonly headerTubing: string;
  /** From the edge of the bed and of what is left out, in plan, metres. */
  readonly edgeM: number;
  readonly direction: RowDirection;
  /** Emitters of every other row half a spacing on, so that they form triangles. */
  readonly stagger: boolean;
  /** Row spacing in the lowest third over that above it; 1 makes no difference. */
  readonly lowerThirdFactor: number;
  /** Ids of further areas to be left out; paving, buildings and lawns always are. */
  readonly leaveOut: readonly string[];
  readonly headers: HeaderKind;
  /** Spreads the rows evenly over the whole width, in place of the spacing as asked with the rest at the edges. */
  readonly equalise: boolean;
}

/** How a tree is to be ringed with dripline. */
export interface RingChoices {
  readonly form: 'rings' | 'spiral';
  /** Out to the edge of which canopy. */
  readonly canopy: 'now' | 'mature';
  /** Between rings or turns, metres; `null`: at a third, two thirds and the whole of the canopy's radius. */
  readonly ringSpacingM: number | null;
  /** No dripline nearer to the stem, metres. */
  readonly trunkClearM: number;
  readonly emitterSpacingM: number;
  readonly ratedFlowLph: number;
  readonly law: string;
  readonly tubing: string;
  /** Catalog id of the blank tubing that leads from ring to ring. */
  readonly headerTubing: string;
  /** Rows that follow their bed keep out of the ground of these rings. */
  readonly clearRows?: boolean | undefined;
}

interface FillBase {
  readonly id: string;
  /** Runs that were drawn for it; they are drawn anew when what they were drawn for or the choices change. */
  readonly runIds: readonly string[];
  /** Some of its runs were changed by hand: nothing is drawn anew until the person asks for it. */
  readonly byHand: boolean;
  /**
   * Those of its runs that lead water to it from the nearest control set or tie-in; none where it starts there. Left out
   * where the person leads the water himself.
   */
  readonly leadIds?: readonly string[] | undefined;
  /** Control set from which water is led to it; left out, or where there is no such set, the nearest. */
  readonly leadFrom?: string | undefined;
}
/** Remembers how runs came about, so that they can follow their bed or tree. */
export type Fill =
  | (FillBase & { readonly kind: 'bed'; readonly areaId: string; readonly choices: FillChoices })
  | (FillBase & { readonly kind: 'tree'; readonly plantId: string; readonly choices: RingChoices });

/** How tubing is held on fittings; what the pressure may be depends on it. */
export type FittingFamily = 'barb' | 'clamped barb' | 'press-in' | 'lock' | 'compression';

/** Ways of building that hold for the whole plan; `null` takes what is usual. */
export interface Practice {
  readonly fittings: FittingFamily | null;
  /** Length that feeders are cut longer than the straight way, percent. */
  readonly feederSlackPercent: number | null;
}

/** Why a finding of a check is accepted as it is. */
export interface Waiver {
  /** The rule that speaks. */
  readonly rule: string;
  /** Records for which it holds; none: wherever the rule speaks. */
  readonly refs: readonly Ref[];
  readonly reason: string;
  /** Who decided so. */
  readonly by: string;
}

/** What this plan changes of the design checks. */
export interface CheckSettings {
  /** Limits by key that are not the usual ones, in inside units. */
  readonly limits: Readonly<Record<string, number>>;
  readonly waivers: readonly Waiver[];
}

/** What lies on the soil. */
export type SoilCover = 'bare' | 'mulch' | 'gravel' | 'fabric' | 'netting' | 'plants';

/** Soil and climate as surveyed; `null` is not measured. */
export interface Soil {
  readonly texture: string | null;
  /** Length of the ribbon that moist soil gives between thumb and finger, metres; 0 is none. */
  readonly ribbonM: number | null;
  readonly sandPercent: number | null;
  readonly siltPercent: number | null;
  readonly clayPercent: number | null;
  /** Intake as measured on the site, mm/h; goes before any table. */
  readonly intakeMmPerH: number | null;
  /** Id of the intake table that is to be used where nothing is measured; `null` takes the usual one. */
  readonly intakeTable: string | null;
  readonly rootDepthM: number | null;
  readonly compacted: boolean | null;
  /** Cover in words, as surveyed. */
  readonly cover: string | null;
  readonly coverKind: SoilCover | null;
  readonly coverDepthM: number | null;
  /** What the landscape fabric lets through, mm/h, as measured; there is no published figure. */
  readonly fabricIntakeMmPerH: number | null;
}

export interface Climate {
  readonly lowestWinterC: number | null;
  readonly note: string;
}

/** The document: one site, all that is drawn and typed. */
export interface Plan {
  readonly site: Site;
  readonly photo: SitePhoto | null;
  readonly water: WaterService;
  readonly controller: Controller;
  readonly soil: Soil;
  readonly climate: Climate;
  readonly planting: Planting;
  readonly practice: Practice;
  readonly checks: CheckSettings;
  readonly areas: Table<Area>;
  readonly levels: Table<Level>;
  readonly falls: Table<Fall>;
  readonly plants: Table<Plant>;
  readonly supplies: Table<Supply>;
  readonly heads: Table<Head>;
  readonly laterals: Table<LateralPipe>;
  readonly controls: Table<ControlSet>;
  readonly runs: Table<Run>;
  readonly checkValves: Table<CheckValve>;
  readonly flushEnds: Table<FlushEnd>;
  readonly lineParts: Table<LinePart>;
  readonly emitters: Table<PointEmitter>;
  readonly fills: Table<Fill>;
}

/** Names of the plan's tables, in drawing order from below to above. */
export const TABLES = [
  'areas',
  'levels',
  'falls',
  'laterals',
  'heads',
  'plants',
  'runs',
  'checkValves',
  'flushEnds',
  'lineParts',
  'emitters',
  'controls',
  'supplies',
  'fills',
] as const;
export type TableName = (typeof TABLES)[number];

/** The record type held by a table. */
export type RecordOf<K extends TableName> = Plan[K] extends Table<infer T> ? T : never;

/** Names one record of a plan. */
export interface Ref<K extends TableName = TableName> {
  readonly table: K;
  readonly id: string;
}

/** A ref as text, for sets and keys. */
export function refKey(ref: Ref): string {
  return `${ref.table}/${ref.id}`;
}
