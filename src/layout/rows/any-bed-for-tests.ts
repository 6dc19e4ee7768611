import { between, boxOf, distance, polar, type Path, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing, polygonContains } from '../../base/polygon.ts';
import { segmentsCross } from '../../base/polyline.ts';
import { Table } from '../../base/table.ts';
import { control, supply } from '../../derive/plan-for-tests.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import type { Level, Plan } from '../../plan/records.ts';
import type { Filled, NewRun } from './choices.ts';

/** Beds and ground by chance, and what must hold of all that is drawn in them. */

/** Outlines like stars, with deep notches. */
export const starOf = (at: Point, radii: readonly number[], turnDeg: number): Ring =>
  radii.map((radius, i) => polar(at, radius, turnDeg + (360 * i) / radii.length));

export type GroundAt = (p: Point) => number;

/** Levels on a net over x 5 to 35, y 0 to 30. */
export function levelsOn(zAt: GroundAt, steps = 15): Table<Level> {
  const levels: Level[] = [];
  for (let i = 0; i <= steps; i++)
    for (let j = 0; j <= steps; j++) {
      const at: Point = [5 + (30 * i) / steps, (30 * j) / steps];
      levels.push({ id: `Z${levels.length}`, at, zM: zAt(at) });
    }
  return Table.of(levels);
}

/** A slope with hills and hollows on it. */
export function hilly(
  rise: readonly [number, number],
  hills: readonly (readonly [x: number, y: number, heightM: number, widthM: number])[],
): GroundAt {
  return ([x, y]) =>
    rise[0] * x +
    rise[1] * y +
    hills.reduce(
      (sum, [hx, hy, height, width]) =>
        sum + height * Math.exp(-((x - hx) ** 2 + (y - hy) ** 2) / width ** 2),
      0,
    );
}

function must(holds: boolean, what: string): void {
  if (!holds) throw new Error(what);
}

/** Every place of the runs lies in the outline, in nothing left out, and as far from all edges as asked. */
export function expectInside(
  runs: readonly NewRun[],
  outline: Ring,
  out: readonly Ring[],
  edgeM: number,
  slackM: number,
): void {
  for (const { path } of runs)
    for (const [i, b] of path.slice(1).entries())
      for (let k = 0; k <= 4; k++) {
        const at = between(path[i]!, b, k / 4);
        const away = Math.min(...[outline, ...out].map((ring) => distanceToRing(ring, at)));
        if (away > edgeM - slackM) {
          if (away < 0.02) continue;
          must(polygonContains(outline, [], at), `outside at ${at.join(', ')}`);
          for (const ring of out)
            must(!polygonContains(ring, [], at), `in what is left out at ${at.join(', ')}`);
        } else must(false, `${away} m from an edge at ${at.join(', ')}`);
      }
}

/** No two of the paths have a place in common. */
export function expectApart(paths: readonly Path[]): void {
  const boxes = paths.map((path) => boxOf(path)!);
  paths.forEach((a, i) => {
    for (let j = i + 1; j < paths.length; j++) {
      const [p, q] = [boxes[i]!, boxes[j]!];
      if (p.maxX < q.minX || q.maxX < p.minX || p.maxY < q.minY || q.maxY < p.minY) continue;
      const b = paths[j]!;
      for (let m = 1; m < a.length; m++)
        for (let n = 1; n < b.length; n++)
          if (segmentsCross(a[m - 1]!, a[m]!, b[n - 1]!, b[n]!))
            must(false, `lines ${i} and ${j} meet near ${a[m]!.join(', ')}`);
    }
  });
}

/** With a control set at each start all runs carry water and all emitters are there. */
export function expectWatered(plan: Plan, { runs, flushEnds, starts, figures }: Filled): void {
  const built = buildPlanNetwork({
    ...plan,
    runs: Table.of(runs.map((run, i) => ({ ...run, id: `R${i}` }))),
    flushEnds: Table.of(flushEnds.map(({ run, end }, i) => ({ id: `F${i}`, runId: `R${run}`, end }))),
    supplies: Table.of(starts.map((at, i) => supply(`V${i}`, at))),
    controls: Table.of(starts.map((at, i) => control(`C${i}`, at))),
  });
  const dry = built.notices.filter(({ rule }) => /^run-(loose|apart|without-length)/.test(rule));
  must(dry.length === 0, dry.map(({ message }) => message).join(' '));
  must(
    built.outlets.length === figures.emitters,
    `${built.outlets.length} outlets for ${figures.emitters} emitters`,
  );
}

/** Places along a path, about so far apart. */
export function placesAlong(path: Path, everyM: number): Point[] {
  return path.slice(1).flatMap((b, i) => {
    const a = path[i]!;
    const steps = Math.max(1, Math.round(distance(a, b) / everyM));
    return Array.from({ length: steps }, (_, k) => between(a, b, (k + 0.5) / steps));
  });
}
