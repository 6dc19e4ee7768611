import { boxHas, boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import type { Table } from '../../base/table.ts';
import { groundOf, type Ground } from '../../derive/ground/index.ts';
import { JOINT_TOLERANCE_M } from '../../plan/joining.ts';
import type { Area, Fill, Plan, Plant, Run } from '../../plan/records.ts';
import { sourceNear } from '../rows/source-near.ts';
import { grown, isOn, meet, runsOf } from './lead.ts';

/** What of a fill is out of date: its rows, or only the tubing that leads water to it. */
export type Stale = 'rows' | 'lead';

/** Ground about a bed whose slope may count for its rows, metres. */
const AROUND_BED_M = 2;
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

  /** What of a fill, in both plans and laid by the same choices, is out of date. */
  staleOf(fill: Fill): Stale | null {
    const place = fill.kind === 'bed' ? this.ofBed(fill) : this.ofTree(fill);
    return place ? 'rows' : fill.leadIds && this.ofLead(fill) ? 'lead' : null;
  }

  private ofBed({ areaId, choices }: Fill & { kind: 'bed' }): boolean {
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
      this.sourceChanged(bed.outline)
    );
  }

  private ofTree({ plantId }: Fill & { kind: 'tree' }): boolean {
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
      this.sourceChanged([plant.at])
    );
  }

  /** Whether something came into or out of the way of the leads, rows among it, or the tubing that they begin on has moved. */
  private ofLead(fill: Fill): boolean {
    const leads = fill.leadIds?.flatMap((id) => this.before.runs.get(id) ?? []) ?? [];
    const box = boxOf(leads.flatMap(({ path }) => path));
    if (!box) return false;
    const reach = (area: Area | undefined): boolean => area !== undefined && reaches(area.outline, box);
    if (this.areas().some(({ before, after }) => reach(before) || reach(after))) return true;
    if (this.newlyFilled().some(({ id, areaId }) => id !== fill.id && reach(this.after.areas.get(areaId))))
      return true;
    const own = new Set(fill.runIds);
    const starts = leads.map(({ path }) => path[0]!);
    return [...this.runs()].some(
      ([id, { inline, path }]) => !own.has(id) && !inline && starts.some((at) => isOn(path, at)),
    );
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

  /** Fills of beds that were not there before. */
  private newlyFilled(): readonly (Fill & { kind: 'bed' })[] {
    const { before, after } = this;
    if (before.fills === after.fills) return [];
    return [...after.fills].flatMap((fill) =>
      fill.kind === 'bed' && !before.fills.has(fill.id) ? [fill] : [],
    );
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

  private sourceChanged(places: Path): boolean {
    const [a, b] = [this.before, this.after];
    if (a.controls === b.controls && a.heads === b.heads && a.supplies === b.supplies) return false;
    const [was, now] = [sourceNear(a, places), sourceNear(b, places)];
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
