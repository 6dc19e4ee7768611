import { nearestOnPath, pathLength } from '../../base/polyline.ts';
import { boxOf, distance, type Path } from '../../base/point.ts';
import type { Plan } from '../../plan/records.ts';
import { sharesOf } from './faces.ts';
import { groundOf, type Ground } from './index.ts';

/** How far a level may lie from the line of a cross-section to be marked on it, metres. */
export const LEVEL_NEAR_M = 1;
/** The same for stems and spray heads. */
export const THING_NEAR_M = 0.5;

/** Something beside the line of a cross-section, marked where it is nearest to it. */
export interface SectionMark {
  readonly table: 'levels' | 'falls' | 'plants' | 'heads';
  readonly id: string;
  /** Distance from the start in plan, and from the line, metres. */
  readonly alongM: number;
  readonly offM: number;
  /** Its own height where that was measured, else that of the ground on the line, metres. */
  readonly zM: number;
}

/** The ground along a line, seen from the side. All distances are in plan unless said otherwise, metres. */
export interface CrossSection {
  readonly knows: Ground['knows'];
  /** Where the slope changes, the ends among them; straight between. */
  readonly places: readonly { readonly alongM: number; readonly zM: number }[];
  readonly lengthM: number;
  readonly groundLengthM: number;
  readonly lowestM: number;
  readonly highestM: number;
  /** From end to end, percent of the length in plan; positive where it rises. */
  readonly overallPercent: number;
  /** Of the pieces that are long enough to stand on, the steepest; positive where it rises. */
  readonly steepest: { readonly fromM: number; readonly toM: number; readonly percent: number } | null;
  /** Parts where the ground is carried on beyond the levels. */
  readonly outside: readonly { readonly fromM: number; readonly toM: number }[];
  readonly marks: readonly SectionMark[];
}

/** A shorter piece may be as steep as rounding wants, metres. */
const SHORTEST_M = 0.05;

/** The ground along a path of two or more places; null for a path without length. */
export function crossSection(plan: Plan, path: Path): CrossSection | null {
  const lengthM = path.length > 1 ? pathLength(path) : 0;
  if (!(lengthM > 0) || !Number.isFinite(lengthM)) return null;
  const ground = groundOf(plan);
  const profile = ground.profile(path);
  const places = profile.planAlong.map((alongM, i) => ({ alongM, zM: profile.zM[i]! }));
  const heights = profile.zM;
  let steepest: CrossSection['steepest'] = null;
  for (let i = 1; i < places.length; i++) {
    const [a, b] = [places[i - 1]!, places[i]!];
    const run = b.alongM - a.alongM;
    if (run < Math.min(SHORTEST_M, lengthM)) continue;
    const percent = ((b.zM - a.zM) / run) * 100;
    if (!steepest || Math.abs(percent) > Math.abs(steepest.percent) + 1e-9) {
      steepest = { fromM: a.alongM, toM: b.alongM, percent };
    }
  }
  return {
    knows: ground.knows,
    places,
    lengthM,
    groundLengthM: profile.groundLengthM,
    lowestM: Math.min(...heights),
    highestM: Math.max(...heights),
    overallPercent: ((heights.at(-1)! - heights[0]!) / lengthM) * 100,
    steepest,
    outside: ground.knows === 'slope' ? outsideOf(ground, path, lengthM) : [],
    marks: marksOf(plan, ground, path),
  };
}

function outsideOf(ground: Ground, path: Path, lengthM: number): { fromM: number; toM: number }[] {
  const inside: [number, number][] = [];
  let along = 0;
  for (let i = 1; i < path.length; i++) {
    const leg = [path[i - 1]!, path[i]!] as const;
    const step = distance(...leg);
    const box = boxOf(leg)!;
    for (const [from, to] of sharesOf(ground.faces(box), 'inside', leg)) {
      inside.push([along + from * step, along + to * step]);
    }
    along += step;
  }
  const outside: { fromM: number; toM: number }[] = [];
  let before = 0;
  for (const [from, to] of [...inside, [lengthM, lengthM] as const]) {
    if (from - before > 1e-6) outside.push({ fromM: before, toM: from });
    before = to;
  }
  return outside;
}

function marksOf(plan: Plan, ground: Ground, path: Path): SectionMark[] {
  const marks: SectionMark[] = [];
  const note = (
    table: SectionMark['table'],
    id: string,
    at: Path[number],
    reachM: number,
    zM: number | null,
  ) => {
    const near = nearestOnPath(path, at);
    if (near.distance > reachM) return;
    marks.push({
      table,
      id,
      alongM: near.along,
      offM: near.distance,
      zM: zM ?? ground.heightAt(near.point).zM,
    });
  };
  for (const { id, at, zM } of plan.levels) note('levels', id, at, LEVEL_NEAR_M, zM);
  for (const { id, from, to } of plan.falls) {
    for (const at of [from, to]) note('falls', id, at, LEVEL_NEAR_M, ground.heightAt(at).zM);
  }
  for (const table of ['plants', 'heads'] as const) {
    for (const { id, at } of plan[table]) note(table, id, at, THING_NEAR_M, null);
  }
  return marks.sort((a, b) => a.alongM - b.alongM);
}
