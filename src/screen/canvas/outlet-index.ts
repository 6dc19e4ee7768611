import Flatbush from 'flatbush';
import type { Point } from '../../base/point.ts';
import type { Results } from '../../derive/results.ts';

const indices = new WeakMap<Results, Flatbush | null>();

function indexOf(results: Results): Flatbush | null {
  const known = indices.get(results);
  if (known !== undefined) return known;
  let index: Flatbush | null = null;
  if (results.outlets.length) {
    index = new Flatbush(results.outlets.length);
    for (const { at } of results.outlets) index.add(at[0], at[1], at[0], at[1]);
    index.finish();
  }
  indices.set(results, index);
  return index;
}

/** Number of the outlet nearest to a place within reach, or null. */
export function outletNear(results: Results, at: Point, reachM: number): number | null {
  return indexOf(results)?.neighbors(at[0], at[1], 1, reachM)[0] ?? null;
}
