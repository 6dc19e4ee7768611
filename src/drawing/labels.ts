import { labelPoint, polygonArea } from '../base/polygon.ts';
import { pathLength, pointAlong } from '../base/polyline.ts';
import { between, directionDeg, distance, type Path, type Point } from '../base/point.ts';
import { formatQuantity, type UnitSystem } from '../base/quantity.ts';
import type { Table } from '../base/table.ts';
import { refKey, type Area, type Fill, type Plant, type Run } from '../plan/records.ts';
import type { Mark, TextMark } from './marks.ts';

/** Names of areas inside them, with their plan area below when asked. */
export function areaLabels(areas: Table<Area>, names: boolean, sizes: boolean, units: UnitSystem): Mark[] {
  return areas.toArray().flatMap((area): Mark[] => {
    if (area.outline.length < 3) return [];
    const owner = refKey({ table: 'areas', id: area.id });
    const at = labelPoint(area.outline, area.holes);
    const marks: Mark[] = [];
    if (names && area.name) {
      marks.push({
        kind: 'text',
        halo: 'paper',
        owner,
        at,
        text: area.name,
        sizeMm: 3.2,
        ink: 'line',
        anchor: 'middle',
        bold: area.use === 'bed',
      });
    }
    if (sizes) {
      const text = formatQuantity('area', polygonArea(area.outline, area.holes), units);
      const shiftMm: Point = [0, marks.length > 0 ? 3.4 : 0];
      marks.push({
        kind: 'text',
        halo: 'paper',
        owner,
        at,
        text,
        sizeMm: 2.6,
        ink: 'soft',
        anchor: 'middle',
        shiftMm,
      });
    }
    return marks;
  });
}

/** Names of plants below their stems. */
export function plantLabels(plants: Table<Plant>): Mark[] {
  return plants
    .toArray()
    .filter((plant) => plant.name !== '')
    .map((plant) => ({
      kind: 'text',
      halo: 'paper',
      owner: refKey({ table: 'plants', id: plant.id }),
      at: plant.at,
      text: plant.name,
      sizeMm: 2.2,
      ink: 'plant',
      anchor: 'middle',
      shiftMm: [0, 3.2],
    }));
}

/** Runs whose longest straight piece is a smaller share of their length than this are lettered level. */
const STRAIGHT_SHARE = 0.15;

/**
 * Middle and direction of a path's longest straight piece; a curve of many short pieces is lettered level at the
 * middle of its length. `null` for a path without length.
 */
function longestPiece(path: Path): { at: Point; turnDeg: number } | null {
  let best = -1;
  let longest = 0;
  for (let i = 0; i + 1 < path.length; i++) {
    const length = distance(path[i]!, path[i + 1]!);
    if (length > longest) {
      longest = length;
      best = i;
    }
  }
  if (best < 0) return null;
  const whole = pathLength(path);
  if (longest < STRAIGHT_SHARE * whole) return { at: pointAlong(path, whole / 2), turnDeg: 0 };
  const a = path[best]!;
  const b = path[best + 1]!;
  return { at: between(a, b, 0.5), turnDeg: upright(directionDeg(a, b)) };
}

/** The same line read from left to right, or upwards when it stands: in (-90, 90]. */
export function upright(angleDeg: number): number {
  if (angleDeg > 90) return angleDeg - 180;
  return angleDeg <= -90 ? angleDeg + 180 : angleDeg;
}

/** Clear height between a run's line and the foot of its name, millimetres. */
const ABOVE_LINE_MM = 1.1;

/** Lettering of rows and rings that were laid together: many alike, so smaller, and without the name of their bed. */
function rowsOfFills(runs: Table<Run>, fills: Table<Fill>): ReadonlyMap<string, Partial<TextMark>> {
  const rows = new Map<string, Partial<TextMark>>();
  for (const fill of fills) {
    const acrossM =
      fill.kind === 'bed'
        ? fill.choices.rowSpacingM
        : (fill.choices.ringSpacingM ?? fill.choices.emitterSpacingM);
    for (const id of fill.runIds) {
      const run = runs.get(id);
      if (!run?.inline) continue;
      rows.set(id, {
        text: run.name.split(',')[0]!,
        sizeMm: 2.2,
        ink: 'soft',
        bold: false,
        mayDrop: true,
        acrossM,
      });
    }
  }
  return rows;
}

/** Names of runs along their longest straight piece; those of rows only where rows lie far enough apart for them. */
export function runLabels(runs: Table<Run>, fills: Table<Fill>): Mark[] {
  const rows = rowsOfFills(runs, fills);
  return runs.toArray().flatMap((run): Mark[] => {
    const place = run.name && pathLength(run.path) > 0 ? longestPiece(run.path) : null;
    if (!place) return [];
    return [
      {
        kind: 'text',
        halo: 'paper',
        owner: refKey({ table: 'runs', id: run.id }),
        at: place.at,
        text: run.name,
        sizeMm: 2.6,
        ink: 'line',
        anchor: 'middle',
        bold: true,
        turnDeg: place.turnDeg,
        shiftMm: [0, -ABOVE_LINE_MM],
        ...rows.get(run.id),
      },
    ];
  });
}
