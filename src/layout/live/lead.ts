import { boxOf, distance, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { HALF_INCH_LIMIT } from '../../catalog/index.ts';
import type { Area, Plan, Run } from '../../plan/records.ts';
import { WayFinder } from '../points/grid.ts';
import { GROUND, lengthOn, openGround, type GroundKind } from '../points/open-ground.ts';
import { joinRows } from '../points/tree.ts';
import type { NewRun } from '../rows/index.ts';
import { fedFrom } from './fed.ts';
import { grown, isOn, meet, nearestOf } from './places.ts';
import { crossingsOf, withFullBedsPaved, withRowsPaved } from './round-rows.ts';
import { waterNear, type Water } from './water.ts';

/** Blank runs that lead water to the starts of a fill. */
export interface Leads {
  readonly runs: readonly NewRun[];
  readonly water: Water | null;
  /** Under paving or through what is blocked, in plan, metres: there it needs a sleeve. */
  readonly sleeveM: number;
  /** Starts that are further away than a lead is drawn. */
  readonly tooFar: number;
  /** Places at which it passes over runs without a joint, because there is no way round. */
  readonly crossings: number;
}

/** A lead is drawn up to this length in plan, metres: so far half-inch tubing carries a zone (`HALF_INCH_LIMIT`). */
export const LEAD_REACH_M = HALF_INCH_LIMIT.lengthM;
/** Room about everything in which ways round are looked for, metres. */
const MARGIN_M = 3;

export const NO_LEADS: Leads = { runs: [], water: null, sleeveM: 0, tooFar: 0, crossings: 0 };

/**
 * Blank tubing from the nearest control set (or tie-in) to each start of a fill, the shortest way round paving,
 * buildings and holes of beds; it may begin on tubing that the control set feeds already. Where that way crosses rows,
 * one round the rows, or to another place of the header, is taken instead if it crosses fewer. Nothing where the fill
 * starts at the water. Starts out of reach are counted.
 * @param others blank runs of the plan that may be used on the way
 * @param place the control set that is asked for, and the bed that is filled
 */
export function leadsTo(
  plan: Plan,
  laid: { readonly runs: readonly Pick<NewRun, 'path' | 'inline'>[]; readonly starts: readonly Point[] },
  tubing: string,
  others: readonly Run[],
  place: { readonly leadFrom?: string | undefined; readonly areaId?: string | undefined } = {},
): Leads {
  const water = waterNear(plan, laid.starts, place.leadFrom);
  if (!water) return NO_LEADS;
  let { starts } = laid;
  if (laid.runs.some(({ path }) => isOn(path, water.at))) {
    // It stands on the fill: the part that starts there has its water.
    const own = nearestOf(starts, water.at);
    starts = starts.filter((start) => start !== own);
  }
  const there = fedFrom([water.at], others);
  const isFed = (start: Point): boolean => there.some(({ path }) => isOn(path, start));
  const reached = starts.filter((start) => distance(water.at, start) <= LEAD_REACH_M && !isFed(start));
  const outOfReach = starts.filter(
    (start) => distance(water.at, start) > LEAD_REACH_M && !isFed(start),
  ).length;
  if (reached.length === 0) return { ...NO_LEADS, water, tooFar: outOfReach };

  const near = areasNear(plan, [water.at, ...reached]);
  const existing = there.map(({ path }) => path);
  const box = grown(
    boxOf([
      water.at,
      ...laid.runs.flatMap(({ path }) => path),
      ...near.flatMap(({ use, outline }) => (use === 'lawn' ? [] : outline)),
    ])!,
    MARGIN_M,
  );
  const wayTo = (entries: readonly Point[], areas: readonly Area[]): Way => {
    const ways = openGround(Table.of(areas));
    const rows = entries.map((at) => ({ a: at, b: at, serves: [] }));
    const finder = () => new WayFinder(ways, box);
    const found = joinRows(rows, water.at, existing, ways, finder, () => false);
    const paths: Path[] = found.filter((path) => pathLength(path) <= LEAD_REACH_M);
    const tooFar = found.length - paths.length;
    // A start closer to water than a fitting is long gets no way of its own: it is joined straight.
    for (const at of entries) {
      const joined = [...existing, ...paths];
      if (joined.some((path) => isOn(path, at))) continue;
      const near = nearestOf([water.at, ...joined.map((path) => nearestOnPath(path, at).point)], at)!;
      if (distance(near, at) <= 2 * FITTING_M) paths.push([near, at]);
    }
    return { paths, tooFar, crossings: crossingsOf(paths, [...laid.runs, ...plan.runs]) };
  };
  const entries = reached.map((start) => entryOf(laid.runs, start, water.at));
  let best = wayTo(entries, withFullBedsPaved(plan, near));
  if (best.crossings > 0) {
    const round = withRowsPaved(plan, near, laid.runs, place.areaId);
    const corners = (end: number) =>
      reached.map(
        (start) => laid.runs.find(({ inline, path }) => !inline && path[0] === start)?.path.at(end) ?? start,
      );
    for (const tried of [entries, corners(0), corners(-1)]) {
      const way = wayTo(tried, round);
      if (way.crossings < best.crossings && way.tooFar <= best.tooFar) best = way;
      if (best.crossings === 0) break;
    }
  }
  const names = namesFor(plan, best.paths.length);
  return {
    runs: best.paths.map((path, i): NewRun => ({ name: names[i]!, path, tubing, inline: null })),
    water,
    sleeveM: sleeveOf(near, best.paths),
    tooFar: outOfReach + best.tooFar,
    crossings: best.crossings,
  };
}

interface Way {
  readonly paths: readonly Path[];
  readonly tooFar: number;
  readonly crossings: number;
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

/** Areas that lie about the way between some places. */
function areasNear(plan: Pick<Plan, 'areas'>, places: readonly Point[]): readonly Area[] {
  const way = grown(boxOf(places)!, MARGIN_M);
  return [...plan.areas].filter(({ outline }) => {
    const box = boxOf(outline);
    return box !== null && meet(box, way);
  });
}

/** Length of paths under paving and through what is blocked, by all areas of the plan, in plan, metres. */
export function sleeveOn(plan: Pick<Plan, 'areas'>, paths: readonly Path[]): number {
  const places = paths.flat();
  return places.length === 0 ? 0 : sleeveOf(areasNear(plan, places), paths);
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
