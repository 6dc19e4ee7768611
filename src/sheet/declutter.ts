import type { Box, Point } from '../base/point.ts';
import type { Layer, Mark, TextMark } from '../drawing/marks.ts';
import { textWidth } from './lettering.ts';
import type { View } from './page.ts';
import { markParts, partBox } from './projection.ts';

/** Symbols of this size and more are kept free of lettering where possible, millimetres. */
const OBSTACLE_MM = 2;
/** Clear paper between two texts, millimetres. */
const CLEAR_MM = 0.3;
/** Covering a symbol is this much better than covering another text. */
const SYMBOL_WEIGHT = 0.4;
/** What a millimetre away from its own place costs a text, in square millimetres of covered paper. */
const AWAY = 0.12;

/** Texts that belong together, such as a bed's name and its area. */
interface Group {
  readonly texts: readonly TextMark[];
  readonly rank: number;
}

/**
 * Layers with their lettering moved apart as one scale needs it: where texts would lie on each other, or on a
 * symbol, the lesser one steps aside by up to two lines or a little along its line. Order, size and wording stay;
 * a text for which no place is better keeps its own. The same layers at the same scale always give the same.
 */
export function decluttered(layers: readonly Layer[], mmPerMetre: number): Layer[] {
  const view: View = { window: { x: 0, y: 0, w: 0, h: 0 }, mmPerMetre, middle: [0, 0] };
  const marks = layers.flatMap((layer) => layer.marks);
  const symbols = marks.flatMap((mark) =>
    mark.kind === 'symbol' && mark.sizeMm >= OBSTACLE_MM ? boxesOf(mark, view) : [],
  );
  const placed: Box[] = [];
  const moved = new Map<TextMark, TextMark>();
  for (const group of groupsOf(marks)) {
    let best: readonly TextMark[] = group.texts;
    let least = Infinity;
    for (const [along, down] of steps(group)) {
      const texts = group.texts.map((text) => shiftedBy(text, along, down));
      const boxes = texts.flatMap((text) => boxesOf(text, view));
      const cost =
        covered(boxes, placed) + SYMBOL_WEIGHT * covered(boxes, symbols) + AWAY * Math.hypot(along, down);
      if (cost < least - 1e-9) {
        least = cost;
        best = texts;
      }
      if (along === 0 && down === 0 && cost === 0) break;
    }
    group.texts.forEach((text, i) => moved.set(text, best[i]!));
    placed.push(...best.flatMap((text) => boxesOf(text, view)).map(wider));
  }
  return layers.map((layer) => ({
    name: layer.name,
    marks: layer.marks.map((mark) => (mark.kind === 'text' ? (moved.get(mark) ?? mark) : mark)),
  }));
}

/** Groups of texts, the most important first: bold before light, large before small, else as drawn. */
function groupsOf(marks: readonly Mark[]): Group[] {
  const groups = new Map<string, TextMark[]>();
  marks.forEach((mark, i) => {
    if (mark.kind !== 'text') return;
    const key =
      mark.owner === undefined ? `#${i}` : `${mark.owner} ${mark.at.join(' ')} ${mark.turnDeg ?? 0}`;
    const group = groups.get(key);
    if (group) group.push(mark);
    else groups.set(key, [mark]);
  });
  return [...groups.values()]
    .map((texts) => ({
      texts,
      rank: Math.max(...texts.map((text) => text.sizeMm + (text.bold ? 10 : 0))),
    }))
    .sort((a, b) => b.rank - a.rank);
}

/** Steps to try, the text's own place first: across its line, then along it, then both. */
function steps({ texts }: Group): Point[] {
  const line = Math.max(...texts.map((text) => text.sizeMm)) * 1.15;
  const width = Math.max(...texts.map((text) => textWidth(text.text, text.sizeMm, text.bold)));
  const downs = [0, line, -line, 2 * line, -2 * line];
  const alongs = [0, width * 0.5, -width * 0.5, width, -width];
  return alongs.flatMap((along) => downs.map((down): Point => [along, down]));
}

function shiftedBy(text: TextMark, along: number, down: number): TextMark {
  if (along === 0 && down === 0) return text;
  const [x, y] = text.shiftMm ?? [0, 0];
  return { ...text, shiftMm: [x + along, y + down] };
}

function boxesOf(mark: Mark, view: View): Box[] {
  return markParts(mark, view).flatMap((part) => {
    const box = partBox(part);
    return box && Object.values(box).every(Number.isFinite) ? [box] : [];
  });
}

function wider({ minX, minY, maxX, maxY }: Box): Box {
  return { minX: minX - CLEAR_MM, minY: minY - CLEAR_MM, maxX: maxX + CLEAR_MM, maxY: maxY + CLEAR_MM };
}

/** Paper of the first boxes that lies under the others, mm2, doubly covered paper counted twice. */
function covered(boxes: readonly Box[], others: readonly Box[]): number {
  let sum = 0;
  for (const a of boxes) {
    for (const b of others) {
      const w = Math.min(a.maxX, b.maxX) - Math.max(a.minX, b.minX);
      const h = Math.min(a.maxY, b.maxY) - Math.max(a.minY, b.minY);
      if (w > 0 && h > 0) sum += w * h;
    }
  }
  return sum;
}
