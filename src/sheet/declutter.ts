import type { Box, Point } from '../base/point.ts';
import type { Layer, Mark, TextMark } from '../drawing/marks.ts';
import { CAPITALS, textWidth } from './lettering.ts';
import { BoxGrid } from './box-grid.ts';
import type { View } from './page.ts';
import { markParts, partBox } from './projection.ts';

/** Symbols of this size and more are kept free of lettering where possible, millimetres. */
const OBSTACLE_MM = 1.5;
/** Clear paper between two texts, millimetres. */
const CLEAR_MM = 0.3;
/** What it costs to cover a square millimetre of another text and of a symbol, and to stand a millimetre away. */
const ON_TEXT = 3;
const ON_SYMBOL = 0.4;
const AWAY = 0.12;
/** Share of a text that may lie on other lettering's clear paper before the text counts as crowded out. */
const TOUCHING = 0.2;

/** Texts that belong together, such as a bed's name and its area. */
interface Group {
  readonly texts: readonly TextMark[];
  readonly rank: number;
  readonly mayDrop: boolean;
}

/** A place to try for the texts of a group. */
interface Try {
  readonly texts: readonly TextMark[];
  /** How far it is from their own place, millimetres. */
  readonly awayMm: number;
}

/**
 * Layers with their lettering as one scale needs it: texts longer than what they stand for are left out; where
 * texts would lie on each other, or on a symbol, the lesser one steps aside by up to two lines or a little along
 * its line. Lettering beside its place goes to another side of it, a length along its own side or farther off it, so that neither can
 * be taken for its neighbour's. Order, size and wording stay; a text for which no place is better keeps its own,
 * but one that may drop comes last and is left out where its best place still lies on other lettering.
 * The same layers at the same scale always give the same.
 */
export function decluttered(layers: readonly Layer[], mmPerMetre: number): Layer[] {
  const view: View = { window: { x: 0, y: 0, w: 0, h: 0 }, mmPerMetre, middle: [0, 0] };
  const fitting = layers.map(({ name, marks }) => ({
    name,
    marks: marks.filter((mark) => mark.kind !== 'text' || fits(mark, mmPerMetre)),
  }));
  const marks = fitting.flatMap((layer) => layer.marks);
  const symbols = new BoxGrid();
  for (const mark of marks) {
    if (mark.kind === 'symbol' && mark.sizeMm >= OBSTACLE_MM) {
      boxesOf(mark, view).forEach((box) => symbols.add(box));
    }
  }
  const placed = new BoxGrid();
  const moved = new Map<TextMark, TextMark>();
  const dropped = new Set<Mark>();
  for (const group of groupsOf(marks)) {
    let best: readonly TextMark[] = group.texts;
    let least = Infinity;
    for (const { texts, awayMm } of triesFor(group, mmPerMetre)) {
      if (AWAY * awayMm >= least) continue;
      const boxes = texts.flatMap((text) => boxesOf(text, view));
      const cost = ON_TEXT * placed.covered(boxes) + ON_SYMBOL * symbols.covered(boxes) + AWAY * awayMm;
      if (cost < least - 1e-9) {
        least = cost;
        best = texts;
      }
      if (awayMm === 0 && cost === 0) break;
    }
    const boxes = best.flatMap((text) => boxesOf(text, view));
    if (group.mayDrop && placed.covered(boxes) > TOUCHING * areaOf(boxes)) {
      group.texts.forEach((text) => dropped.add(text));
      continue;
    }
    group.texts.forEach((text, i) => moved.set(text, best[i]!));
    boxes.forEach((box) => placed.add(wider(box)));
  }
  return fitting.map((layer) => ({
    name: layer.name,
    marks: layer.marks
      .filter((mark) => !dropped.has(mark))
      .map((mark) => (mark.kind === 'text' ? (moved.get(mark) ?? mark) : mark)),
  }));
}

function widthOf(text: TextMark): number {
  return textWidth(text.text, text.sizeMm, text.bold);
}

function fits(text: TextMark, mmPerMetre: number): boolean {
  return text.fitM === undefined || widthOf(text) <= text.fitM * mmPerMetre;
}

/** Groups of texts, the most important first: bold before light, large before small, those that may drop last, else as drawn. */
function groupsOf(marks: readonly Mark[]): Group[] {
  const groups = new Map<string, TextMark[]>();
  marks.forEach((mark, i) => {
    if (mark.kind !== 'text') return;
    const key =
      mark.owner === undefined
        ? `#${i}`
        : `${mark.owner} ${mark.at.join(' ')} ${mark.turnDeg ?? 0} ${mark.mayDrop ?? false}`;
    const group = groups.get(key);
    if (group) group.push(mark);
    else groups.set(key, [mark]);
  });
  return [...groups.values()]
    .map((texts) => ({
      texts,
      rank: Math.max(...texts.map((text) => text.sizeMm + (text.bold ? 10 : 0) - (text.mayDrop ? 100 : 0))),
      mayDrop: texts.every((text) => text.mayDrop === true),
    }))
    .sort((a, b) => b.rank - a.rank);
}

/** Places to try, the texts' own first. */
function triesFor({ texts }: Group, mmPerMetre: number): Try[] {
  const [text] = texts;
  if (texts.length === 1 && text?.fitM !== undefined) return alongSide(text, text.fitM * mmPerMetre);
  if (texts.length === 1 && text && text.anchor !== 'middle') return aroundPlace(text);
  return steps(texts);
}

/** A little along its side, farther along it as far as the side reaches, then a line or two farther off the side. */
function alongSide(text: TextMark, sideMm: number): Try[] {
  const width = widthOf(text);
  const free = Math.max(0, (sideMm - width) / 2);
  const offs = [0, 1, 2].map((lines) => lines * text.sizeMm * 1.15 * ((text.shiftMm?.[1] ?? 0) < 0 ? -1 : 1));
  const alongs = [1.1 * width, 2.2 * width, free].filter((along) => along <= free);
  return offs.flatMap((down) =>
    [0, ...alongs.flatMap((along) => [along, -along])].map((along) => ({
      texts: [shiftedBy(text, along, down)],
      awayMm: Math.hypot(along, down),
    })),
  );
}

/** The four quarters about its place, then below and above it. */
function aroundPlace(text: TextMark): Try[] {
  const [x, y] = text.shiftMm ?? [0, 0];
  const below = CAPITALS * text.sizeMm - y;
  const other = text.anchor === 'start' ? 'end' : 'start';
  const far = Math.abs(x) + text.sizeMm;
  const middle = { ...text, anchor: 'middle' } as const;
  return [
    { texts: [text], awayMm: 0 },
    { texts: [{ ...text, shiftMm: [x, below] }], awayMm: 1 },
    { texts: [{ ...text, anchor: other, shiftMm: [-x, y] }], awayMm: 1 },
    { texts: [{ ...text, anchor: other, shiftMm: [-x, below] }], awayMm: 1.5 },
    { texts: [{ ...middle, shiftMm: [0, far] }], awayMm: 2 },
    { texts: [{ ...middle, shiftMm: [0, CAPITALS * text.sizeMm - far] }], awayMm: 2 },
  ];
}

/** Steps to try: across the line, then along it, then both. */
function steps(texts: readonly TextMark[]): Try[] {
  const line = Math.max(...texts.map((text) => text.sizeMm)) * 1.15;
  const width = Math.max(...texts.map(widthOf));
  const downs = [0, line, -line, 2 * line, -2 * line];
  const alongs = [0, width * 0.5, -width * 0.5, width, -width];
  return alongs.flatMap((along) =>
    downs.map((down) => ({
      texts: texts.map((text) => shiftedBy(text, along, down)),
      awayMm: Math.hypot(along, down),
    })),
  );
}

function shiftedBy(text: TextMark, along: number, down: number): TextMark {
  if (along === 0 && down === 0) return text;
  const [x, y]: Point = text.shiftMm ?? [0, 0];
  return { ...text, shiftMm: [x + along, y + down] };
}

function boxesOf(mark: Mark, view: View): Box[] {
  return markParts(mark, view).flatMap((part) => {
    const box = partBox(part);
    return box && Object.values(box).every(Number.isFinite) ? [box] : [];
  });
}

function areaOf(boxes: readonly Box[]): number {
  return boxes.reduce((sum, { minX, minY, maxX, maxY }) => sum + (maxX - minX) * (maxY - minY), 0);
}

function wider({ minX, minY, maxX, maxY }: Box): Box {
  return { minX: minX - CLEAR_MM, minY: minY - CLEAR_MM, maxX: maxX + CLEAR_MM, maxY: maxY + CLEAR_MM };
}
