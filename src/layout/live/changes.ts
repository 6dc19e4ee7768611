import { boxHas, boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import { groundOf, type Ground } from '../../derive/ground/index.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Area, Fill, Plan, Plant, Run } from '../../plan/records.ts';
import { Table as Rows, type Table } from '../../base/table.ts';
import { ringGrounds } from '../rows/ring-ground.ts';
import { sourceNear } from '../rows/source-near.ts';
import { sleeveOn } from './lead.ts';
import { grown, isOn, meet, runsOf } from './places.ts';
import { watersOf } from './water.ts';

/** What of a fill is out of date: its rows, or only the tubing that leads water to it. */
export type Stale = 'rows' | 'lead';

/** Ground about a bed whose slope may count for its rows, metres. */
const AROUND_BED_M = 2;
/** A lead may come to lie under paving or a building for so much before it is laid anew, metres. */
const IN_WAY_M = 0.05;
/** Room about a canopy in which edges and stems count: rings on slopes, and the distance kept from edges. */
const roundTree = (radiusM: number): number => radiusM * 1.1 + 3;

interface Pair<T> {
  readonly before: T | undefined;
  readonly after: T | undefined;
}

/**
 * What an edit changed of the things that fills are drawn for. Tables are compared by identity first, so that an edit
 * elsewhere costs next to nothing; each list is made when first asked for.
 */
export class Changes {
  private areaPairs: readonly Pair<Area>[] | null = null;
  private plantPairs: readonly Pair<Plant>[] | null = null;
  private runPairs: ReadonlyMap<string, Run> | null = null;

  constructor(
    readonly before: Plan,
    readonly after: Plan,
  ) {}

  /**
   * What of a fill, in both plans and laid by the same choices, is out of date. While a gesture lasts (`drafted`) what
   * lies in the way of a lead is not looked for: leads are laid at its end.
   */
  staleOf(fill: Fill, drafted: boolean): Stale | null {
    const place = fill.kind === 'bed' ? this.ofBed(fill) : this.ofTree(fill);
    if (place) return 'rows';
    const isLooked = fill.leadIds !== undefined && (!drafted || this.runsChanged(fill));
    return isLooked && this.leadMoves(fill) ? 'lead' : null;
  }

  private ofBed({ areaId, choices, leadFrom }: Fill & { kind: 'bed' }): boolean {
    const bed = this.after.areas.get(areaId);
    if (!bed) return false;
    const was = this.before.areas.get(areaId);
    if (was !== bed && (!was || !sameShape(was, bed))) return true;
    const box = boxOf(bed.outline);
    if (!box) return false;
    const isOut = (area: Area | undefined): boolean =>
      area !== undefined &&
      area.id !== areaId &&
      (area.use !== 'bed' || choices.leaveOut.includes(area.id)) &&
      reaches(area.outline, box);
    return (
      this.areas().some(({ before, after }) => isOut(before) || isOut(after)) ||
      this.groundChanged(grown(box, AROUND_BED_M)) ||
      this.ringsChanged(grown(box, choices.rowSpacingM)) ||
      this.sourceChanged(bed.outline, leadFrom)
    );
  }

  private ofTree({ plantId, leadFrom }: Fill & { kind: 'tree' }): boolean {
    const plant = this.after.plants.get(plantId);
    const was = this.before.plants.get(plantId);
    if (!plant) return false;
    if (
      was !== plant &&
      (!was ||
        !samePoint(was.at, plant.at) ||
        was.canopyNowM !== plant.canopyNowM ||
        was.canopyMatureM !== plant.canopyMatureM)
    )
      return true;
    const reach = roundTree(Math.max(plant.canopyMatureM, plant.canopyNowM ?? 0) / 2);
    const box = grown({ minX: plant.at[0], minY: plant.at[1], maxX: plant.at[0], maxY: plant.at[1] }, reach);
    const isHard = (area: Area | undefined): boolean =>
      area !== undefined && area.use !== 'bed' && reaches(area.outline, box);
    const isStem = (other: Plant | undefined): boolean =>
      other?.plantClass === 'tree' && other.id !== plantId && distance(other.at, plant.at) <= reach;
    return (
      this.areas().some(({ before, after }) => isHard(before) || isHard(after)) ||
      this.plants().some(({ before, after }) => isStem(before) || isStem(after)) ||
      this.groundChanged(box) ||
      this.sourceChanged([plant.at], leadFrom)
    );
  }

  /**
   * Whether the leads of a fill are to be laid anew for their own sake: their control set (or tie-in) has moved, is gone
   * or is another one, the tubing that they begin on has moved, or paving, a building or a hole has come into their
   * way. What others need never moves them.
   */
  leadMoves(fill: Fill): boolean {
    const was = this.before.fills.get(fill.id);
    if (was && was.leadFrom !== fill.leadFrom) return true;
    const leads = fill.leadIds?.flatMap((id) => this.before.runs.get(id) ?? []) ?? [];
    const box = boxOf(leads.flatMap(({ path }) => path));
    if (!box) return false;
    if (this.waterMoved(leads) || this.mainMoved(fill, leads)) return true;
    const isInWay = (area: Area | undefined): boolean => area !== undefined && reaches(area.outline, box);
    if (!this.areas().some(({ before, after }) => isInWay(before) || isInWay(after))) return false;
    const paths = leads.map(({ path }) => path);
    return sleeveOn(this.after, paths) > sleeveOn(this.before, paths) + IN_WAY_M;
  }

  /** Whether what fed some leads has moved or is gone. */
  private waterMoved(leads: readonly Run[]): boolean {
    const { before, after } = this;
    if (before.controls === after.controls && before.heads === after.heads) return false;
    const now = watersOf(after);
    return watersOf(before)
      .filter(
        ({ table, id, at }) =>
          !now.some((one) => one.table === table && one.id === id && samePoint(one.at, at)),
      )
      .some(({ at }) => leads.some(({ path }) => isOn(path, at)));
  }

  /** Whether tubing on which leads begin has moved away under them, or has taken them along. */
  private mainMoved({ runIds }: Fill, leads: readonly Run[]): boolean {
    const changed = this.runs();
    if (changed.size === 0) return false;
    const waters = watersOf(this.after);
    return leads.some((lead) => {
      const at = lead.path[0];
      if (!at || waters.some((water) => distance(water.at, at) <= JOINT_TOLERANCE_M)) return false;
      const mains = [...changed.values()].filter(
        ({ id, inline, path }) => !runIds.includes(id) && !inline && isOn(path, at),
      );
      const stays = (id: string): boolean => {
        const now = this.after.runs.get(id);
        return now !== undefined && isOn(now.path, at) && !changed.has(lead.id);
      };
      return mains.some(({ id }) => !stays(id));
    });
  }

  /** Whether places where water may be had have come, gone or moved. */
  get watersChanged(): boolean {
    return this.before.controls !== this.after.controls || this.before.heads !== this.after.heads;
  }

  /** Whether runs of a fill are otherwise than before, or gone. */
  runsChanged({ runIds }: Fill): boolean {
    const changed = this.runs();
    return changed.size > 0 && runIds.some((id) => changed.has(id));
  }

  /** Whether a control set stood on the fill before: then it is to be led to wherever the fill starts now. */
  stoodOn(fill: Fill): boolean {
    const runs = runsOf(this.before, fill);
    const box = boxOf(runs.flatMap(({ path }) => path));
    if (!box) return false;
    return [...this.before.controls].some(
      ({ id, at }) =>
        // Control sets of other beds are far off.
        boxHas(box, at, JOINT_TOLERANCE_M) &&
        this.after.controls.has(id) &&
        runs.some(({ path }) => isOn(path, at)),
    );
  }

  private areas(): readonly Pair<Area>[] {
    this.areaPairs ??= pairsOf(this.before.areas, this.after.areas).filter(
      ({ before, after }) => !before || !after || !sameShape(before, after),
    );
    return this.areaPairs;
  }

  /** Runs as they were before, by id, that are otherwise or gone. */
  private runs(): ReadonlyMap<string, Run> {
    this.runPairs ??= new Map(
      pairsOf(this.before.runs, this.after.runs).flatMap(({ before: was, after: now }) =>
        was && (!now || !sameRun(was, now)) ? [[was.id, was] as const] : [],
      ),
    );
    return this.runPairs;
  }

  private plants(): readonly Pair<Plant>[] {
    this.plantPairs ??= pairsOf(this.before.plants, this.after.plants).filter(
      ({ before, after }) =>
        !before || !after || before.plantClass !== after.plantClass || !samePoint(before.at, after.at),
    );
    return this.plantPairs;
  }

  private groundChanged(box: Box): boolean {
    const { before, after } = this;
    if (before.levels === after.levels && before.falls === after.falls) return false;
    const [was, now] = [keptGround(before), keptGround(after)];
    if (was.knows !== now.knows) return true;
    const [one, other] = [was.faces(box), now.faces(box)];
    return (
      one.length !== other.length ||
      one.some((face, i) => {
        const { ring, zM } = other[i]!;
        return (
          !samePath(face.ring, ring) || face.zM.length !== zM.length || face.zM.some((z, k) => z !== zM[k])
        );
      })
    );
  }

  /** Whether rings that rows keep clear of came, went or changed. */
  private ringsChanged(box: Box): boolean {
    const [a, b] = [this.before, this.after];
    if (a.fills === b.fills && a.plants === b.plants) return false;
    const within = (plan: Plan) =>
      ringGrounds(plan).filter(({ at: [x, y], radiusM }) =>
        meet(box, { minX: x - radiusM, minY: y - radiusM, maxX: x + radiusM, maxY: y + radiusM }),
      );
    const [was, now] = [within(a), within(b)];
    return (
      was.length !== now.length ||
      was.some(({ at, radiusM }, i) => !samePoint(at, now[i]!.at) || radiusM !== now[i]!.radiusM)
    );
  }

  private sourceChanged(places: Path, from: string | undefined): boolean {
    const [a, b] = [this.before, this.after];
    if (a.controls === b.controls && a.heads === b.heads && a.supplies === b.supplies) return false;
    const asked = (plan: Plan): Plan => {
      const control = from === undefined ? undefined : plan.controls.get(from);
      return control ? { ...plan, controls: Rows.of([control]) } : plan;
    };
    const [was, now] = [sourceNear(asked(a), places), sourceNear(asked(b), places)];
    return was === null || now === null ? was !== now : !samePoint(was, now);
  }
}

const grounds = new WeakMap<Plan['levels'], { readonly falls: Plan['falls']; readonly ground: Ground }>();

/** The ground of a plan, remembered while its levels are: a gesture compares with the same plan again and again. */
function keptGround(plan: Plan): Ground {
  const known = grounds.get(plan.levels);
  if (known?.falls === plan.falls) return known.ground;
  const ground = groundOf(plan);
  grounds.set(plan.levels, { falls: plan.falls, ground });
  return ground;
}

/** Records that are not the same object in two tables. */
function pairsOf<T extends { readonly id: string }>(before: Table<T>, after: Table<T>): Pair<T>[] {
  if (before === after) return [];
  const pairs: Pair<T>[] = [];
  for (const now of after) {
    const was = before.get(now.id);
    if (was !== now) pairs.push({ before: was, after: now });
  }
  for (const was of before) if (!after.has(was.id)) pairs.push({ before: was, after: undefined });
  return pairs;
}

function reaches(outline: Path, box: Box): boolean {
  const own = boxOf(outline);
  return own !== null && meet(own, grown(box, AROUND_BED_M));
}

export const samePoint = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];

export const samePath = (a: Path, b: Path): boolean =>
  a === b || (a.length === b.length && a.every((p, i) => samePoint(p, b[i]!)));

/** Whether two runs are the same tubing at the same place; names do not count. */
export function sameRun(a: Pick<Run, 'path' | 'tubing' | 'inline'>, b: typeof a): boolean {
  return a.tubing === b.tubing && samePath(a.path, b.path) && sameChoices(a.inline, b.inline);
}

function sameShape(a: Area, b: Area): boolean {
  return (
    a.use === b.use &&
    samePath(a.outline, b.outline) &&
    a.holes.length === b.holes.length &&
    a.holes.every((hole, i) => samePath(hole, b.holes[i]!))
  );
}

/** Whether two records of choices hold the same values. */
export function sameChoices(a: object | null, b: object | null): boolean {
  if (a === b) return true;
  if (!a || !b) return false;
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => {
      const [x, y] = [one[key], other[key]];
      return Array.isArray(x) && Array.isArray(y)
        ? x.length === y.length && x.every((item, i) => item === y[i])
        : x === y;
    })
  );
}
