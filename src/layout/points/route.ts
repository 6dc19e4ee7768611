import Flatbush from 'flatbush';
import { boxOf, distance, polar, type Point } from '../../base/point.ts';
import { nearestOnSegment } from '../../base/polyline.ts';
import type { UnitSystem } from '../../base/quantity.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { bedFinder } from './bed-of.ts';
import { beginsAt } from './begins-at.ts';
import { FEEDER_LEAST_M, type PointChoices } from './choices.ts';
import { WayFinder } from './grid.ts';
import { longWay } from './long-way.ts';
import { GROUND, openGround, pathWorth, type OpenGround } from './open-ground.ts';
import type { PointNote } from './note.ts';
import type { Placed } from './place.ts';
import { coverByRows, type Row } from './rows.ts';
import { sourcesFor, type Sources } from './sources.ts';
import { flowNote, routeNotes } from './route-notes.ts';
import { joinRows } from './tree.ts';
import { hangOnRuns, type Hung } from './hang.ts';

/** New tubing and the run on which each emitter hangs. */
export interface Route {
  /** Paths of new blank runs, each away from the start. */
  readonly runs: readonly (readonly Point[])[];
  /** By emitter; `null` where there is no blank tubing at all. */
  readonly hung: readonly (Hung | null)[];
  /** Length of the new tubing on the ground, metres. */
  readonly tubingM: number;
  /** What the tubing begins at, for people. */
  readonly startName: string | null;
  readonly notes: readonly PointNote[];
}

/** From this slope on rows follow the contour, percent (common practice: lines across the slope). */
const CONTOUR_PERCENT = 5;
/** Up to this many emitters of one bed several directions of rows are tried. */
const MOST_TRIED = 800;
/** Room about everything in which ways round are looked for, metres. */
const MARGIN_M = 3;
/** Tubing laid where there is nothing else to lay, metres. */
const STUB_M = 0.3;
/** Rows are tried at these shares of the feeder limit apart, and on the flat in these directions. */
const REACH_SHARES = [1, 0.55, 0.3];
const TURNS_DEG = [0, 90];
/** A metre of feeder is worth so many of tubing (common practice: it costs less, but is cut and lost more easily). */
const FEEDER_PRICE = 0.5;
/** Each run with its tee and end, each bend, and each stem that tubing passes too near, are worth some tubing, metres. */
const RUN_PRICE_M = 1;
const BEND_PRICE_M = 0.2;
const STEM_PRICE_M = 0.5;
const STEM_NEAR_M = 0.1;

/**
 * Draws blank tubing past emitters so that each is within the feeder limit, measured on the ground: parallel rows in
 * each bed, along the contour on slopes of 5 percent and more, else in the direction that needs the least tubing; joined to
 * the start by the shortest links. It stays inside the beds and goes round paving, buildings and holes of beds; where
 * nothing else is possible it crosses, and a note tells of the sleeve. Emitters that tubing reaches already get none.
 */
export function routeTubing(
  plan: Plan,
  placed: readonly Placed[],
  choices: PointChoices,
  units: UnitSystem = 'us',
): Route {
  const ground = groundOf(plan);
  const open = openGround(plan.areas);
  const places = placed.map(({ at }) => at);
  const sources = sourcesFor(plan, choices.start, places);
  const limitM = Math.max(FEEDER_LEAST_M, Number.isFinite(choices.feederLimitM) ? choices.feederLimitM : 0);
  const notes: PointNote[] = [];
  const existing = sources.runs.map(({ id, path }) => ({ id, path }));
  const before = hangOnRuns(places, existing, [], ground, open);
  const isFed = (i: number): boolean => {
    const own = before[i];
    return own !== null && own !== undefined && own.feederM <= limitM + 1e-9 && !own.crosses;
  };
  const left = placed.map((_, i) => i).filter((i) => !isFed(i));
  let runs: Point[][] = [];
  if (choices.drawTubing && left.length > 0) {
    const groups = groupsOf(plan, placed, left);
    const finder = finderFor(
      plan,
      left.map((i) => places[i]!),
      sources,
      open,
    );
    const sets: { readonly rows: readonly Row[]; readonly reachM: number }[] = [];
    for (const share of REACH_SHARES) {
      const reachM = limitM * share;
      for (const turnDeg of left.length <= MOST_TRIED ? TURNS_DEG : [0]) {
        const laid = groups.map((group) => rowsOf(plan, group, places, reachM, open, turnDeg));
        if (turnDeg !== 0 && laid.every(({ isFixed }) => isFixed)) continue;
        sets.push({ rows: laid.flatMap((one) => one.rows), reachM });
      }
    }
    // Of many emitters only the rows that promise the least are joined: the links between them differ little.
    const joined = left.length <= MOST_TRIED ? sets : [leastOf(sets, ({ rows }) => rowsPrice(rows, places))];
    const tries = joined.map(({ rows, reachM }) => drawn(plan, rows, places, sources, reachM, open, finder));
    const stems = groups.flatMap((group) => group.stems);
    const leftPlaces = left.map((i) => places[i]!);
    const priceOf = (paths: readonly Point[][]): number => {
      const feeders = hangOnRuns(leftPlaces, existing, paths, ground, open);
      return (
        paths.reduce((sum, path) => sum + pathWorth(open, path), 0) +
        FEEDER_PRICE * feeders.reduce((sum, one) => sum + (one?.feederM ?? 0), 0) +
        RUN_PRICE_M * paths.length +
        BEND_PRICE_M * paths.reduce((sum, path) => sum + path.length - 2, 0) +
        STEM_PRICE_M * stemsHit(stems, paths)
      );
    };
    runs = tries.length === 1 ? tries[0]! : leastOf(tries, priceOf);
    if (runs.length === 0 && existing.length === 0) {
      const at = sources.at ?? places[left[0]!]!;
      runs = [[at, polar(at, STUB_M, longWay(places))]];
    }
    if (!sources.isControl && sources.runs.length === 0) {
      notes.push({
        rule: 'no-start',
        message:
          sources.at === null
            ? 'There is no control set and no valve yet: set one on the end of the tubing.'
            : `The tubing begins ${sources.name === null ? 'at the chosen place' : `at ${sources.name}`}: set a control set (filter and regulator) there.`,
        refs: [],
      });
    }
  }
  const hung = hangOnRuns(places, existing, runs, ground, open);
  notes.push(...routeNotes(placed, hung, runs, limitM, open, units));
  const flow = flowNote(placed, hung, runs, choices.tubing, units);
  if (flow) notes.push(flow);
  return {
    runs,
    hung,
    tubingM: runs.reduce((sum, path) => sum + ground.surfaceLength(path), 0),
    startName: beginsAt(plan, runs) ?? sources.name,
    notes,
  };
}

/** The first of those with the least price. */
function leastOf<T extends object>(list: readonly T[], priceOf: (one: T) => number): T {
  let best = list[0]!;
  let least = Infinity;
  for (const one of list) {
    const price = priceOf(one);
    if (price < least - 1e-6) [best, least] = [one, price];
  }
  return best;
}

/** What rows are worth before they are joined: their length, feeders and runs. */
function rowsPrice(rows: readonly Row[], places: readonly Point[]): number {
  return rows.reduce(
    (sum, { a, b, serves }) =>
      sum +
      distance(a, b) +
      RUN_PRICE_M +
      FEEDER_PRICE * serves.reduce((all, i) => all + nearestOnSegment(a, b, places[i]!).distance, 0),
    0,
  );
}

interface Group {
  /** Numbers of the emitters. */
  readonly own: readonly number[];
  readonly bed: Area | null;
  readonly stems: readonly Point[];
}

/** Emitters by the bed that their plant stands in. */
function groupsOf(plan: Plan, placed: readonly Placed[], which: readonly number[]): Group[] {
  const bedAt = bedFinder(plan.areas);
  const groups = new Map<Area | null, number[]>();
  for (const i of which) {
    const plant = plan.plants.get(placed[i]!.plantId);
    const bed = plant ? bedAt(plant.at) : null;
    const own = groups.get(bed);
    if (own) own.push(i);
    else groups.set(bed, [i]);
  }
  return [...groups].map(([bed, own]) => ({
    bed,
    own,
    stems: [...new Set(own.flatMap((i) => plantsOf(placed[i]!)))].flatMap((id) => {
      const plant = plan.plants.get(id);
      return plant ? [plant.at] : [];
    }),
  }));
}

function rowsOf(
  plan: Plan,
  { own, bed, stems }: Group,
  places: readonly Point[],
  limitM: number,
  open: OpenGround,
  turnDeg: number,
): { readonly rows: Row[]; readonly isFixed: boolean } {
  const ground = groundOf(plan);
  const targets = own.map((i) => places[i]!);
  let steepest = 0;
  let east = 0;
  let north = 0;
  if (ground.knows === 'slope') {
    for (const p of targets) {
      const { percent, fallDeg } = ground.slopeAt(p);
      steepest = Math.max(steepest, percent);
      east += percent * Math.cos((fallDeg * Math.PI) / 180);
      north += percent * Math.sin((fallDeg * Math.PI) / 180);
    }
  }
  const meanPercent = Math.hypot(east, north) / targets.length;
  const isFixed = meanPercent >= CONTOUR_PERCENT;
  const wayDeg = isFixed ? (Math.atan2(north, east) * 180) / Math.PI + 90 : longEdge(bed, targets) + turnDeg;
  // On the steepest of this ground a feeder of the limit reaches so far in plan.
  const reachM = limitM / Math.hypot(1, steepest / 100);
  const worst = bed ? GROUND.edge : GROUND.open;
  const rows = coverByRows(targets, stems, wayDeg, reachM, open, worst).map(({ a, b, serves }) => ({
    a,
    b,
    serves: serves.map((k) => own[k]!),
  }));
  return { rows, isFixed };
}

/** Direction of the longest edge of a bed, degrees; of the places themselves without a bed. */
function longEdge(bed: Area | null, targets: readonly Point[]): number {
  if (!bed) return longWay(targets);
  let best = { length: 0, deg: 0 };
  bed.outline.forEach((a, i) => {
    const b = bed.outline[(i + 1) % bed.outline.length]!;
    const length = distance(a, b);
    if (length > best.length + 1e-9)
      best = { length, deg: (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI };
  });
  // A rounded bed has no long edge.
  const box = boxOf(bed.outline);
  const isRound = !box || best.length < 0.35 * Math.max(box.maxX - box.minX, box.maxY - box.minY);
  return isRound ? longWay(bed.outline) : best.deg;
}

/** Gives finders of ways over the ground of the plan; all share what one of them has looked up. */
function finderFor(
  plan: Plan,
  places: readonly Point[],
  sources: Sources,
  open: OpenGround,
): () => WayFinder {
  let first: WayFinder | null = null;
  return () => {
    const box = boxOf([
      ...places,
      ...[...plan.areas].flatMap(({ outline }) => outline),
      ...(sources.at ? [sources.at] : []),
      ...sources.runs.flatMap(({ path }) => path),
    ])!;
    const around = {
      minX: box.minX - MARGIN_M,
      minY: box.minY - MARGIN_M,
      maxX: box.maxX + MARGIN_M,
      maxY: box.maxY + MARGIN_M,
    };
    const finder = new WayFinder(open, around, first);
    first ??= finder;
    return finder;
  };
}

function drawn(
  plan: Plan,
  rows: readonly Row[],
  places: readonly Point[],
  sources: Sources,
  limitM: number,
  open: OpenGround,
  finder: () => WayFinder,
): Point[][] {
  const ground = groundOf(plan);
  return joinRows(
    rows,
    sources.at,
    sources.runs.map(({ path }) => path),
    open,
    finder,
    ({ serves }, pieces) =>
      serves.length <= 8 &&
      serves.every((i) => {
        const p = places[i]!;
        return pieces.some(({ a, b }) => {
          const isOff = (k: 0 | 1): boolean =>
            p[k] < Math.min(a[k], b[k]) - limitM || p[k] > Math.max(a[k], b[k]) + limitM;
          if (isOff(0) || isOff(1)) return false;
          const near = nearestOnSegment(a, b, p);
          if (near.distance > limitM || distance(a, b) === 0) return false;
          if (ground.surfaceLength([near.point, p]) > limitM * 0.98) return false;
          return !open.crossesHard(near.point, p);
        });
      }),
  );
}

/** Stems that tubing would pass too near to be laid straight. */
function stemsHit(stems: readonly Point[], paths: readonly (readonly Point[])[]): number {
  if (stems.length === 0) return 0;
  const index = new Flatbush(stems.length);
  for (const [x, y] of stems) index.add(x, y, x, y);
  index.finish();
  const hit = new Set<number>();
  for (const path of paths) {
    for (let k = 1; k < path.length; k++) {
      const [a, b] = [path[k - 1]!, path[k]!];
      const near = index.search(
        Math.min(a[0], b[0]) - STEM_NEAR_M,
        Math.min(a[1], b[1]) - STEM_NEAR_M,
        Math.max(a[0], b[0]) + STEM_NEAR_M,
        Math.max(a[1], b[1]) + STEM_NEAR_M,
      );
      for (const i of near) if (nearestOnSegment(a, b, stems[i]!).distance < STEM_NEAR_M) hit.add(i);
    }
  }
  return hit.size;
}
