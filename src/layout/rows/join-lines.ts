import { boxOf, distance, type Box, type Path, type Point } from '../../base/point.ts';
import { nearestOnPath, pathLength, pointAlong, segmentsCross } from '../../base/polyline.ts';
import type { Cutter } from './cut-line.ts';

/** A line of dripline that is to carry water. A closed one repeats its first place at its end. */
export interface LooseLine {
  readonly path: Path;
  readonly isClosed: boolean;
  /** Only lines of the same or a neighbouring tier are joined; none: any. */
  readonly tier?: number | undefined;
}

export interface JoinedLines {
  /** Where water enters each line. */
  readonly feeds: readonly Point[];
  /** Blank tubing from line to line, from where water comes. */
  readonly headers: readonly Path[];
  /** Where water enters lines that nothing else feeds: one for each part that hangs together. */
  readonly starts: readonly Point[];
}

interface Link {
  readonly from: Point;
  readonly to: Point;
  readonly cost: number;
}

/** A metre along a line from where its water enters counts for so much of a metre of header. */
const ALONG_SHARE = 0.05;
/** So many ways from line to line are looked at before they count as apart. */
const MOST_TRIES = 40;

/**
 * Joins lines by short straight headers, each line to the nearest that has water already, the first one where water
 * comes from (Prim's shortest tree). Headers stay in the region and cross no line.
 * @param away how far a place lies from where water comes from
 */
export function joinLines(
  lines: readonly LooseLine[],
  region: Cutter,
  away: (at: Point) => number,
): JoinedLines {
  const feeds: (Point | null)[] = lines.map(() => null);
  const links: (Link | null)[] = lines.map(() => null);
  const boxes = lines.map(({ path }) => boxOf(path)!);
  const headers: Point[][] = [];
  const starts: Point[] = [];
  const take = (i: number, feed: Point): void => {
    feeds[i] = feed;
    lines.forEach((other, j) => {
      if (feeds[j] || !areNear(lines[i]!, other)) return;
      const known = links[j]?.cost ?? Infinity;
      if (apart(boxes[i]!, boxes[j]!) >= known) return;
      const link = linkBetween(lines, i, j, feed, region, known);
      if (link) links[j] = link;
    });
  };
  for (let left = lines.length; left > 0; left--) {
    let next = -1;
    lines.forEach((_, j) => {
      if (!feeds[j] && links[j] && (next < 0 || links[j]!.cost < links[next]!.cost)) next = j;
    });
    if (next >= 0) {
      const { from, to } = links[next]!;
      const onward = headers.find((path) => distance(path.at(-1)!, from) < 1e-6);
      if (onward) onward.push(to);
      else if (distance(from, to) > 1e-6) headers.push([from, to]);
      take(next, to);
      continue;
    }
    let start: { line: number; at: Point; value: number } | null = null;
    lines.forEach(({ path, isClosed }, j) => {
      if (feeds[j]) return;
      // Open lines are best fed at an end.
      for (const at of isClosed ? path : [path[0]!, path.at(-1)!]) {
        const value = away(at);
        if (!start || value < start.value) start = { line: j, at, value };
      }
    });
    const { line, at } = start!;
    starts.push(at);
    take(line, at);
  }
  return { feeds: feeds as Point[], headers, starts };
}

function areNear(a: LooseLine, b: LooseLine): boolean {
  return a.tier === undefined || b.tier === undefined || Math.abs(a.tier - b.tier) <= 1;
}

/** Least distance of two boxes, metres. */
function apart(a: Box, b: Box): number {
  const dx = Math.max(0, a.minX - b.maxX, b.minX - a.maxX);
  const dy = Math.max(0, a.minY - b.maxY, b.minY - a.maxY);
  return Math.hypot(dx, dy);
}

/** The best straight way between two lines that costs less than one known. */
function linkBetween(
  lines: readonly LooseLine[],
  i: number,
  j: number,
  feed: Point,
  region: Cutter,
  known: number,
): Link | null {
  const [a, b] = [lines[i]!.path, lines[j]!.path];
  const found: Link[] = [];
  const add = (from: Point, to: Point): void => {
    const cost = distance(from, to) + ALONG_SHARE * distance(from, feed);
    if (cost < known) found.push({ from, to, cost });
  };
  add(feed, nearestOnPath(b, feed).point);
  for (const p of a) add(p, nearestOnPath(b, p).point);
  for (const p of b) add(nearestOnPath(a, p).point, p);
  found.sort((one, other) => one.cost - other.cost);
  return found.slice(0, MOST_TRIES).find((link) => isFree(lines, i, j, link, region)) ?? null;
}

function isFree(
  lines: readonly LooseLine[],
  i: number,
  j: number,
  { from, to }: Link,
  region: Cutter,
): boolean {
  if (distance(from, to) < 1e-6) return true;
  if (!region.holds(from, to)) return false;
  return lines.every(
    ({ path }, k) =>
      k === i || k === j || path.slice(1).every((q, n) => !segmentsCross(from, to, path[n]!, q)),
  );
}

/**
 * A closed line that begins and ends opposite to where its water enters, so that its end can be opened for flushing.
 */
export function openedOpposite(path: Path, feed: Point): Path {
  const length = pathLength(path);
  const { along } = nearestOnPath(path, feed);
  const seam = (along + length / 2) % length;
  const start = pointAlong(path, seam);
  const points: Point[] = [start];
  let before = 0;
  const rest: Point[] = [];
  path.slice(1).forEach((p, i) => {
    before += distance(path[i]!, p);
    if (before > seam + 1e-9) points.push(p);
    else rest.push(p);
  });
  points.push(...rest);
  const kept = points.filter((p, i) => i === 0 || distance(points[i - 1]!, p) > 1e-6);
  if (distance(kept.at(-1)!, start) <= 1e-6) kept.pop();
  return [...kept, start];
}

/** An open line that begins at the end nearer to where its water enters. */
export function fromFeed(path: Path, feed: Point): Path {
  return distance(path[0]!, feed) <= distance(path.at(-1)!, feed) ? path : path.toReversed();
}
