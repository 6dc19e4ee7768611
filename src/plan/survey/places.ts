import type { Point } from '../../base/point.ts';
import { isObject } from '../json.ts';
import type { SurveyContext } from './fields.ts';

/** Places that a survey gives a name: its valves, heads and ends of pipes. */
export type NamedPlaces = ReadonlyMap<string, Point>;

/**
 * Collects named places, so that a pipe without coordinates can find its ends and a valve without a place the
 * pipe that leaves it. Silent: whatever is wrong is reported where the record itself is read.
 */
export function namedPlaces(file: Readonly<Record<string, unknown>>, context: SurveyContext): NamedPlaces {
  const places = new Map<string, Point>();
  const { factor } = context.units.length;
  const add = (name: unknown, x: unknown, y: unknown): void => {
    if (typeof name !== 'string' && typeof name !== 'number') return;
    if (typeof x !== 'number' || typeof y !== 'number' || places.has(String(name))) return;
    places.set(String(name), [x * factor + 0, y * factor + 0]);
  };
  const supply = isObject(file['supply']) ? file['supply'] : {};
  for (const list of [supply['valves'], file['valves'], file['heads']]) {
    for (const item of Array.isArray(list) ? (list as unknown[]) : []) {
      if (!isObject(item)) continue;
      const pair = Array.isArray(item['xy']) ? (item['xy'] as unknown[]) : [item['x'], item['y']];
      add(item['id'], pair[0], pair[1]);
    }
  }
  for (const pipe of Array.isArray(file['pipes']) ? (file['pipes'] as unknown[]) : []) {
    if (!isObject(pipe)) continue;
    for (const [end, at] of [
      ['from', 'a'],
      ['to', 'b'],
    ] as const) {
      const pair = pipe[at];
      if (Array.isArray(pair)) add(pipe[end], pair[0], pair[1]);
    }
  }
  return places;
}
