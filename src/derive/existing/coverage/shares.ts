import { Delaunay } from 'd3-delaunay';
import { intersection, regionArea, union, type Region } from '../../../base/clip.ts';
import { boxOf, distance, type Point } from '../../../base/point.ts';
import type { Head } from '../../../plan/records.ts';
import type { ExistingZone } from '../zones.ts';
import type { Surfaces } from './surfaces.ts';

/**
 * The part of the beds that belongs to each zone: every place to the zone whose bed head is nearest (Thiessen
 * polygons about the heads). One zone alone has all beds; a zone without heads for beds has none.
 */
export function bedShares(
  zones: readonly ExistingZone[],
  surfaces: Surfaces,
): ReadonlyMap<string | null, { readonly region: Region; readonly areaM2: number }> {
  const heads = zones.flatMap(({ zone, heads: all }) =>
    all.filter(watersBed).map((head) => ({ zone, at: head.at })),
  );
  const named = [...new Set(heads.map(({ zone }) => zone))];
  if (named.length < 2) {
    const areaM2 = regionArea(surfaces.bed);
    return new Map(named.map((zone) => [zone, { region: surfaces.bed, areaM2 }]));
  }
  const box = boxOf([...surfaces.bed.flat(), ...heads.map(({ at }) => at)])!;
  const voronoi = Delaunay.from(heads.map(({ at }) => at as [number, number])).voronoi([
    box.minX - 1,
    box.minY - 1,
    box.maxX + 1,
    box.maxY + 1,
  ]);
  const cells = new Map<string | null, Region[]>();
  heads.forEach(({ zone }, i) => {
    const polygon = voronoi.cellPolygon(i) as Point[] | null;
    // Of heads in one place the first has the ground.
    if (!polygon) return;
    const ring = polygon.slice(1);
    const list = cells.get(zone);
    if (list) list.push([ring]);
    else cells.set(zone, [[ring]]);
  });
  return new Map(
    named.map((zone) => {
      const region = intersection(union(cells.get(zone) ?? []), surfaces.bed);
      return [zone, { region, areaM2: regionArea(region) }];
    }),
  );
}

export function watersBed(head: Head): boolean {
  return head.waters === 'bed';
}

/** The zone whose bed head is nearest to a place; `undefined` where no zone waters beds. */
export function nearestZone(zones: readonly ExistingZone[], at: Point): string | null | undefined {
  let best = Infinity;
  let found: string | null | undefined;
  for (const { zone, heads } of zones) {
    for (const head of heads) {
      if (!watersBed(head)) continue;
      const away = distance(head.at, at);
      if (away < best) [best, found] = [away, zone];
    }
  }
  return found;
}
