import { regionArea, type Region } from '../../base/clip.ts';
import { polygonContains, ringArea } from '../../base/polygon.ts';

/** A region by its parts that hang together: each an outer ring with the holes in it. */
export function componentsOf(region: Region): readonly Region[] {
  const outers = region.filter((ring) => ringArea(ring) > 0);
  if (outers.length < 2) return outers.length === 0 ? [] : [region];
  const holes = region.filter((ring) => ringArea(ring) < 0);
  return outers.map((outer) => [
    outer,
    // An island in a hole lies within two outer rings: a hole belongs to the smallest that holds it.
    ...holes.filter((hole) => {
      const around = outers.filter((other) => hole.every((p) => polygonContains(other, [], p)));
      return around.toSorted((a, b) => regionArea([a]) - regionArea([b]))[0] === outer;
    }),
  ]);
}
