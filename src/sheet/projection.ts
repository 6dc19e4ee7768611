import type { Box, Point } from '../base/point.ts';
import { colorOf } from '../drawing/inks.ts';
import {
  symbolSizeMm,
  type Color,
  type Layer,
  type Mark,
  type Pen,
  type SymbolMark,
} from '../drawing/marks.ts';
import { symbolShape, type Paint } from '../drawing/symbols.ts';
import { paperPen } from './brush.ts';
import { CAPITALS, DESCENT, textWidth } from './lettering.ts';
import type { PaperPart, TextPart, View } from './page.ts';

/** A ground point on the paper of a view. */
export function onPaper({ window, mmPerMetre, middle }: View, [x, y]: Point): Point {
  return [
    window.x + window.w / 2 + (x - middle[0]) * mmPerMetre,
    window.y + window.h / 2 - (y - middle[1]) * mmPerMetre,
  ];
}

interface Paints {
  readonly pen?: ReturnType<typeof paperPen>;
  readonly fill?: `#${string}`;
  readonly fillOpacity?: number;
}

function paints(pen?: Pen, fill?: Color, fillOpacity?: number): Paints {
  return {
    ...(pen && { pen: paperPen(pen) }),
    ...(fill && { fill: colorOf(fill, 'paper') }),
    ...(fillOpacity !== undefined && fillOpacity < 1 && { fillOpacity }),
  };
}

function paintOf(paint: Paint, mark: Omit<SymbolMark, 'at'>): Paints {
  if (paint === 'pen') return paints(mark.pen);
  if (paint === 'solid') return paints(undefined, mark.pen?.ink ?? mark.fill);
  return paints(mark.pen, mark.fill);
}

/** A symbol drawn about a place on paper. */
export function symbolParts(mark: Omit<SymbolMark, 'at'>, [x, y]: Point): PaperPart[] {
  const put = ([u, v]: Point): Point => [x + u * mark.sizeMm, y + v * mark.sizeMm];
  return symbolShape(mark.name, mark.turnDeg).map((piece): PaperPart => {
    const paint = paintOf(piece.paint, mark);
    if (piece.kind === 'circle') {
      return { kind: 'circle', at: put(piece.at), radiusMm: piece.radius * mark.sizeMm, ...paint };
    }
    return { kind: 'path', lines: [piece.points.map(put)], closed: piece.closed, ...paint };
  });
}

/** One mark of the drawing on the paper of a view. */
export function markParts(mark: Mark, view: View): PaperPart[] {
  switch (mark.kind) {
    case 'path':
      return [
        {
          kind: 'path',
          lines: mark.lines.map((line) => line.map((p) => onPaper(view, p))),
          closed: mark.closed,
          ...paints(mark.pen, mark.fill, mark.fillOpacity),
        },
      ];
    case 'circle':
      return [
        {
          kind: 'circle',
          at: onPaper(view, mark.at),
          radiusMm: mark.radiusM * view.mmPerMetre,
          ...paints(mark.pen, mark.fill, mark.fillOpacity),
        },
      ];
    case 'symbol': {
      const [x, y] = onPaper(view, mark.at);
      const [dx, dy] = mark.shiftMm ?? [0, 0];
      return symbolParts({ ...mark, sizeMm: symbolSizeMm(mark, view.mmPerMetre) }, [x + dx, y + dy]);
    }
    case 'text': {
      const [x, y] = onPaper(view, mark.at);
      const [along, down] = mark.shiftMm ?? [0, 0];
      const turn = ((mark.turnDeg ?? 0) * Math.PI) / 180;
      const dx = along * Math.cos(turn) + down * Math.sin(turn);
      const dy = down * Math.cos(turn) - along * Math.sin(turn);
      return [
        {
          kind: 'text',
          at: [x + dx, y + dy],
          text: mark.text,
          sizeMm: mark.sizeMm,
          color: colorOf(mark.ink, 'paper'),
          anchor: mark.anchor,
          bold: mark.bold ?? false,
          turnDeg: mark.turnDeg ?? 0,
          ...(mark.halo && { halo: colorOf(mark.halo, 'paper') }),
        },
      ];
    }
    case 'photo': {
      const mmPerPixel = mark.metresPerPixel * view.mmPerMetre;
      return [
        {
          kind: 'picture',
          pictureId: mark.pictureId,
          at: onPaper(view, mark.corner),
          widthMm: mark.widthPx * mmPerPixel,
          heightMm: mark.heightPx * mmPerPixel,
          turnDeg: mark.turnDeg,
          opacity: mark.strength,
        },
      ];
    }
  }
}

/** All marks of the layers that touch the window. */
export function layerParts(layers: readonly Layer[], view: View): PaperPart[] {
  const { x, y, w, h } = view.window;
  const window: Box = { minX: x, minY: y, maxX: x + w, maxY: y + h };
  return layers.flatMap((layer) =>
    layer.marks.flatMap((mark) =>
      markParts(mark, view).filter((part) => {
        const box = partBox(part);
        return box !== null && overlap(box, window);
      }),
    ),
  );
}

export function overlap(a: Box, b: Box): boolean {
  return a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;
}

/** Corners of a line of text on paper, from its lower left counter-clockwise as it reads. */
export function textCorners(part: TextPart): Point[] {
  const width = textWidth(part.text, part.sizeMm, part.bold);
  const from = part.anchor === 'start' ? 0 : part.anchor === 'middle' ? -width / 2 : -width;
  const up = -CAPITALS * 1.1 * part.sizeMm;
  const down = DESCENT * part.sizeMm;
  const turn = (part.turnDeg * Math.PI) / 180;
  const put = (u: number, v: number): Point => [
    part.at[0] + u * Math.cos(turn) + v * Math.sin(turn),
    part.at[1] - u * Math.sin(turn) + v * Math.cos(turn),
  ];
  return [put(from, down), put(from + width, down), put(from + width, up), put(from, up)];
}

/** Box on paper that a part fills, pens included; `null` for a part without places. */
export function partBox(part: PaperPart): Box | null {
  switch (part.kind) {
    case 'circle':
      return around([part.at], part.radiusMm + (part.pen?.widthMm ?? 0) / 2);
    case 'path':
      return around(part.lines.flat(), (part.pen?.widthMm ?? 0) / 2);
    case 'text':
      return around(textCorners(part), 0);
    case 'picture': {
      const turn = (part.turnDeg * Math.PI) / 180;
      const put = (u: number, v: number): Point => [
        part.at[0] + u * Math.cos(turn) + v * Math.sin(turn),
        part.at[1] - u * Math.sin(turn) + v * Math.cos(turn),
      ];
      const { widthMm: w, heightMm: h } = part;
      return around([put(0, 0), put(w, 0), put(w, h), put(0, h)], 0);
    }
    case 'clip': {
      const { x, y, w, h } = part.window;
      return { minX: x, minY: y, maxX: x + w, maxY: y + h };
    }
  }
}

function around(points: readonly Point[], by: number): Box | null {
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return minX <= maxX ? { minX: minX - by, minY: minY - by, maxX: maxX + by, maxY: maxY + by } : null;
}
