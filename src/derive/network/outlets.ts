import { between, type Point } from '../../base/point.ts';
import { FEEDER, outletLawById, outletLawsFor, type OutletLaw } from '../../catalog/index.ts';
import type { OutletChoice, Plan, Run } from '../../plan/records.ts';
import { readAcross, type Ground } from '../ground/index.ts';
import type { PlacedOutlet } from '../results.ts';
import type { Line } from './lines.ts';
import { nearestOnLine } from './nearest.ts';
import { called, type Notices } from './notices.ts';
import { ON_TUBING_M } from '../../plan/joining.ts';

/** An outlet on its line, before it has a node. */
export interface LineOutlet {
  readonly owner: PlacedOutlet['owner'];
  /** Where it is tapped into the line: distance in plan, and place. */
  readonly along: number;
  readonly tap: Point;
  readonly at: Point;
  readonly plantId: string | null;
  readonly law: OutletLaw;
  readonly ratedFlowLph: number;
  /** Length of the feeder on the ground; 0 where the outlet sits on the tubing. */
  readonly feederM: number;
}

/** More built-in emitters than this are not placed: the spacing is a slip of the keys. */
export const MOST_OUTLETS = 200_000;

/** Outlets of each line, in the order of its path; lines without any have none. Runs that are no line give `lost`. */
export function outletsOf(
  plan: Pick<Plan, 'runs' | 'emitters' | 'water'>,
  lines: readonly Line[],
  ground: Ground,
  notices: Notices,
): {
  readonly byLine: readonly LineOutlet[][];
  readonly lost: readonly LineOutlet[];
  readonly lostRun: readonly string[];
} {
  const lineOfRun = new Map<string, number>();
  lines.forEach((line, i) => {
    if (line.isRun) lineOfRun.set(line.owner.id, i);
  });
  const byLine = lines.map((): LineOutlet[] => []);
  const mixed = new Set<LineOutlet[]>();
  const laws = new LawBook(notices);
  let room = MOST_OUTLETS;
  for (const run of plan.runs) {
    const index = lineOfRun.get(run.id);
    if (index === undefined || !run.inline) continue;
    const placed = inlineOutlets(run, lines[index]!, laws, room, notices);
    room -= placed.length;
    byLine[index] = placed;
  }
  const lost: LineOutlet[] = [];
  const lostRun: string[] = [];
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
    const law = laws.find(emitter, 'point', owner, () => `emitter ${called(emitter)}`);
    const ratedFlowLph = laws.flow(emitter, law, owner);
    const { at, plantId } = emitter;
    if (index === undefined) {
      notices.add(
        'emitter-without-run',
        'error',
        `Emitter ${called(emitter)} hangs on a run that is not on the plan: draw it again on a run.`,
        owner,
      );
      lost.push({ owner, along: 0, tap: at, at, plantId, law, ratedFlowLph, feederM: 0 });
      lostRun.push(emitter.runId);
      continue;
    }
    const nearest = nearestOnLine(lines[index]!, emitter.at);
    const isOff = nearest.distanceM > ON_TUBING_M;
    mixed.add(byLine[index]!);
    byLine[index]!.push({
      owner,
      along: nearest.along,
      tap: nearest.point,
      at,
      plantId,
      law,
      ratedFlowLph,
      feederM: isOff ? ground.surfaceLength([nearest.point, at]) : 0,
    });
  }
  // Built-in emitters are in order already.
  for (const list of mixed) list.sort((a, b) => a.along - b.along || compareOwners(a, b));
  return { byLine, lost, lostRun };
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
