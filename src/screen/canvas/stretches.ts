import { boxOf } from '../../base/point.ts';
import type {
  CircleMark,
  Color,
  Layer,
  Mark,
  PathMark,
  Pen,
  PhotoMark,
  SymbolMark,
  TextMark,
} from '../../drawing/index.ts';

/**
 * A layer's marks made ready for fast painting: stretches of marks that look alike, with their places in flat arrays,
 * so that pens are set once a stretch and what is out of view costs no more than a comparison.
 */
export interface Places {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Symbols of one look without turn or shift. */
export interface SymbolStretch extends Places {
  readonly kind: 'symbols';
  readonly look: SymbolMark;
}
export interface CircleStretch extends Places {
  readonly kind: 'circles';
  readonly look: CircleMark;
  readonly radiusM: Float64Array;
}
export interface PathStretch {
  readonly kind: 'paths';
  readonly look: PathMark;
  readonly marks: readonly PathMark[];
  /** Four numbers a mark: west, south, east, north. */
  readonly boxes: Float64Array;
}
/** A symbol that is turned or shifted, or a photo: painted by itself. */
export interface SingleStretch {
  readonly kind: 'single';
  readonly mark: SymbolMark | PhotoMark;
}
export type Stretch = SymbolStretch | CircleStretch | PathStretch | SingleStretch;

export interface Prepared {
  readonly stretches: readonly Stretch[];
  readonly texts: readonly TextMark[];
  readonly symbolCount: number;
}

const samePen = (a: Pen | undefined, b: Pen | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    b !== undefined &&
    a.ink === b.ink &&
    a.widthMm === b.widthMm &&
    String(a.dashMm) === String(b.dashMm));

interface Filled {
  readonly pen?: Pen;
  readonly fill?: Color;
  readonly fillOpacity?: number;
}
const alike = (a: Filled, b: Filled): boolean =>
  a.fill === b.fill && a.fillOpacity === b.fillOpacity && samePen(a.pen, b.pen);

const isSingle = (mark: Mark): boolean =>
  mark.kind === 'photo' || (mark.kind === 'symbol' && (mark.turnDeg !== undefined || !!mark.shiftMm));

const known = new WeakMap<readonly Mark[], Prepared>();

/** The stretches of a layer; remembered as long as the layer's marks are the same. */
export function prepared(layer: Layer): Prepared {
  const before = known.get(layer.marks);
  if (before) return before;
  const made = prepare(layer.marks);
  known.set(layer.marks, made);
  return made;
}

const NO_TEXTS: readonly TextMark[] = [];

function prepare(marks: readonly Mark[]): Prepared {
  const stretches: Stretch[] = [];
  const texts: TextMark[] = [];
  let symbolCount = 0;
  for (let i = 0; i < marks.length;) {
    const mark = marks[i]!;
    let end = i + 1;
    if (mark.kind === 'text') texts.push(mark);
    else if (isSingle(mark)) {
      stretches.push({ kind: 'single', mark: mark as SingleStretch['mark'] });
      if (mark.kind === 'symbol') symbolCount++;
    } else {
      // Dots of any colour go together: they are small, so it does not matter which of them lies on top.
      const isDot = mark.kind === 'symbol' && mark.name === 'dot';
      while (end < marks.length && goesWith(mark, marks[end]!, isDot)) end++;
      if (mark.kind === 'symbol') {
        symbolCount += end - i;
        stretches.push(...symbolStretches(marks, i, end));
      } else if (mark.kind === 'circle') stretches.push(circleStretch(marks.slice(i, end) as CircleMark[]));
      else stretches.push(pathStretch(marks.slice(i, end) as PathMark[]));
    }
    i = end;
  }
  // The same list where there is none, so that lettering is not moved apart anew when colours change.
  return { stretches, texts: texts.length ? texts : NO_TEXTS, symbolCount };
}

function goesWith(first: Mark, next: Mark, isDot: boolean): boolean {
  if (next.kind !== first.kind || isSingle(next)) return false;
  if (next.kind === 'symbol' && first.kind === 'symbol') {
    return isDot ? next.name === 'dot' : sameLook(first, next);
  }
  return alike(next as Filled, first as Filled);
}

/** Symbols that look alike, gathered before their number is known. */
interface Group {
  readonly look: SymbolMark;
  readonly marks: SymbolMark[];
}

/** The symbols from `start` to `end` by their look, each look in the order in which it appears first. */
function symbolStretches(marks: readonly Mark[], start: number, end: number): SymbolStretch[] {
  const groups: Group[] = [];
  // By colour, which tells most looks apart; a key of all that counts would be a new text for each of thousands.
  const byFill = new Map<Color | undefined, Group[]>();
  let own: Group | undefined;
  for (let i = start; i < end; i++) {
    const mark = marks[i] as SymbolMark;
    if (!own || !sameLook(own.look, mark)) own = groupOf(mark, byFill, groups);
    own.marks.push(mark);
  }
  return groups.map(({ look, marks: list }) => ({ kind: 'symbols', look, ...placesOf(list) }));
}

function groupOf(mark: SymbolMark, byFill: Map<Color | undefined, Group[]>, groups: Group[]): Group {
  let ofFill = byFill.get(mark.fill);
  if (!ofFill) byFill.set(mark.fill, (ofFill = []));
  for (const group of ofFill) if (sameLook(group.look, mark)) return group;
  const made = { look: mark, marks: [] };
  ofFill.push(made);
  groups.push(made);
  return made;
}

/** Symbols, neither turned nor shifted, that differ in nothing but owner and place. */
function sameLook(a: SymbolMark, b: SymbolMark): boolean {
  return a.name === b.name && a.sizeMm === b.sizeMm && a.groundM === b.groundM && alike(a, b);
}

function placesOf(marks: readonly { readonly at: readonly [number, number] }[]): Places {
  const x = new Float64Array(marks.length);
  const y = new Float64Array(marks.length);
  for (let i = 0; i < marks.length; i++) {
    const { at } = marks[i]!;
    x[i] = at[0];
    y[i] = at[1];
  }
  return { x, y };
}

function circleStretch(marks: readonly CircleMark[]): CircleStretch {
  return {
    kind: 'circles',
    look: marks[0]!,
    ...placesOf(marks),
    radiusM: Float64Array.from(marks, ({ radiusM }) => radiusM),
  };
}

const NOWHERE = [Infinity, Infinity, -Infinity, -Infinity];

/** Boxes of marks: many stay as they are from drawing to drawing. */
const boxes = new WeakMap<PathMark, readonly number[]>();

function boxOfPath(mark: PathMark): readonly number[] {
  const known = boxes.get(mark);
  if (known) return known;
  const box = boxOf(mark.lines.length === 1 ? mark.lines[0]! : mark.lines.flat());
  const made = box ? [box.minX, box.minY, box.maxX, box.maxY] : NOWHERE;
  boxes.set(mark, made);
  return made;
}

function pathStretch(marks: readonly PathMark[]): PathStretch {
  const all = new Float64Array(marks.length * 4);
  marks.forEach((mark, i) => all.set(boxOfPath(mark), i * 4));
  return { kind: 'paths', look: marks[0]!, marks, boxes: all };
}
