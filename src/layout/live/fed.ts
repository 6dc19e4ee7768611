import Flatbush from 'flatbush';
import { boxOf, type Point } from '../../base/point.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Plan, Run } from '../../plan/records.ts';
import { isOn } from './places.ts';
import { watersOf } from './water.ts';

/** The runs that hang together with any of some places, joint by joint, in the order of the list. */
export function fedFrom(places: readonly Point[], runs: readonly Run[]): readonly Run[] {
  const list = runs.filter(({ path }) => path.length > 0);
  if (list.length === 0 || places.length === 0) return [];
  const index = new Flatbush(list.length);
  const boxes = list.map(({ path }) => boxOf(path)!);
  for (const { minX, minY, maxX, maxY } of boxes) index.add(minX, minY, maxX, maxY);
  index.finish();
  const fed = new Set<number>();
  const open: number[] = [];
  const reach = JOINT_TOLERANCE_M;
  const take = (i: number): void => {
    fed.add(i);
    open.push(i);
  };
  for (const at of places) {
    if (!Number.isFinite(at[0]) || !Number.isFinite(at[1])) continue;
    for (const i of index.search(at[0] - reach, at[1] - reach, at[0] + reach, at[1] + reach))
      if (!fed.has(i) && isOn(list[i]!.path, at)) take(i);
  }
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const from = list[next]!.path;
    const { minX, minY, maxX, maxY } = boxes[next]!;
    for (const i of index.search(minX - reach, minY - reach, maxX + reach, maxY + reach)) {
      if (fed.has(i)) continue;
      const { path } = list[i]!;
      if (from.some((p) => isOn(path, p)) || path.some((p) => isOn(from, p))) take(i);
    }
  }
  return list.filter((_, i) => fed.has(i));
}

const known = new WeakMap<
  Plan['runs'],
  {
    readonly controls: Plan['controls'];
    readonly heads: Plan['heads'];
    readonly ids: ReadonlySet<string>;
  }
>();

/** Ids of the runs that hang together with a control set (or tie-in, while there is none); remembered by the runs. */
export function fedIds(plan: Plan): ReadonlySet<string> {
  const { runs, controls, heads } = plan;
  const had = known.get(runs);
  if (had?.controls === controls && had.heads === heads) return had.ids;
  const places = watersOf(plan).map(({ at }) => at);
  const ids = new Set(fedFrom(places, [...runs]).map(({ id }) => id));
  known.set(runs, { controls, heads, ids });
  return ids;
}
