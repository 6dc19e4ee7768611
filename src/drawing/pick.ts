import { nearestOnPath, nearestOnSegment } from '../base/polyline.ts';
import { distanceToRing, polygonContains } from '../base/polygon.ts';
import { boxOf, distance, shifted, type Box, type Point } from '../base/point.ts';
import { placeOnRun } from '../plan/on-run.ts';
import type { Area, Fall, LateralPipe, Plan, Plant, Ref, Run } from '../plan/records.ts';
import { ASIDE_MM, CONTROL_SYMBOL, standsOnSupply } from './equipment.ts';
import { nearIn } from './near.ts';

const pointBox = ([x, y]: Point, r = 0): Box => ({ minX: x - r, minY: y - r, maxX: x + r, maxY: y + r });
const spotsNear = nearIn<{ readonly id: string; readonly at: Point }>(({ at }) => pointBox(at));
const plantsNear = nearIn<Plant>(({ at, canopyMatureM }) => pointBox(at, canopyMatureM / 2));
const runsNear = nearIn<Run>(({ path }) => boxOf(path));
const fallsNear = nearIn<Fall>(({ from, to }) => boxOf([from, to]));
const pipesNear = nearIn<LateralPipe>(({ a, b }) => boxOf([a, b]));
const areasNear = nearIn<Area>(({ outline }) => boxOf(outline));

/** Places of the parts that sit on runs. */
function* partsOnRuns(plan: Plan): Generator<{ readonly ref: Ref; readonly at: Point }> {
  for (const table of ['flushEnds', 'checkValves', 'lineParts'] as const) {
    for (const { id } of plan[table]) {
      const at = placeOnRun(plan, { table, id });
      if (at) yield { ref: { table, id }, at };
    }
  }
}

/**
 * What lies under a point, uppermost first: small things before lines before areas, the nearest of a kind first.
 * `toleranceM` is how near counts as on it, `metresPerMm` the ground under a millimetre of pen, for signs that are drawn
 * beside their place.
 */
export function pick(plan: Plan, at: Point, toleranceM: number, metresPerMm = 0): Ref[] {
  const found: { ref: Ref; rank: number; far: number }[] = [];
  const note = (table: Ref['table'], id: string, rank: number, far: number) =>
    found.push({ ref: { table, id }, rank, far });

  const places = { supplies: 0, controls: 0, emitters: 1, heads: 2, levels: 3 } as const;
  for (const table of ['supplies', 'controls', 'emitters', 'heads', 'levels'] as const) {
    for (const record of spotsNear(plan[table], at, toleranceM)) {
      const far = distance(record.at, at);
      if (far <= toleranceM) note(table, record.id, places[table], far);
    }
  }
  for (const { ref, at: place } of partsOnRuns(plan)) {
    const far = distance(place, at);
    if (far <= toleranceM) note(ref.table, ref.id, 1, far);
  }
  for (const control of plan.controls) {
    if (!standsOnSupply(control, plan.supplies)) continue;
    const shown = shifted(control.at, ASIDE_MM * metresPerMm, 0);
    const reach = Math.max(toleranceM, (CONTROL_SYMBOL.sizeMm / 2) * metresPerMm);
    const far = distance(shown, at);
    if (far <= reach && distance(control.at, at) > toleranceM) note('controls', control.id, 0, far);
  }
  for (const plant of plantsNear(plan.plants, at, toleranceM)) {
    const far = distance(plant.at, at);
    if (far <= toleranceM) note('plants', plant.id, 2, far);
    else if (far <= plant.canopyMatureM / 2) note('plants', plant.id, 5, far);
  }
  for (const run of runsNear(plan.runs, at, toleranceM)) {
    const far = nearestOnPath(run.path, at).distance;
    if (far <= toleranceM) note('runs', run.id, 4, far);
  }
  for (const fall of fallsNear(plan.falls, at, toleranceM)) {
    const far = nearestOnSegment(fall.from, fall.to, at).distance;
    if (far <= toleranceM) note('falls', fall.id, 3.5, far);
  }
  for (const pipe of pipesNear(plan.laterals, at, toleranceM)) {
    const far = nearestOnSegment(pipe.a, pipe.b, at).distance;
    if (far <= toleranceM) note('laterals', pipe.id, 4.5, far);
  }
  // The last one drawn lies on top.
  for (const area of areasNear(plan.areas, at, toleranceM).toReversed()) {
    const edge = Math.min(...[area.outline, ...area.holes].map((ring) => distanceToRing(ring, at)));
    if (edge <= toleranceM) note('areas', area.id, 4.8, edge);
    else if (polygonContains(area.outline, area.holes, at)) note('areas', area.id, 6, 0);
  }
  return found.sort((a, b) => a.rank - b.rank || a.far - b.far).map((hit) => hit.ref);
}

/** What lies wholly inside a box. */
export function pickInBox(plan: Plan, box: Box): Ref[] {
  const inside = ([x, y]: Point) => x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY;
  const refs: Ref[] = [];
  for (const table of ['supplies', 'controls', 'emitters', 'heads', 'levels', 'plants'] as const) {
    for (const record of plan[table]) if (inside(record.at)) refs.push({ table, id: record.id });
  }
  for (const { ref, at } of partsOnRuns(plan)) if (inside(at)) refs.push(ref);
  for (const run of plan.runs) if (run.path.every(inside)) refs.push({ table: 'runs', id: run.id });
  for (const pipe of plan.laterals) {
    if (inside(pipe.a) && inside(pipe.b)) refs.push({ table: 'laterals', id: pipe.id });
  }
  for (const fall of plan.falls) {
    if (inside(fall.from) && inside(fall.to)) refs.push({ table: 'falls', id: fall.id });
  }
  for (const area of plan.areas) if (area.outline.every(inside)) refs.push({ table: 'areas', id: area.id });
  return refs;
}
