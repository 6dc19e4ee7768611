import { regionOf, union, type Region } from '../../base/clip.ts';
import { between, distance, type Path, type Point } from '../../base/point.ts';
import { ringArea, ringContains } from '../../base/polygon.ts';
import type { Area } from '../records.ts';
import { notMeasured, type Fields, type SurveyContext } from './fields.ts';
import { readAreas } from './ground.ts';
import type { Found } from './keep.ts';

/** Thickness of a wall or fence of which only the line is known, metres; it only has to stop spray. */
const USUAL_THICKNESS_M = 0.1;

/**
 * Walls and fences, as narrow buildings: an `outline` as for other areas, or a line (`line` or `path` with two or more
 * places, `a` and `b`, or the bare list of places) with its `thickness`.
 */
export function readWalls(value: unknown, where: string, context: SurveyContext): Found<Area>[] {
  return wallItems(value, where, context).flatMap((item, index) => {
    const fields = context.fields(Array.isArray(item.value) ? { line: item.value } : item.value, item.where);
    if (!fields) return [];
    if (['outline', 'points', 'ring', 'polygon'].some((name) => fields.has(name))) {
      return readAreas([item.value], where, 'building', context).map((found) => ({
        ...found,
        where: item.where,
      }));
    }
    const id = fields.text('id') ?? `Wall ${index + 1}`;
    const name = fields.text('name') ?? id;
    const line = readLine(fields, context);
    const thicknessM = fields.size('thickness', 'width', 'thick') ?? USUAL_THICKNESS_M;
    fields.close();
    const areas = areasOf(thickened(line, thicknessM));
    if (areas.length === 0) {
      context.notices.add(
        item.where,
        `the wall "${id}" needs a line of at least two places`,
        'It was left out: trace it as a building in the plan.',
      );
    }
    return areas.map((area, part) => ({
      where: item.where,
      record: { id: part === 0 ? id : `${id}-${part + 1}`, use: 'building', name, ...area },
    }));
  });
}

/** A list of walls; one bare line of places counts as a list of one. */
function wallItems(
  value: unknown,
  where: string,
  context: SurveyContext,
): { value: unknown; where: string }[] {
  const first: unknown = Array.isArray(value) ? value[0] : undefined;
  const isLine = Array.isArray(first) && !Array.isArray(first[0]);
  return isLine ? [{ value, where }] : context.items(value, where);
}

function readLine(fields: Fields, context: SurveyContext): Path {
  const name = ['line', 'path'].find((one) => fields.has(one)) ?? 'line';
  const list = fields.take('line', 'path');
  const [a, b] = [fields.take('a', 'from'), fields.take('b', 'to')];
  const places = !notMeasured(list)
    ? context.items(list, fields.place(name))
    : notMeasured(a) || notMeasured(b)
      ? []
      : [
          { value: a, where: fields.place('a') },
          { value: b, where: fields.place('b') },
        ];
  return places.map((place) => context.point(place.value, place.where)).filter((point) => point !== null);
}

/** The ground of a wall along a line: a box along each piece, at the corners longer by half of the thickness. */
function thickened(line: Path, thicknessM: number): Region {
  return union(
    line.slice(1).map((b, i) => {
      const a = line[i]!;
      const length = distance(a, b);
      const half = thicknessM / 2;
      const from = i === 0 ? 0 : -half / length;
      const to = i === line.length - 2 ? 1 : 1 + half / length;
      const [ox, oy] = [((a[1] - b[1]) * half) / length, ((b[0] - a[0]) * half) / length];
      const side = ([x, y]: Point, sign: 1 | -1): Point => [x + sign * ox, y + sign * oy];
      const [start, end] = [between(a, b, from), between(a, b, to)];
      // A piece without length has no direction and gives a ring that is none.
      return regionOf([side(start, -1), side(end, -1), side(end, 1), side(start, 1)]);
    }),
  );
}

/** The outer rings of a region with the holes that lie in them. */
function areasOf(region: Region): Pick<Area, 'outline' | 'holes'>[] {
  const holes = region.filter((ring) => ringArea(ring) < 0);
  return region
    .filter((ring) => ringArea(ring) > 0)
    .map((outline) => ({ outline, holes: holes.filter((hole) => ringContains(outline, hole[0]!)) }));
}
