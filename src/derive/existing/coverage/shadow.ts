import { difference, NOWHERE, regionOf, union, type Region } from '../../../base/clip.ts';
import { distance, polar, shifted, type Point, type Ring } from '../../../base/point.ts';
import { polygonContains } from '../../../base/polygon.ts';
import { nearestOnSegment } from '../../../base/polyline.ts';

/** A building: its ground, and the lines of its walls, which stop spray. */
export interface Building {
  readonly region: Region;
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** A head this near to a wall stands at its foot, metres: heads are surveyed by eye. */
const ON_WALL_M = 0.1;
/** A head at the foot of a wall is looked at from this far in front of it, metres. */
const BEFORE_WALL_M = 0.001;
/** Parts of a shadow's far side turn by at most this, so that the side stays beyond the reach. */
const FAR_STEP_DEG = 60;

/** Water on its way: from where, how far at most, and the middle of its directions where it has one (degrees). */
export interface Throw {
  readonly at: Point;
  readonly reachM: number;
  readonly towardDeg: number | null;
}

/**
 * The part of the wetted ground that the water reaches (straight flight in plan): less the buildings and what lies
 * behind their walls. A head drawn in a wall or up to 0.1 m behind its face stands in front of it. A building in which
 * the head stands further in is no obstacle, since one of the two is then not where it was drawn. Common practice:
 * spray does not pass over a wall.
 */
export function reached(ground: Region, water: Throw, buildings: readonly Building[]): Region {
  const dark = buildings.flatMap((building) => {
    const near = walls(building).filter(([a, b]) => nearestOnSegment(a, b, water.at).distance < water.reachM);
    if (near.length === 0) return [];
    const eye = eyeBefore(building, water);
    if (!eye) return [];
    return [building.region, ...near.map(([a, b]) => shadowOf(a, b, eye, water.reachM))];
  });
  return dark.length === 0 ? ground : difference(ground, union(dark));
}

/** Whether a place lies inside a building and not at its walls. */
export function standsIn(at: Point, building: Building): boolean {
  const { outline, holes } = building;
  return polygonContains(outline, holes, at) && wallsAt(building, at).length === 0;
}

/** From where the water comes as this building sees it; `null` from inside of it. */
function eyeBefore(building: Building, { at, towardDeg }: Throw): Point | null {
  const { outline, holes } = building;
  if (!polygonContains(outline, holes, at)) return at;
  const faces = wallsAt(building, at).flatMap(({ a, b, point, distance: awayM }) => {
    const length = distance(a, b);
    return ([1, -1] as const).flatMap((side) => {
      const [nx, ny] = [(side * (b[1] - a[1])) / length, (side * (a[0] - b[0])) / length];
      const eye = shifted(point, nx * BEFORE_WALL_M, ny * BEFORE_WALL_M);
      if (polygonContains(outline, holes, eye)) return [];
      // The face to which the spray is turned; of a full circle the nearest one.
      const [tx, ty] = towardDeg === null ? [0, 0] : polar([0, 0], 1, towardDeg);
      return [{ eye, rank: towardDeg === null ? -awayM : nx * tx + ny * ty }];
    });
  });
  return faces.reduce((best, face) => (face.rank > best.rank ? face : best), {
    eye: null,
    rank: -Infinity,
  } as {
    eye: Point | null;
    rank: number;
  }).eye;
}

function wallsAt(building: Building, at: Point) {
  return walls(building).flatMap(([a, b]) => {
    const near = nearestOnSegment(a, b, at);
    return near.distance <= ON_WALL_M && distance(a, b) > 0 ? [{ a, b, ...near }] : [];
  });
}

function walls({ outline, holes }: Building): (readonly [Point, Point])[] {
  return [outline, ...holes].flatMap((ring) =>
    ring.map((a, i) => [a, ring[(i + 1) % ring.length]!] as const),
  );
}

/** What one wall hides: the ground between it and an arc beyond the reach. A wall seen end on hides nothing. */
function shadowOf(a: Point, b: Point, at: Point, reachM: number): Region {
  const cross = (a[0] - at[0]) * (b[1] - at[1]) - (a[1] - at[1]) * (b[0] - at[0]);
  const dot = (a[0] - at[0]) * (b[0] - at[0]) + (a[1] - at[1]) * (b[1] - at[1]);
  if (Math.abs(cross) <= 1e-9 * reachM) return NOWHERE;
  const turnDeg = (Math.atan2(cross, dot) * 180) / Math.PI;
  const startDeg = (Math.atan2(a[1] - at[1], a[0] - at[0]) * 180) / Math.PI;
  const farM = 4 * Math.max(reachM, distance(a, at), distance(b, at));
  const steps = Math.ceil(Math.abs(turnDeg) / FAR_STEP_DEG);
  const far = Array.from({ length: steps + 1 }, (_, i) => polar(at, farM, startDeg + (turnDeg * i) / steps));
  return regionOf([a, ...far, b]);
}
