import { directionDeg, type Point } from '../../../base/point.ts';
import type { PipeGraph } from './graph.ts';

/** Direction in which a pipe leaves a node, degrees counter-clockwise from east. */
export function leavingDeg(graph: PipeGraph, node: number, e: number): number {
  const { from, a, b } = graph.edges[e]!;
  const [start, end]: readonly [Point, Point] = from === node ? [a, b] : [b, a];
  return directionDeg(start, end);
}

/** Angle between two directions, 0 to 180 degrees. */
export function angleBetween(p: number, q: number): number {
  const turn = Math.abs(p - q) % 360;
  return turn > 180 ? 360 - turn : turn;
}

/** By how much a way turns that comes in by one pipe and leaves by the other, 0 to 180 degrees; 0 is straight on. */
export function turnAt(graph: PipeGraph, node: number, incoming: number, outgoing: number): number {
  return 180 - angleBetween(leavingDeg(graph, node, incoming), leavingDeg(graph, node, outgoing));
}

/** Whether two pipes run in parallel, either way, within some degrees. */
export function areParallel(p: number, q: number, withinDeg: number): boolean {
  const angle = angleBetween(p, q);
  return Math.min(angle, 180 - angle) <= withinDeg;
}
