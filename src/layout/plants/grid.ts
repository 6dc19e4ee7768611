import { boxOf, directionDeg, distance, type Point, type Ring } from '../../base/point.ts';
import { polygonArea } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import type { Area, Plan } from '../../plan/records.ts';
import { isSpacing, MOST_PLANTS, NO_SPACING, tooMany, TRIANGLE, type Stems } from './limits.ts';
import { mayStand, NearPlaces } from './standing.ts';

/** How plants stand on a surface. */
export interface GridChoices {
  /** From stem to stem in a row, metres in plan. */
  readonly spacingM: number;
  /** From row to row, metres in plan; null is that of triangles with equal sides, 0.866 of the spacing. */
  readonly rowSpacingM: number | null;
  /** Every other row is half a spacing on; else the stems stand in squares or rectangles. */
  readonly stagger: boolean;
  /** Rows in this direction, degrees counter-clockwise from east; null is along the longest edge. */
  readonly directionDeg: number | null;
  /** No stem nearer to the edge and to what is left out, metres in plan. */
  readonly edgeM: number;
}

/** Where a grid is wanted. */
export interface GridGround {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
  /** Beds in which the stems must stand; null asks for no bed. */
  readonly beds: readonly Area[] | null;
  /** No stem nearer to this outline, metres; left out it is as for all edges. */
  readonly edgeM?: number;
}

/** Direction of the longest edge of a ring, degrees in [0, 180). */
export function longestEdgeDeg(ring: Ring): number {
  let longest = 0;
  let deg = 0;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    // Of edges that are alike the first is taken, however the ring was drawn.
    if (distance(a, b) > longest * (1 + 1e-9)) {
      longest = distance(a, b);
      deg = directionDeg(a, b);
    }
  });
  return ((deg % 180) + 180) % 180;
}

/**
 * Stems in a grid over a piece of ground: inside it, in the beds asked for, off paving, buildings and lawn, and no
 * nearer than the spacing to plants that stand there. The grid lies in the middle: what is left over is shared by both
 * sides. A reason where the spacing is no spacing or the plants are too many.
 */
export function plantGrid(
  plan: Pick<Plan, 'areas' | 'plants'>,
  { outline, holes, beds, edgeM: ownM }: GridGround,
  { spacingM, rowSpacingM, stagger, directionDeg: wantedDeg, edgeM }: GridChoices,
): Stems {
  if (!isSpacing(spacingM)) return { ok: false, why: NO_SPACING };
  const pitchM = rowSpacingM ?? (stagger ? spacingM * TRIANGLE : spacingM);
  if (!isSpacing(pitchM)) return { ok: false, why: 'Rows must be at least 0.05 m (2 in) apart.' };
  const apart = Number.isFinite(edgeM) ? Math.max(0, edgeM) : 0;
  const edge = ownM ?? apart;
  const deg = wantedDeg ?? longestEdgeDeg(outline);
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  const turned = boxOf(outline.map(([x, y]): Point => [x * c + y * s, y * c - x * s]));
  if (!turned || outline.length < 3) return { ok: true, points: [] };
  const about = polygonArea(outline, holes) / (spacingM * pitchM);
  const candidates = ((turned.maxX - turned.minX) / spacingM) * ((turned.maxY - turned.minY) / pitchM);
  if (!(about <= MOST_PLANTS) || !(candidates <= MOST_PLANTS * 20)) return { ok: false, why: tooMany(about) };

  const hair = 1e-9;
  const wide = turned.maxX - turned.minX - 2 * edge;
  const high = turned.maxY - turned.minY - 2 * edge;
  if (wide < -hair || high < -hair) return { ok: true, points: [] };
  const rows = Math.floor((high + hair) / pitchM) + 1;
  const firstY = turned.minY + edge + (high - (rows - 1) * pitchM) / 2;
  const halves = Math.floor((wide + hair) / (spacingM / 2));
  const step = stagger ? spacingM / 2 : spacingM;
  const firstX = turned.minX + edge + (wide - Math.floor((wide + hair) / step) * step) / 2;
  const stands = mayStand(plan, beds, apart);
  const onGround = mayStand({ areas: Table.of<Area>() }, [ground(outline, holes)], edge);
  const others = new NearPlaces(
    spacingM,
    [...plan.plants].map(({ at }) => at),
  );
  const points: Point[] = [];
  for (let row = 0; row < rows; row++) {
    const on = stagger && row % 2 ? spacingM / 2 : 0;
    for (let i = 0; i * 2 <= halves; i++) {
      const x = firstX + on + i * spacingM;
      const y = firstY + row * pitchM;
      if (x > turned.maxX - edge + hair) break;
      const at: Point = [x * c - y * s, x * s + y * c];
      if (onGround(at) && stands(at) && !others.nearer(at, spacingM)) points.push(at);
    }
  }
  return points.length > MOST_PLANTS ? { ok: false, why: tooMany(points.length) } : { ok: true, points };
}

/** A piece of ground as a bed of its own. */
function ground(outline: Ring, holes: readonly Ring[]): Area {
  return { id: '', use: 'bed', name: '', outline, holes };
}
