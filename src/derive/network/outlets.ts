import { between, type Point } from '../../base/point.ts';
import { FEEDER, outletLawById, outletLawsFor, type OutletLaw } from '../../catalog/index.ts';
import type { OutletChoice, Plan, PointEmitter, Run } from '../../plan/records.ts';
import { readAcross, type Ground } from '../ground/index.ts';
import type { PlacedOutlet } from '../results.ts';
import type { Line } from './lines.ts';
import { nearestOnLine } from './nearest.ts';
import { called, type Notices } from './notices.ts';
import { feederStarts, type BadStart } from './feeder-starts.ts';
import { ON_TUBING_M } from '../../plan/joining.ts';

/** An outlet on its line, before it has a node. */
export interface LineOutlet {
  readonly owner: PlacedOutlet['owner'];
  /** Where it is tapped into the line: distance in plan, and place. */
  readonly along: number;
  readonly tap: Point;
  readonly at: Point;
  readonly plantId: string | null;
  readonly alsoPlantIds?: readonly string[] | undefined;
  readonly law: OutletLaw;
  readonly ratedFlowLph: number;
  /** Length of the feeder on the ground; 0 where the outlet sits on the tubing. */
  readonly feederM: number;
  /** The emitter sits where the feeder starts; it changes nothing of pressure and flow (see `placeOutlet`). */
  readonly onRun?: boolean | undefined;
  /** The outlet at the end of whose feeder this one's starts, in place of the line. */
  readonly from?: LineOutlet | undefined;
  /** How many feeders the water passes before this one's own. */
  readonly depth?: number | undefined;
}

/** More built-in emitters than this are not placed: the spacing is a slip of the keys. */
export const MOST_OUTLETS = 200_000;

const NO_OUTLETS: readonly LineOutlet[] = [];

/*
 * What was placed before, by what it was placed from, so that all that stays while something is dragged need not be placed
 * anew: built-in emitters by their line (which stands for run and ground), point emitters by their record and line, and
 * those that hang on a feeder by themselves and the one where it starts. Only what gave no notice is kept.
 */
const builtIn = new WeakMap<Line, readonly LineOutlet[]>();
const tapped = new WeakMap<PointEmitter, { readonly line: Line; readonly outlet: LineOutlet }>();
const hungBefore = new WeakMap<LineOutlet, { readonly start: LineOutlet; readonly hung: LineOutlet }>();

/** Outlets of each line, in the order of its path; lines without any have none. Runs that are no line give `lost`. */
export function outletsOf(
  plan: Pick<Plan, 'runs' | 'emitters' | 'water'>,
  lines: readonly Line[],
  ground: Ground,
  notices: Notices,
): {
  readonly byLine: readonly (readonly LineOutlet[])[];
  readonly lost: readonly LineOutlet[];
  readonly lostRun: readonly string[];
} {
  const lineOfRun = new Map<string, number>();
  lines.forEach((line, i) => {
    if (line.isRun) lineOfRun.set(line.owner.id, i);
  });
  const byLine = lines.map((): readonly LineOutlet[] => NO_OUTLETS);
  /** Lists of lines with point emitters: their own, so that those of built-in emitters stay as they are. */
  const mixed = new Map<number, LineOutlet[]>();
  const listOf = (index: number): LineOutlet[] => {
    let list = mixed.get(index);
    if (!list) {
      list = byLine[index]!.slice();
      mixed.set(index, list);
      byLine[index] = list;
    }
    return list;
  };
  const laws = new LawBook(notices);
  let room = MOST_OUTLETS;
  for (const run of plan.runs) {
    const index = lineOfRun.get(run.id);
    if (index === undefined || !run.inline) continue;
    const line = lines[index]!;
    let placed = builtIn.get(line);
    if (!placed || placed.length > room) {
      const told = notices.count;
      placed = inlineOutlets(run, line, laws, room, notices);
      if (notices.count === told) builtIn.set(line, placed);
    }
    room -= placed.length;
    byLine[index] = placed;
  }
  const lost: LineOutlet[] = [];
  const lostRun: string[] = [];
  const starts = feederStarts(plan.emitters, (emitter, startId, why) => {
    const owner = { table: 'emitters', id: emitter.id } as const;
    notices.add('feeder-start', 'warning', badStart(emitter, startId, why), owner);
  });
  const onFeeders: { readonly emitter: PointEmitter; readonly outlet: LineOutlet }[] = [];
  for (const emitter of plan.emitters) {
    const owner = { table: 'emitters', id: emitter.id } as const;
    if (!Number.isFinite(emitter.at[0]) || !Number.isFinite(emitter.at[1])) {
      notices.add(
        'emitter-without-place',
        'warning',
        `Emitter ${called(emitter)} has no place and is left out.`,
        owner,
      );
      continue;
    }
    const index = lineOfRun.get(emitter.runId);
    const line = index === undefined ? undefined : lines[index]!;
    const known = tapped.get(emitter);
    if (index !== undefined && known !== undefined && known.line === line) {
      if (starts.has(emitter.id)) onFeeders.push({ emitter, outlet: known.outlet });
      else listOf(index).push(known.outlet);
      continue;
    }
    const told = notices.count;
    const law = laws.find(emitter, 'point', owner, () => `emitter ${called(emitter)}`);
    const ratedFlowLph = laws.flow(emitter, law, owner);
    const { at, plantId, alsoPlantIds } = emitter;
    if (index === undefined || !line) {
      notices.add(
        'emitter-without-run',
        'error',
        `Emitter ${called(emitter)} hangs on a run that is not on the plan: draw it again on a run.`,
        owner,
      );
      lost.push({ owner, along: 0, tap: at, at, plantId, alsoPlantIds, law, ratedFlowLph, feederM: 0 });
      lostRun.push(emitter.runId);
      continue;
    }
    const nearest = nearestOnLine(line, emitter.at);
    const isOff = nearest.distanceM > ON_TUBING_M;
    const outlet: LineOutlet = {
      owner,
      along: nearest.along,
      tap: nearest.point,
      at,
      plantId,
      alsoPlantIds,
      law,
      ratedFlowLph,
      feederM: isOff ? ground.surfaceLength([nearest.point, at]) : 0,
      onRun: emitter.onRun,
      from: undefined,
      depth: undefined,
    };
    if (notices.count === told) tapped.set(emitter, { line, outlet });
    if (starts.has(emitter.id)) onFeeders.push({ emitter, outlet });
    else listOf(index).push(outlet);
  }
  for (const { outlet, line } of hungOnFeeders(onFeeders, starts, byLine, lineOfRun, ground))
    listOf(line).push(outlet);
  // Built-in emitters are in order already; a feeder comes after the one that it starts at.
  for (const list of mixed.values())
    list.sort((a, b) => a.along - b.along || (a.depth ?? 0) - (b.depth ?? 0) || compareOwners(a, b));
  return { byLine, lost, lostRun };
}

/** Emitters whose feeders start at another one's place, tapped into the run where that one's first feeder is. */
function hungOnFeeders(
  list: readonly { readonly emitter: PointEmitter; readonly outlet: LineOutlet }[],
  starts: ReadonlyMap<string, string>,
  byLine: readonly (readonly LineOutlet[])[],
  lineOfRun: ReadonlyMap<string, number>,
  ground: Ground,
): { readonly outlet: LineOutlet; readonly line: number }[] {
  if (list.length === 0) return [];
  const known = new Map<string, LineOutlet>();
  for (const { emitter } of list) {
    const line = byLine[lineOfRun.get(emitter.runId)!]!;
    for (const outlet of line) if (outlet.owner.table === 'emitters') known.set(outlet.owner.id, outlet);
  }
  const waiting = new Map(list.map((one) => [one.emitter.id, one]));
  const found: { outlet: LineOutlet; line: number }[] = [];
  for (const { emitter } of list) {
    // Up to one that has its place, then down again.
    const way: string[] = [];
    for (let id = emitter.id; !known.has(id); id = starts.get(id)!) way.push(id);
    for (const id of way.toReversed()) {
      const { outlet, emitter: own } = waiting.get(id)!;
      const start = known.get(starts.get(id)!)!;
      // One that sits on the tubing has no feeder of its own, so this one's starts at the tubing.
      const isOnTubing = start.feederM === 0 && start.from === undefined;
      const tap = isOnTubing ? start.tap : start.at;
      const isOff = Math.hypot(tap[0] - outlet.at[0], tap[1] - outlet.at[1]) > ON_TUBING_M;
      const before = hungBefore.get(outlet);
      const hung: LineOutlet =
        before?.start === start
          ? before.hung
          : {
              ...outlet,
              along: start.along,
              tap,
              feederM: isOff ? ground.surfaceLength([tap, outlet.at]) : 0,
              from: isOnTubing ? undefined : start,
              depth: (start.depth ?? 0) + 1,
            };
      hungBefore.set(outlet, { start, hung });
      known.set(id, hung);
      found.push({ outlet: hung, line: lineOfRun.get(own.runId)! });
    }
  }
  return found;
}

const WHY: Readonly<Record<BadStart, (startId: string) => string>> = {
  missing: (id) => `emitter "${id}", which is not on the plan`,
  ring: (id) => `emitter "${id}", but their feeders start at each other in a ring`,
  'other run': (id) => `emitter "${id}", which hangs on another run`,
  'open feeder': (id) => `emitter "${id}", which sits on the run: what is behind it holds no pressure`,
  'no place': (id) => `emitter "${id}", which has no place`,
};

function badStart(emitter: PointEmitter, startId: string, why: BadStart): string {
  return `The feeder of emitter ${called(emitter)} is to start at ${WHY[why](startId)}; it is led from the run. Choose where it starts again.`;
}

export const FEEDER_BORE_M = FEEDER.innerDiameterMm / 1000;

function compareOwners(a: LineOutlet, b: LineOutlet): number {
  return a.owner.id < b.owner.id ? -1 : a.owner.id > b.owner.id ? 1 : 0;
}

/** Built-in emitters at the first distance and then every spacing, measured on the ground. */
function inlineOutlets(run: Run, line: Line, laws: LawBook, room: number, notices: Notices): LineOutlet[] {
  const owner = { table: 'runs', id: run.id } as const;
  const inline = run.inline!;
  const { spacingM, firstM } = inline;
  if (!(spacingM > 0) || !(firstM >= 0)) {
    notices.add(
      'emitter-spacing',
      'error',
      `The emitter spacing of run ${called(run)} is not above zero, or its first distance is below zero: no emitter is placed. Type them again.`,
      owner,
    );
    return [];
  }
  const { profile, points, vertexAlong } = line;
  const length = profile.groundLengthM;
  const fitting = Math.floor((length - firstM) / spacingM + 1e-6) + 1;
  if (fitting > room) {
    notices.add(
      'too-many-emitters',
      'error',
      `Run ${called(run)} would have ${fitting} emitters; only ${room} more are placed. Check its spacing.`,
      owner,
    );
  }
  const law = laws.find(inline, 'inline', owner, () => `run ${called(run)}`);
  const ratedFlowLph = laws.flow(inline, law, owner);
  const placed: LineOutlet[] = [];
  let segment = 0;
  for (let k = 0; k < Math.min(fitting, room); k++) {
    const onGround = Math.min(length, firstM + k * spacingM);
    const along = readAcross(profile.groundAlong, profile.planAlong, onGround);
    while (segment + 2 < points.length && vertexAlong[segment + 1]! <= along) segment++;
    const start = vertexAlong[segment]!;
    const span = vertexAlong[segment + 1]! - start;
    const at = between(points[segment]!, points[segment + 1]!, Math.min(1, (along - start) / span));
    placed.push({ owner, along, tap: at, at, plantId: null, law, ratedFlowLph, feederM: 0 });
  }
  return placed;
}

/** Looks up outlet laws and flows, says once for each record what had to be replaced. */
class LawBook {
  constructor(private readonly notices: Notices) {}

  find(
    choice: OutletChoice,
    use: OutletLaw['use'],
    owner: PlacedOutlet['owner'],
    what: () => string,
  ): OutletLaw {
    const law = outletLawById(choice.law);
    if (law) return law;
    const standIn = outletLawsFor(use)[0]!;
    this.notices.add(
      'unknown-outlet-law',
      'warning',
      `The emitter kind "${choice.law}" of ${what()} is not in the catalog; "${standIn.name}" is taken. Choose its kind.`,
      owner,
    );
    return standIn;
  }

  flow(choice: OutletChoice, law: OutletLaw, owner: PlacedOutlet['owner']): number {
    if (choice.ratedFlowLph > 0 && Number.isFinite(choice.ratedFlowLph)) return choice.ratedFlowLph;
    this.notices.add(
      'outlet-flow',
      'warning',
      'An emitter has no rated flow; the least usual one of its kind is taken. Type its flow.',
      owner,
    );
    return law.flowsLph[0]!;
  }
}

/** Whether an outlet hangs on a feeder. */
export function hasFeeder(outlet: LineOutlet): boolean {
  return outlet.feederM > 0;
}
