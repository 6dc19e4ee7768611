import type { Box, Point } from '../base/point.ts';
import type { Layer, Mark } from '../drawing/marks.ts';
import { decluttered } from './declutter.ts';
import type { View } from './page.ts';
import { markParts, partBox } from './projection.ts';

/** A box of ground that a drawing at one scale needs on paper, symbols and lettering as printed included, metres. */
export function groundExtent(layers: readonly Layer[], mmPerMetre: number): Box | null {
  const marks = decluttered(layers, mmPerMetre).flatMap((layer) => layer.marks);
  return extentOf(drawnMarks(marks), mmPerMetre);
}

/** The photo lies under the drawing and may be much larger; it counts only when there is nothing else. */
export function drawnMarks(marks: readonly Mark[]): readonly Mark[] {
  const drawn = marks.filter((mark) => mark.kind !== 'photo');
  return drawn.length > 0 ? drawn : marks;
}

/** Box on the ground that marks fill at a scale; `null` without marks. Places that are no numbers are left out. */
export function extentOf(marks: readonly Mark[], mmPerMetre: number): Box | null {
  let all: Box | null = null;
  for (const mark of marks) {
    const box = markExtent(mark, mmPerMetre);
    if (box) all = all ? union(all, box) : box;
  }
  return all;
}

/** Box on the ground that one mark fills at a scale. */
export function markExtent(mark: Mark, mmPerMetre: number): Box | null {
  // A window without size about the ground's origin, so that paper is ground in millimetres with y turned over.
  const view: View = { window: { x: 0, y: 0, w: 0, h: 0 }, mmPerMetre, middle: ORIGIN };
  let all: Box | null = null;
  for (const part of markParts(mark, view)) {
    const box = partBox(part);
    if (!box || !Object.values(box).every(Number.isFinite)) continue;
    const ground: Box = {
      minX: box.minX / mmPerMetre,
      maxX: box.maxX / mmPerMetre,
      minY: -box.maxY / mmPerMetre,
      maxY: -box.minY / mmPerMetre,
    };
    all = all ? union(all, ground) : ground;
  }
  return all;
}

const ORIGIN: Point = [0, 0];

export function union(a: Box, b: Box): Box {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}
