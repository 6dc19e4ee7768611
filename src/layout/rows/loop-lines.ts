import { greatestWidth, inset, regionArea, type Region } from '../../base/clip.ts';
import type { Path } from '../../base/point.ts';
import { pathLength } from '../../base/polyline.ts';
import { ringLength } from '../../base/polygon.ts';
import { FOOT_M } from '../../base/units.ts';
import { roundedCorners } from './bends.ts';
import { componentsOf } from './components.ts';
import { cutterOf } from './cut-line.ts';
import type { LooseLine } from './join-lines.ts';
import { middleLines } from './middle-lines.ts';
import { straightened } from './ring-walk.ts';

/** A loop, or a line along the middle of ground in which a loop has no room. */
export interface LoopLine extends LooseLine {
  readonly kind: 'loop' | 'middle';
}

export interface LoopLines {
  readonly lines: readonly LoopLine[];
  /** Between loops, in plan, metres. */
  readonly spacingM: number;
  /** Of the region, in plan, metres. */
  readonly widthM: number;
}

/** Sides of a loop nearer to each other than this share of the spacing are one line along the middle. */
const ONE_LINE = 0.5;
/** Loops come nearer to each other by so much of the spacing rather than lie farther apart than a quarter more. */
const WIDER = 0.25;
/** A line along the middle lies at least this share of the spacing from the loop round it. */
const FROM_LOOP = 0.65;

/** How many spaces lie across ground of a width, so that none is more than a quarter wider than asked. */
export function spacesAcross(widthM: number, spacingM: number): number {
  return Math.max(1, Math.ceil(widthM / spacingM - WIDER - 1e-9));
}

/**
 * Width of ground that is a strip, straight or bent, metres: that of the rectangle of equal area and outline. A bend or a
 * bulge is wider; ground that is no strip has its greatest width.
 */
export function stripWidth(region: Region): number {
  const half = region.reduce((sum, ring) => sum + ringLength(ring), 0) / 2;
  const root = (half * half) / 4 - regionArea(region);
  const widest = greatestWidth(region);
  return root < 0 ? widest : Math.min(widest, half / 2 - Math.sqrt(root));
}

/**
 * Loops along the edge of a region, and further loops within while there is room; where sides would lie nearly on each
 * other, or as far apart as two spacings, a line along the middle.
 * @param spacingM asked for, in plan
 * @param bendM least radius of the tubing
 * @param equalise spread evenly over the width, in place of the spacing as asked
 */
export function loopLines(
  region: Region,
  spacingM: number,
  equalise: boolean,
  leastLengthM: number,
  mostLoops: number,
  bendM: number,
): LoopLines {
  const widthM = stripWidth(region);
  const spaces = spacesAcross(widthM, spacingM);
  const pitch = equalise && widthM >= ONE_LINE * spacingM ? widthM / spaces : spacingM;
  const lines: LoopLine[] = [];
  const middle = (part: Region, width: number, clearM: number, tier: number): void => {
    for (const path of middleLines(part, width, clearM, leastLengthM))
      lines.push({ kind: 'middle', path, isClosed: false, tier });
  };
  const isLoop = (part: Region): boolean => stripWidth(part) >= ONE_LINE * pitch;
  let parts = componentsOf(region);
  for (const part of parts) if (!isLoop(part)) middle(part, stripWidth(part), 0, 0);
  parts = parts.filter(isLoop);
  for (let tier = 0; parts.length > 0 && lines.length <= mostLoops; tier++) {
    // Always from the first region: rounded corners of one inset would grow more corners in the next.
    const next = componentsOf(inset(region, (tier + 1) * pitch)).filter(isLoop);
    for (const part of parts) {
      for (const ring of part) {
        const path = loopOf(ring, bendM);
        if (path.length > 3 && pathLength(path) >= leastLengthM)
          lines.push({ kind: 'loop', path, isClosed: true, tier });
      }
      const holds = cutterOf(part).contains;
      if (next.some((child) => holds(child[0]![0]!))) continue;
      const width = stripWidth(part);
      if (width > 1.5 * pitch) middle(part, width, FROM_LOOP * pitch, tier + 1);
    }
    parts = next;
  }
  return { lines, spacingM: pitch, widthM };
}

/** Radius up to which a corner round what is left out is cut: a rounder one would come too near to it, metres. */
const ROUND_KEPT_OFF_M = FOOT_M / 2;

/** A ring as a closed line that tubing can follow; the region lies to its left. */
function loopOf(ring: Path, bendM: number): Path {
  // Cut at the corner farthest from the first, so that none of both is straightened away.
  const half = ring.length >> 1;
  const plain = [
    ...straightened(ring.slice(0, half + 1)).slice(0, -1),
    ...straightened([...ring.slice(half), ring[0]!]),
  ];
  return roundedCorners(plain, true, bendM, Math.min(bendM, ROUND_KEPT_OFF_M));
}
