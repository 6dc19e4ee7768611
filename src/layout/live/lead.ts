import { boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { HALF_INCH_LIMIT } from '../../catalog/index.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Area, Fill, Plan, Run } from '../../plan/records.ts';
import { WayFinder } from '../points/grid.ts';
import { GROUND, lengthOn, openGround, type GroundKind } from '../points/open-ground.ts';
import { joinRows } from '../points/tree.ts';
import type { NewRun } from '../rows/index.ts';

/** Where a lead begins: a control set, or the head that is to be the tie-in while there is none. */
export interface Water {
  readonly table: 'controls' | 'heads';
  readonly id: string;
  /** For people. */
  readonly name: string;
  readonly at: Point;
}

/** Blank runs that lead water to the starts of a fill. */
export interface Leads {
  readonly runs: readonly NewRun[];
  readonly water: Water | null;
  /** Under paving or through what is blocked, in plan, metres: there it needs a sleeve. */
  readonly sleeveM: number;
  /** Starts that are further away than a lead is drawn. */
  readonly tooFar: number;
}

/** A lead is drawn up to this length in plan, metres: so far half-inch tubing carries a zone (`HALF_INCH_LIMIT`). */
export const LEAD_REACH_M = HALF_INCH_LIMIT.lengthM;
/** Room about everything in which ways round are looked for, metres. */
const MARGIN_M = 3;

export const NO_LEADS: Leads = { runs: [], water: null, sleeveM: 0, tooFar: 0 };

/** The control set nearest to any of some places; while there is none, the tie-in; `null` without either. */
export function waterNear(plan: Plan, places: readonly Point[]): Water | null {
  const controls = [...plan.controls].map(({ id, name, at }): Water => ({
    table: 'controls',
    id,
    name: name.trim() || id,
    at,
  }));
  const all = controls.length
    ? controls
    : [...plan.heads]
        .filter(({ fate }) => fate === 'tie-in')
        .map(({ id, at }): Water => ({ table: 'heads', id, name: id, at }));
  let best: Water | null = null;
  let least = Infinity;
  for (const one of all) {
    for (const place of places) {
      const far = distance(one.at, place);
      if (far < least) [best, least] = [one, far];
    }
  }
  return best;
}

/**
 * Blank tubing from the nearest control set (or tie-in) to each start of a fill, the shortest way round paving,
 * buildings and holes of beds; it may begin on tubing that the control set feeds already. Nothing where the fill starts
 * at the water. Starts out of reach are counted.
 * @param others blank runs of the plan that may be used on the way
 */
export function leadsTo(
  plan: Plan,
  laid: { readonly runs: readonly Pick<NewRun, 'path' | 'inline'>[]; readonly starts: readonly Point[] },
  tubing: string,
  others: readonly Run[],
): Leads {
  const water = waterNear(plan, laid.starts);
  if (!water) return NO_LEADS;
  let { starts } = laid;
  if (laid.runs.some(({ path }) => isOn(path, water.at))) {
    // It stands on the fill: the part that starts there has its water.
    const own = nearestOf(starts, water.at);
    starts = starts.filter((start) => start !== own);
  }
  const there = fedBy(water.at, others);
  const isFed = (start: Point): boolean => there.some(({ path }) => isOn(path, start));
  const reached = starts.filter((start) => distance(water.at, start) <= LEAD_REACH_M && !isFed(start));
  let tooFar = starts.filter((start) => distance(water.at, start) > LEAD_REACH_M && !isFed(start)).length;
  if (reached.length === 0) return { ...NO_LEADS, water, tooFar };

  const near = areasNear(plan, [water.at, ...reached]);
  const ways = openGround(Table.of(withFullBedsPaved(plan, near)));
  const finder = () => {
    const box = boxOf([
      water.at,
      ...laid.runs.flatMap(({ path }) => path),
      ...near.flatMap(({ use, outline }) => (use === 'lawn' ? [] : outline)),
    ]);
    return new WayFinder(ways, grown(box!, MARGIN_M));
  };
  const entries = reached.map((start) => entryOf(laid.runs, start, water.at));
  const rows = entries.map((at) => ({ a: at, b: at, serves: [] }));
  const existing = there.map(({ path }) => path);
  const paths = joinRows(rows, water.at, existing, ways, finder, () => false).filter((path) => {
    const isNear = pathLength(path) <= LEAD_REACH_M;
    if (!isNear) tooFar += 1;
    return isNear;
  });
  // A start closer to the water than a fitting is long gets no way of its own: the tubing begins there.
  for (const at of entries) {
    if (distance(at, water.at) <= FITTING_M && !paths.some((path) => isOn(path, at)))
      paths.push([water.at, at]);
  }
  const names = namesFor(plan, paths.length);
  return {
    runs: paths.map((path, i): NewRun => ({ name: names[i]!, path, tubing, inline: null })),
    water,
    sleeveM: sleeveOf(near, paths),
    tooFar,
  };
}

/** Joints on a header nearer than this are one, metres. */
const FITTING_M = 0.05;

/**
 * Where water enters a part of a fill: on its supply header the place nearest to the water, so that a lead neither passes
 * along the header nor crosses it; the start itself where that is on no header.
 */
export function entryOf(runs: readonly Pick<NewRun, 'path' | 'inline'>[], start: Point, water: Point): Point {
  const header = runs.find(({ inline, path }) => inline === null && path[0] === start);
  if (!header) return start;
  const at = nearestOnPath(header.path, water).point;
  const corner = nearestOf(header.path, at)!;
  return distance(corner, at) <= FITTING_M ? corner : at;
}

/**
 * Blank runs that a fill's lead may begin on: those that the person drew, and the leads of fills before it, so that no
 * two fills hang on each other.
 */
export function feedingRuns(plan: Plan, fillId: string | null): readonly Run[] {
  const out = new Set<string>();
  let isBefore = true;
  for (const fill of plan.fills) {
    if (fill.id === fillId) isBefore = false;
    const leads = isBefore ? fill.leadIds : undefined;
    for (const id of fill.runIds) if (!leads?.includes(id)) out.add(id);
  }
  return [...plan.runs].filter(({ id, inline, path }) => inline === null && path.length > 1 && !out.has(id));
}

/** The runs that hang together with a place, joint by joint. */
function fedBy(at: Point, runs: readonly Run[]): readonly Run[] {
  const fed: Run[] = [];
  let open = runs.map((run) => ({ run, box: grown(boxOf(run.path)!, JOINT_TOLERANCE_M) }));
  const joints: Path[] = [[at]];
  for (let next = joints.pop(); next; next = joints.pop()) {
    const from = next;
    const box = boxOf(from)!;
    const isJoined = (one: (typeof open)[number]): boolean =>
      meet(one.box, box) &&
      (from.some((p) => isOn(one.run.path, p)) ||
        (from.length > 1 && one.run.path.some((p) => isOn(from, p))));
    const [joined, apart] = [open.filter(isJoined), open.filter((one) => !isJoined(one))];
    open = apart;
    for (const { run } of joined) {
      fed.push(run);
      joints.push(run.path);
    }
  }
  return fed;
}

/** Areas that lie about the way between some places. */
function areasNear(plan: Plan, places: readonly Point[]): readonly Area[] {
  const way = grown(boxOf(places)!, MARGIN_M);
  return [...plan.areas].filter(({ outline }) => {
    const box = boxOf(outline);
    return box !== null && meet(box, way);
  });
}

/** Areas, with beds that are full of rows as if they were paved: a lead goes round them where it can. */
function withFullBedsPaved(plan: Plan, areas: readonly Area[]): readonly Area[] {
  const full = new Set(
    [...plan.fills].flatMap((fill) =>
      fill.kind === 'bed' && fill.runIds.some((id) => plan.runs.has(id)) ? [fill.areaId] : [],
    ),
  );
  return areas.map((area) =>
    area.use === 'bed' && full.has(area.id) ? { ...area, use: 'paving' as const } : area,
  );
}

/** Length of paths under paving and through what is blocked, in plan, metres. */
function sleeveOf(areas: readonly Area[], paths: readonly Path[]): number {
  const isHard = areas.some(({ use, holes }) => use === 'paving' || use === 'building' || holes.length > 0);
  if (!isHard) return 0;
  const ground = openGround(Table.of(areas));
  const on = (kind: GroundKind): number => paths.reduce((sum, path) => sum + lengthOn(ground, path, kind), 0);
  return on(GROUND.paving) + on(GROUND.blocked);
}

function namesFor(plan: Plan, count: number): readonly string[] {
  const taken = new Set([...plan.runs].map(({ name }) => name));
  const names: string[] = [];
  for (let number = 1; names.length < count; number++) {
    const name = `Supply line ${number}`;
    if (!taken.has(name)) names.push(name);
  }
  return names;
}

export const isOn = (path: Path, p: Point): boolean =>
  path.length > 0 && nearestOnPath(path, p).distance <= JOINT_TOLERANCE_M;

export function nearestOf(places: readonly Point[], p: Point): Point | null {
  let best: Point | null = null;
  for (const place of places) if (!best || distance(place, p) < distance(best, p)) best = place;
  return best;
}

export const grown = ({ minX, minY, maxX, maxY }: Box, by: number): Box => ({
  minX: minX - by,
  minY: minY - by,
  maxX: maxX + by,
  maxY: maxY + by,
});

export const meet = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

/** The runs of a fill that are there, in the order in which they were laid. */
export function runsOf(plan: Plan, fill: Pick<Fill, 'runIds'>): readonly Run[] {
  return fill.runIds.flatMap((id) => plan.runs.get(id) ?? []);
}
