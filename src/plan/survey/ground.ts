import { distance, type Point, type Ring } from '../../base/point.ts';
import { selfCrossings } from '../../base/polygon.ts';
import { shown } from '../check.ts';
import { FALL_TOLERANCE_M } from '../joining.ts';
import { isObject } from '../json.ts';
import type { Area, AreaUse, Fall, Level } from '../records.ts';
import { notMeasured, type SurveyContext } from './fields.ts';
import type { Found } from './keep.ts';

const NAME: Record<AreaUse, string> = { bed: 'Bed', lawn: 'Lawn', paving: 'Paving', building: 'Building' };

/** Beds, lawns or paving. An area is an object with an `outline`, or the bare ring. */
export function readAreas(
  value: unknown,
  where: string,
  use: AreaUse,
  context: SurveyContext,
): Found<Area>[] {
  return areaItems(value, where, context).flatMap((item, index) => {
    const areaFields = context.fields(
      Array.isArray(item.value) ? { outline: item.value } : item.value,
      item.where,
    );
    if (!areaFields) return [];
    const id = areaFields.text('id') ?? `${NAME[use]} ${index + 1}`;
    const outline = readRing(
      areaFields.take('outline', 'points', 'ring', 'polygon'),
      areaFields.place('outline'),
      context,
    );
    const holes = context
      .items(areaFields.take('holes'), areaFields.place('holes'))
      .map((hole) => readRing(hole.value, hole.where, context))
      .filter((hole) => hole !== null);
    const name = areaFields.text('name') ?? id;
    areaFields.close();
    return outline ? [{ where: item.where, record: { id, use, name, outline, holes } }] : [];
  });
}

/** A list of areas; one bare ring counts as a list of one. */
function areaItems(
  value: unknown,
  where: string,
  context: SurveyContext,
): { value: unknown; where: string }[] {
  const first: unknown = Array.isArray(value) ? value[0] : undefined;
  const isRing = Array.isArray(first) && typeof first[0] === 'number';
  return isRing ? [{ value, where }] : context.items(value, where);
}

/** A ring without a repeated end or doubled corners; `null`, with a notice, when fewer than three are left. */
function readRing(value: unknown, where: string, context: SurveyContext): Ring | null {
  const points: Point[] = [];
  for (const item of Array.isArray(value) ? context.items(value, where) : []) {
    const point = context.point(item.value, item.where);
    const last = points.at(-1);
    if (point && !(last && last[0] === point[0] && last[1] === point[1])) points.push(point);
  }
  const [first, last] = [points[0], points.at(-1)];
  if (first && last && points.length > 1 && first[0] === last[0] && first[1] === last[1]) points.pop();
  if (points.length < 3) {
    context.notices.add(
      where,
      `an outline needs at least three corners and has ${points.length}`,
      'The area was left out: trace it in the plan.',
    );
    return null;
  }
  if (selfCrossings(points).length > 0) {
    context.notices.add(
      where,
      'the outline crosses itself, so its area is not sure',
      'Put its corners in order.',
    );
  }
  return points;
}

/** Spot levels, `[x, y, z]` or `{x, y, z}`. One without a height says nothing about the ground and is left out. */
export function readLevels(value: unknown, context: SurveyContext): Found<Level>[] {
  const found: Found<Level>[] = [];
  for (const item of context.items(value, 'levels')) {
    const parts = isObject(item.value) ? item.value : null;
    const id = parts && typeof parts['id'] === 'string' ? parts['id'] : `Z${found.length + 1}`;
    const z = parts ? parts['z'] : Array.isArray(item.value) ? (item.value as unknown[])[2] : undefined;
    if (notMeasured(z)) {
      context.notices.add(
        item.where,
        'the height is not measured',
        'The level was left out: measure it and add it.',
      );
      continue;
    }
    const at = context.point(item.value, item.where);
    const zM = context.amount(z, 'length', context.units.length, item.where);
    if (at && typeof zM === 'number') found.push({ where: item.where, record: { id, at, zM } });
    else if (at)
      context.notices.add(item.where, `the height ${shown(z)} is not a number`, 'The level was left out.');
  }
  return found;
}

/**
 * Measured falls: `from` and `to` as places, and either `drop` (a length) or `percent`; `from` is the higher one where
 * the figure is above zero. One without a figure or without a length says nothing about the ground and is left out.
 */
export function readFalls(value: unknown, context: SurveyContext): Found<Fall>[] {
  return context.items(value, 'falls').flatMap((item, index): Found<Fall>[] => {
    const fields = context.fields(item.value, item.where);
    if (!fields) return [];
    const id = fields.text('id') ?? `S${index + 1}`;
    const from = context.point(fields.take('from', 'a'), fields.place('from'));
    const to = context.point(fields.take('to', 'b'), fields.place('to'));
    const dropM = fields.quantity('length', 'drop', 'fall');
    const percent = fields.number('percent', 'slope', 'slopePercent');
    fields.close();
    if (!from || !to) return [];
    const lengthM = distance(from, to);
    if (lengthM <= FALL_TOLERANCE_M) {
      context.notices.add(
        item.where,
        'both ends of the fall lie at one place',
        'It was left out: measure the other end.',
      );
      return [];
    }
    if (dropM === null && percent === null) {
      context.notices.add(
        item.where,
        'neither the drop nor the percent is measured',
        'The fall was left out: measure it and add it.',
      );
      return [];
    }
    if (dropM !== null && percent !== null) {
      const byPercentM = (percent / 100) * lengthM;
      if (Math.abs(byPercentM - dropM) > FALL_TOLERANCE_M) {
        context.notices.add(
          item.where,
          `the drop of ${metres(dropM)} and the slope of ${percent} percent over ${metres(lengthM)} contradict each other`,
          'The drop was taken: measure again.',
        );
      }
    }
    const by: Fall['by'] =
      dropM !== null ? { kind: 'drop', dropM } : { kind: 'slope', percent: percent as number };
    return [{ where: item.where, record: { id, from, to, by } }];
  });
}

const metres = (length: number) => `${Math.round(length * 1000) / 1000} m`;
