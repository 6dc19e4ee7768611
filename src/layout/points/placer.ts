import Flatbush from 'flatbush';
import { directionDeg, distance, polar, type Point } from '../../base/point.ts';
import { FOOT_M } from '../../base/units.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { rootZone, stemClearance } from '../../derive/root-zone.ts';
import type { Plan, Plant } from '../../plan/records.ts';
import type { PointPlace } from './choices.ts';
import { GROUND, openGround, type OpenGround } from './open-ground.ts';

/** From this slope on emitters sit uphill of the stem, percent (common practice; the check of emitters downhill has it too). */
export const UPHILL_PERCENT = 10;
/** From this slope on, percent, a single emitter sits uphill, and of several half at least (as the check asks). */
export const GENTLE_PERCENT = 5;
/** On a steep slope the emitters are spread over this arc about the uphill direction, degrees (common practice). */
const UPHILL_ARC_DEG = 120;
/** Furthest that an emitter is turned away from uphill, degrees: no lower than the stem. */
const UPHILL_MOST_DEG = 88;
/** On a gentle slope emitters count as uphill up to this, degrees: level with the stem. */
const LEVEL_DEG = 90;
/** Place of an emitter by a young plant of which nothing is measured: 12 in (extension guidance, seen in copies). */
const YOUNG_M = FOOT_M;
/** Emitters stand at this share of the mature canopy's radius (common practice). */
const MATURE_SHARE = 2 / 3;
/** Emitters keep off paving by this much, metres, and off each other where there is room. */
const HARD_CLEARANCE_M = 0.03;
const APART_M = 0.1;
const TURN_STEP_DEG = 8;
/** Room on the arc that each emitter wants, metres; where it is short every other one stands further in. */
const ARC_ROOM_M = 0.15;
const INNER_RING_SHARE = 0.65;
/** Distances tried where the wanted one is taken, as shares of the way between the stem's clearance and the zone's edge. */
const OTHER_RADII = [0.75, 0.5, 0.25, 0, 1];

/** Finds places for emitters at the plants of a plan. */
export interface Placer {
  /** Places for so many emitters of one plant; fewer where there is no more room. */
  placesAt(plant: Plant, count: number, place: PointPlace): Point[];
  /** Whether an emitter may stand at a place for a plant: in its root zone, off stems and paving, not below the stem. */
  suits(p: Point, plant: Plant): boolean;
}

/**
 * @param way direction in which two emitters stand opposite on the flat, degrees counter-clockwise from east
 */
export function placerFor(plan: Pick<Plan, 'areas' | 'plants' | 'levels' | 'falls'>, way: number): Placer {
  const ground = groundOf(plan);
  const open = openGround(plan.areas);
  const stems = new Stems(plan.plants.toArray());
  const uphillAt = (plant: Plant): Uphill | null => {
    if (ground.knows !== 'slope') return null;
    const { percent, fallDeg } = ground.slopeAt(plant.at);
    if (!(percent >= GENTLE_PERCENT)) return null;
    return { deg: fallDeg + 180, isSteep: percent >= UPHILL_PERCENT };
  };
  return {
    placesAt: (plant, count, place) => placesOf(plant, count, uphillAt(plant), way, place, open, stems),
    suits(p, plant) {
      const { innerM, outerM } = zoneOf(plant);
      const far = distance(p, plant.at);
      if (far < innerM || far > outerM) return false;
      const uphill = uphillAt(plant);
      if (uphill && far > 0 && !isUp(uphill, directionDeg(plant.at, p))) return false;
      const kind = open.kindAt(p);
      if (kind > GROUND.open || (kind === GROUND.open && open.kindAt(plant.at) < GROUND.open)) return false;
      return (
        !open.hardWithin(p, HARD_CLEARANCE_M) && !open.crossesHard(p, plant.at) && !stems.within(p, plant)
      );
    },
  };
}

/** Uphill direction at a plant, degrees, and whether the slope asks for all emitters on that side. */
interface Uphill {
  readonly deg: number;
  readonly isSteep: boolean;
}

const isUp = ({ deg, isSteep }: Uphill, angleDeg: number): boolean =>
  Math.abs(signedDeg(angleDeg - deg)) <= (isSteep ? UPHILL_MOST_DEG : LEVEL_DEG + 1e-6);

/** The root zone, off the stem by as much as its class asks for. */
function zoneOf(plant: Plant): { readonly innerM: number; readonly outerM: number } {
  const { innerM, outerM } = rootZone(plant);
  return { innerM: Math.min(outerM, Math.max(innerM, stemClearance(plant))), outerM };
}

/**
 * Direction of the first of so many emitters evenly round a stem, degrees: the way that is wanted, but on a gentle slope
 * turned where less than half of them would lie uphill.
 */
function firstDeg(count: number, wayDeg: number, uphill: Uphill | null): number {
  if (!uphill) return wayDeg;
  const ups = (first: number): number =>
    Array.from({ length: count }, (_, i) => first + (360 * i) / count).filter((deg) => isUp(uphill, deg))
      .length;
  const least = Math.ceil(count / 2);
  return (
    [count === 1 ? uphill.deg : wayDeg, uphill.deg].find((deg) => ups(deg) >= least) ??
    uphill.deg + 180 / count
  );
}

function placesOf(
  plant: Plant,
  count: number,
  uphill: Uphill | null,
  wayDeg: number,
  place: PointPlace,
  open: OpenGround,
  stems: Stems,
): Point[] {
  const { innerM, outerM } = zoneOf(plant);
  const steepDeg = uphill?.isSteep ? uphill.deg : null;
  const into = (radiusM: number): number => Math.min(outerM, Math.max(innerM, radiusM));
  const now = plant.canopyNowM !== null && plant.canopyNowM > 0 ? plant.canopyNowM / 2 : YOUNG_M;
  const matureM = (plant.canopyMatureM / 2) * MATURE_SHARE;
  // Many emitters on a short arc move out, and stand in two rings.
  const arc = steepDeg === null ? 2 * Math.PI : (UPHILL_ARC_DEG * Math.PI) / 180;
  const roomyM = count >= 4 ? Math.min(matureM, (count * ARC_ROOM_M) / arc) : 0;
  const wantedM = into(place === 'now' ? Math.max(now, roomyM) : matureM);
  const isCrowded = count >= 4 && (wantedM * arc) / count < 2 * ARC_ROOM_M;
  const innerRingM = isCrowded ? into(wantedM * INNER_RING_SHARE) : wantedM;
  const radii = [...new Set(OTHER_RADII.map((share) => innerM + share * (outerM - innerM)))];
  const roundDeg = firstDeg(count, wayDeg, uphill);
  const found: Point[] = [];
  for (let i = 0; i < count; i++) {
    const startDeg =
      steepDeg === null
        ? roundDeg + (360 * i) / count
        : steepDeg - UPHILL_ARC_DEG / 2 + (UPHILL_ARC_DEG * (i + 0.5)) / count;
    const own = i % 2 === 0 ? wantedM : innerRingM;
    const fits = (p: Point, pass: number): boolean => {
      const kind = open.kindAt(p);
      if (kind > GROUND.open || open.hardWithin(p, HARD_CLEARANCE_M)) return false;
      if (pass === 0 && kind === GROUND.open && open.kindAt(plant.at) < GROUND.open) return false;
      if (found.some((other) => distance(other, p) < (pass < 2 ? APART_M : APART_M / 4))) return false;
      return !stems.within(p, plant);
    };
    const seek = (within: Uphill | null): Point | null =>
      search(plant, startDeg, within, [own, ...radii], fits);
    // Steep: nowhere but uphill. Gentle: those that begin uphill stay there while there is room.
    const side = uphill && (uphill.isSteep || isUp(uphill, startDeg)) ? uphill : null;
    const at = seek(side) ?? (side && !side.isSteep ? seek(null) : null);
    if (at) found.push(at);
  }
  return found;
}

/** The first place that fits: first in the plant's own bed, then off it, then near to a neighbour. */
function search(
  plant: Plant,
  startDeg: number,
  within: Uphill | null,
  radii: readonly number[],
  fits: (p: Point, pass: number) => boolean,
): Point | null {
  for (let pass = 0; pass < 3; pass++) {
    for (const radiusM of radii) {
      for (let turn = 0; turn <= 180; turn += TURN_STEP_DEG) {
        for (const side of turn === 0 ? [1] : [1, -1]) {
          const angleDeg = startDeg + side * turn;
          if (within && !isUp(within, angleDeg)) continue;
          const p = polar(plant.at, radiusM, angleDeg);
          if (fits(p, pass)) return p;
        }
      }
    }
  }
  return null;
}

function signedDeg(angleDeg: number): number {
  const turn = ((angleDeg % 360) + 540) % 360;
  return turn - 180;
}

/** Finds stems too near to a place. */
class Stems {
  private readonly index: Flatbush | null;
  private readonly plants: readonly Plant[];
  private readonly mostM: number;

  constructor(plants: readonly Plant[]) {
    this.plants = plants.filter(({ at }) => Number.isFinite(at[0]) && Number.isFinite(at[1]));
    this.index = this.plants.length > 0 ? new Flatbush(this.plants.length) : null;
    for (const { at } of this.plants) this.index!.add(at[0], at[1], at[0], at[1]);
    this.index?.finish();
    this.mostM = this.plants.reduce((most, plant) => Math.max(most, stemClearance(plant)), 0);
  }

  /** Whether a stem other than the plant's own is nearer than allowed. */
  within(p: Point, own: Plant): boolean {
    if (!this.index) return false;
    const r = this.mostM;
    return this.index.search(p[0] - r, p[1] - r, p[0] + r, p[1] + r).some((i) => {
      const other = this.plants[i]!;
      return other.id !== own.id && distance(other.at, p) < stemClearance(other);
    });
  }
}
