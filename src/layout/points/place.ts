import Flatbush from 'flatbush';
import { distance, polar, type Point } from '../../base/point.ts';
import { FOOT_M } from '../../base/units.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { rootZone, STEM_CLEARANCE_M } from '../../derive/root-zone.ts';
import { counted } from '../../derive/wording.ts';
import type { OutletChoice, Plan, Plant, Ref } from '../../plan/records.ts';
import { MOST_EMITTERS, type PointChoices } from './choices.ts';
import { plantNumbers } from './numbers.ts';
import { GROUND, openGround, type OpenGround } from './open-ground.ts';
import { longWay } from './long-way.ts';

/** A point emitter that has its place but no tubing yet. */
export interface Placed extends OutletChoice {
  readonly plantId: string;
  readonly at: Point;
}

/** Something the person should know of what was laid out. */
export interface PointNote {
  readonly rule:
    | 'no-place'
    | 'fewer'
    | 'sleeve'
    | 'building'
    | 'feeder-long'
    | 'feeder-crosses'
    | 'no-start'
    | 'no-tubing'
    | 'bad-plant'
    | 'flow-high';
  readonly message: string;
  readonly refs: readonly Ref[];
}

export interface Placement {
  readonly emitters: readonly Placed[];
  readonly notes: readonly PointNote[];
}

/** From this slope on emitters sit uphill of the stem, percent (common practice; the check of emitters downhill has it too). */
export const UPHILL_PERCENT = 10;
/** On a slope the emitters are spread over this arc about the uphill direction, degrees (common practice). */
const UPHILL_ARC_DEG = 120;
/** Furthest that an emitter is turned away from uphill, degrees: no lower than the stem. */
const UPHILL_MOST_DEG = 88;
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

/**
 * Places for the emitters of plants. On slopes of 10 percent and more all are uphill of the stem, spread over 120
 * degrees; on the flat they are spread round it, two on opposite sides. Distance from the stem: now the edge of the
 * present canopy, or 12 in where that is not measured; mature two thirds of the mature canopy's radius; never nearer
 * than 6 in to any stem, nor outside of the root zone. A place that is paved, built over, left out or taken is turned
 * round the stem, then moved in or out. What finds no place is told in a note. Plants without a place that is a number
 * are left out with a note.
 */
export function placeEmitters(
  plan: Pick<Plan, 'areas' | 'plants' | 'soil' | 'levels' | 'falls'>,
  plants: readonly Plant[],
  choices: PointChoices,
): Placement {
  const good = plants.filter(
    ({ at, canopyMatureM }) =>
      Number.isFinite(at[0]) && Number.isFinite(at[1]) && Number.isFinite(canopyMatureM),
  );
  const ground = groundOf(plan);
  const open = openGround(plan.areas);
  const numbers = plantNumbers(plan, good, choices);
  const stems = new Stems(plan.plants.toArray());
  const way = longWay(good.map(({ at }) => at));
  const emitters: Placed[] = [];
  const short: { readonly plant: Plant; readonly placed: number; readonly wanted: number }[] = [];
  for (const plant of good) {
    const { count, flowLph } = numbers.get(plant.id)!;
    const wanted = Number.isFinite(count) ? Math.min(MOST_EMITTERS, Math.max(1, Math.round(count))) : 1;
    const slope = ground.knows === 'slope' ? ground.slopeAt(plant.at) : { percent: 0, fallDeg: 0 };
    const uphillDeg = slope.percent >= UPHILL_PERCENT ? slope.fallDeg + 180 : null;
    const places = placesOf(plant, wanted, uphillDeg, way, choices.place, open, stems);
    for (const at of places)
      emitters.push({ plantId: plant.id, at, law: choices.law, ratedFlowLph: flowLph });
    if (places.length < wanted) short.push({ plant, placed: places.length, wanted });
  }
  return { emitters, notes: notesOf(plants, good, short) };
}

function placesOf(
  plant: Plant,
  count: number,
  uphillDeg: number | null,
  wayDeg: number,
  place: PointChoices['place'],
  open: OpenGround,
  stems: Stems,
): Point[] {
  const { innerM, outerM } = rootZone(plant);
  const into = (radiusM: number): number => Math.min(outerM, Math.max(innerM, radiusM));
  const now = plant.canopyNowM !== null && plant.canopyNowM > 0 ? plant.canopyNowM / 2 : YOUNG_M;
  const matureM = (plant.canopyMatureM / 2) * MATURE_SHARE;
  // Many emitters on a short arc move out, and stand in two rings.
  const arc = uphillDeg === null ? 2 * Math.PI : (UPHILL_ARC_DEG * Math.PI) / 180;
  const roomyM = count >= 4 ? Math.min(matureM, (count * ARC_ROOM_M) / arc) : 0;
  const wantedM = into(place === 'now' ? Math.max(now, roomyM) : matureM);
  const isCrowded = count >= 4 && (wantedM * arc) / count < 2 * ARC_ROOM_M;
  const innerRingM = isCrowded ? into(wantedM * INNER_RING_SHARE) : wantedM;
  const radii = [...new Set(OTHER_RADII.map((share) => innerM + share * (outerM - innerM)))];
  const mostDeg = uphillDeg === null ? 180 : UPHILL_MOST_DEG;
  const found: Point[] = [];
  for (let i = 0; i < count; i++) {
    const startDeg =
      uphillDeg === null
        ? wayDeg + (360 * i) / count
        : uphillDeg - UPHILL_ARC_DEG / 2 + (UPHILL_ARC_DEG * (i + 0.5)) / count;
    const own = i % 2 === 0 ? wantedM : innerRingM;
    const at = search(plant, startDeg, uphillDeg, mostDeg, [own, ...radii], (p, pass) => {
      const kind = open.kindAt(p);
      if (kind > GROUND.open || open.hardWithin(p, HARD_CLEARANCE_M)) return false;
      if (pass === 0 && kind === GROUND.open && open.kindAt(plant.at) < GROUND.open) return false;
      if (found.some((other) => distance(other, p) < (pass < 2 ? APART_M : APART_M / 4))) return false;
      return !stems.within(p, plant);
    });
    if (at) found.push(at);
  }
  return found;
}

/** The first place that fits: first in the plant's own bed, then off it, then near to a neighbour. */
function search(
  plant: Plant,
  startDeg: number,
  uphillDeg: number | null,
  mostDeg: number,
  radii: readonly number[],
  fits: (p: Point, pass: number) => boolean,
): Point | null {
  for (let pass = 0; pass < 3; pass++) {
    for (const radiusM of radii) {
      for (let turn = 0; turn <= 180; turn += TURN_STEP_DEG) {
        for (const side of turn === 0 ? [1] : [1, -1]) {
          const angleDeg = startDeg + side * turn;
          if (uphillDeg !== null && Math.abs(signedDeg(angleDeg - uphillDeg)) > mostDeg) continue;
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

  constructor(plants: readonly Plant[]) {
    this.plants = plants.filter(({ at }) => Number.isFinite(at[0]) && Number.isFinite(at[1]));
    this.index = this.plants.length > 0 ? new Flatbush(this.plants.length) : null;
    for (const { at } of this.plants) this.index!.add(at[0], at[1], at[0], at[1]);
    this.index?.finish();
  }

  /** Whether a stem other than the plant's own is nearer than allowed. */
  within(p: Point, own: Plant): boolean {
    if (!this.index) return false;
    const r = STEM_CLEARANCE_M;
    return this.index
      .search(p[0] - r, p[1] - r, p[0] + r, p[1] + r)
      .some((i) => this.plants[i]!.id !== own.id && distance(this.plants[i]!.at, p) < r);
  }
}

function notesOf(
  plants: readonly Plant[],
  good: readonly Plant[],
  short: readonly { readonly plant: Plant; readonly placed: number }[],
): PointNote[] {
  const notes: PointNote[] = [];
  const refs = (list: readonly Plant[]): Ref[] => list.map(({ id }) => ({ table: 'plants', id }));
  if (good.length < plants.length) {
    const kept = new Set(good.map(({ id }) => id));
    const bad = plants.filter(({ id }) => !kept.has(id));
    notes.push({
      rule: 'bad-plant',
      message: `${counted(bad.length, 'plant')} without a place or canopy that is a number left out: set them again.`,
      refs: refs(bad),
    });
  }
  const none = short.filter(({ placed }) => placed === 0).map(({ plant }) => plant);
  const some = short.filter(({ placed }) => placed > 0).map(({ plant }) => plant);
  if (none.length > 0) {
    notes.push({
      rule: 'no-place',
      message: `${counted(none.length, 'plant')} without an emitter: all of the root zone is paved, built over or too near to a stem. Move the plant, or open the paving about it.`,
      refs: refs(none),
    });
  }
  if (some.length > 0) {
    notes.push({
      rule: 'fewer',
      message: `${counted(some.length, 'plant')} with fewer emitters than wanted: there is no more room in the root zone. Take larger emitters there.`,
      refs: refs(some),
    });
  }
  return notes;
}
