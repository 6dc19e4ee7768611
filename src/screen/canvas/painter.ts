import { memo } from '../../base/memo.ts';
import type { Box, Point } from '../../base/point.ts';
import {
  colorOf,
  legible,
  symbolShape,
  symbolSizeMm,
  type Layer,
  type Paint,
  type Pen,
  type PhotoMark,
  type Primitive,
  type SymbolMark,
  type TextMark,
} from '../../drawing/index.ts';
import { PX_PER_MM, toScreen, visibleBox, type Camera } from '../../editor/index.ts';
import type { PictureSource } from '../services.ts';
import {
  prepared,
  type CircleStretch,
  type PathStretch,
  type Prepared,
  type SymbolStretch,
} from './stretches.ts';

/** With more symbols than this in view they are drawn as coarse squares, so that panning stays fluid. */
const COARSE_FROM = 4000;
/** Circles smaller than this are drawn with an unbroken line. */
const DASHED_FROM_PX = 10;
/** Smaller lettering than this cannot be read on glass. */
const SMALLEST_TYPE_PX = 11;
/** Texts whose place is farther out of view than this cannot reach into it, screen pixels. */
const TEXT_REACH_PX = 400;
const TURN = 2 * Math.PI;
const FONT = '"Noto Sans", system-ui, sans-serif';

type Context = CanvasRenderingContext2D;

function setPen(context: Context, pen: Pen): void {
  context.strokeStyle = colorOf(pen.ink);
  context.lineWidth = Math.max(pen.widthMm * PX_PER_MM, 0.5);
  context.setLineDash(pen.dashMm ? pen.dashMm.map((mm) => mm * PX_PER_MM) : []);
}

/** Where the camera puts a place of the ground, without making a pair for each. */
interface View extends Box {
  readonly scale: number;
  readonly x0: number;
  readonly y0: number;
}

function viewOf(camera: Camera): View {
  const scale = camera.pixelsPerMetre;
  return {
    ...visibleBox(camera),
    scale,
    x0: camera.widthPx / 2 - camera.center[0] * scale,
    y0: camera.heightPx / 2 + camera.center[1] * scale,
  };
}

function paintPaths(context: Context, view: View, { look, marks, boxes }: PathStretch): void {
  if (look.pen) setPen(context, look.pen);
  if (look.fill) context.fillStyle = colorOf(look.fill);
  const { scale, x0, y0 } = view;
  for (let i = 0; i < marks.length; i++) {
    if (
      boxes[i * 4]! > view.maxX ||
      boxes[i * 4 + 2]! < view.minX ||
      boxes[i * 4 + 1]! > view.maxY ||
      boxes[i * 4 + 3]! < view.minY
    )
      continue;
    const { lines, closed } = marks[i]!;
    context.beginPath();
    for (const line of lines) {
      for (let k = 0; k < line.length; k++) {
        const x = x0 + line[k]![0] * scale;
        const y = y0 - line[k]![1] * scale;
        if (k === 0) context.moveTo(x, y);
        else context.lineTo(x, y);
      }
      if (closed) context.closePath();
    }
    if (look.fill) {
      context.globalAlpha = look.fillOpacity ?? 1;
      context.fill('evenodd');
      context.globalAlpha = 1;
    }
    if (look.pen) context.stroke();
  }
}

/** All fills of a stretch first, then all outlines, so that no outline is tinted by a neighbour. */
function paintCircles(context: Context, view: View, { look, x, y, radiusM }: CircleStretch): void {
  const { scale, x0, y0 } = view;
  const each = (wanted: (radiusPx: number) => boolean, paint: () => void) => {
    for (let i = 0; i < x.length; i++) {
      const r = radiusM[i]!;
      if (!wanted(r * scale)) continue;
      if (x[i]! + r < view.minX || x[i]! - r > view.maxX || y[i]! + r < view.minY || y[i]! - r > view.maxY)
        continue;
      context.beginPath();
      context.arc(x0 + x[i]! * scale, y0 - y[i]! * scale, r * scale, 0, TURN);
      paint();
    }
  };
  if (look.fill) {
    context.globalAlpha = look.fillOpacity ?? 1;
    context.fillStyle = colorOf(look.fill);
    each(
      () => true,
      () => context.fill(),
    );
    context.globalAlpha = 1;
  }
  if (!look.pen) return;
  setPen(context, look.pen);
  const stroke = () => context.stroke();
  if (!look.pen.dashMm) return each(() => true, stroke);
  each((radiusPx) => radiusPx >= DASHED_FROM_PX, stroke);
  // Dashes round a tiny circle cannot be told apart, and thousands of them are slow to draw.
  context.setLineDash([]);
  each((radiusPx) => radiusPx < DASHED_FROM_PX, stroke);
}

function tracePiece(context: Context, piece: Primitive, x: number, y: number, size: number): void {
  if (piece.kind === 'circle') {
    const px = x + piece.at[0] * size;
    const py = y + piece.at[1] * size;
    context.moveTo(px + piece.radius * size, py);
    context.arc(px, py, piece.radius * size, 0, TURN);
    return;
  }
  piece.points.forEach(([px, py], i) => {
    if (i === 0) context.moveTo(x + px * size, y + py * size);
    else context.lineTo(x + px * size, y + py * size);
  });
  if (piece.closed) context.closePath();
}

/** Fills and strokes the path that was traced, as a piece of a symbol wants it. */
function inkPiece(context: Context, paint: Paint, look: SymbolMark): void {
  if (paint === 'solid') {
    context.fillStyle = colorOf(look.pen?.ink ?? look.fill ?? 'line');
    context.fill();
    return;
  }
  if (paint === 'both' && look.fill) {
    context.fillStyle = colorOf(look.fill);
    context.fill();
  }
  if (look.pen) context.stroke();
}

/** Symbols of one look: one path for all where each is a single piece, so that thousands stay fluid. */
function paintSymbols(context: Context, view: View, { look, x, y }: SymbolStretch, coarse: boolean): void {
  const { scale, x0, y0 } = view;
  const marginM = 40 / scale;
  const shape = symbolShape(look.name);
  const single = shape.length === 1 ? shape[0]! : null;
  const size = symbolSizeMm(look, scale / PX_PER_MM) * PX_PER_MM;
  if (look.pen) setPen(context, look.pen);
  if (coarse || single) context.beginPath();
  for (let i = 0; i < x.length; i++) {
    const [px, py] = [x[i]!, y[i]!];
    if (px + marginM < view.minX || px - marginM > view.maxX) continue;
    if (py + marginM < view.minY || py - marginM > view.maxY) continue;
    const sx = x0 + px * scale;
    const sy = y0 - py * scale;
    if (coarse) context.rect(sx - 1.25, sy - 1.25, 2.5, 2.5);
    else if (single) tracePiece(context, single, sx, sy, size);
    else {
      for (const piece of shape) {
        context.beginPath();
        tracePiece(context, piece, sx, sy, size);
        inkPiece(context, piece.paint, look);
      }
    }
  }
  if (coarse) {
    // A sign that is open inside would vanish as a filled square.
    const open = look.fill === undefined || look.fill === 'paper';
    context.fillStyle = colorOf((open ? look.pen?.ink : look.fill) ?? 'line');
    context.fill();
  } else if (single) inkPiece(context, single.paint, look);
}

function paintSingle(context: Context, camera: Camera, mark: SymbolMark): void {
  const [dx, dy] = mark.shiftMm ?? [0, 0];
  const [atX, atY] = toScreen(camera, mark.at);
  const [x, y] = [atX + dx * PX_PER_MM, atY + dy * PX_PER_MM];
  const size = symbolSizeMm(mark, camera.pixelsPerMetre / PX_PER_MM) * PX_PER_MM;
  if (mark.pen) setPen(context, mark.pen);
  for (const piece of symbolShape(mark.name, mark.turnDeg)) {
    context.beginPath();
    tracePiece(context, piece, x, y, size);
    inkPiece(context, piece.paint, mark);
  }
}

const HALO_OPACITY = 0.85;

/** Letters with a halo of paper; pen, line and halo are set by `paintTexts`. */
function paintText(context: Context, camera: Camera, mark: TextMark): void {
  const [x, y] = toScreen(camera, mark.at);
  const dx = (mark.shiftMm?.[0] ?? 0) * PX_PER_MM;
  const dy = (mark.shiftMm?.[1] ?? 0) * PX_PER_MM;
  const align = mark.anchor === 'middle' ? 'center' : mark.anchor;
  if (context.textAlign !== align) context.textAlign = align;
  if (mark.turnDeg) {
    context.save();
    context.translate(x, y);
    context.rotate((-mark.turnDeg * Math.PI) / 180);
    letter(context, mark, dx, dy);
    context.restore();
  } else letter(context, mark, x + dx, y + dy);
}

function letter(context: Context, { text, ink }: TextMark, x: number, y: number): void {
  context.globalAlpha = HALO_OPACITY;
  context.strokeText(text, x, y);
  context.globalAlpha = 1;
  context.fillStyle = colorOf(ink);
  context.fillText(text, x, y);
}

function paintPhoto(context: Context, camera: Camera, mark: PhotoMark, pictures: PictureSource): void {
  const bitmap = pictures.bitmapFor(mark.pictureId, mark.metresPerPixel * camera.pixelsPerMetre);
  const [x, y] = toScreen(camera, mark.corner);
  const width = mark.widthPx * mark.metresPerPixel * camera.pixelsPerMetre;
  const height = mark.heightPx * mark.metresPerPixel * camera.pixelsPerMetre;
  context.save();
  context.translate(x, y);
  context.rotate((-mark.turnDeg * Math.PI) / 180);
  context.globalAlpha = mark.strength;
  if (bitmap) context.drawImage(bitmap, 0, 0, width, height);
  else {
    context.fillStyle = colorOf('paving');
    context.fillRect(0, 0, width, height);
  }
  context.restore();
}

/** Texts moved apart for a scale; panning leaves them where they are. */
const apart = memo((texts: readonly TextMark[], mmPerMetre: number) => legible(texts, mmPerMetre, false));
const together = memo((...lists: (readonly TextMark[])[]): readonly TextMark[] => lists.flat());

/** All lettering of a drawing: it is moved apart as a whole, so it is painted as a whole, above all else. */
export function textsOf(layers: readonly Layer[]): readonly TextMark[] {
  return together(...layers.map((layer) => prepared(layer).texts));
}

/** Paints lettering, moved apart, that reaches into what the camera sees. */
export function paintTexts(context: Context, camera: Camera, texts: readonly TextMark[]): void {
  const view = viewOf(camera);
  context.lineJoin = 'round';
  context.lineWidth = 3;
  context.setLineDash([]);
  context.strokeStyle = colorOf('paper');
  let font = '';
  for (const mark of apart(texts, camera.pixelsPerMetre / PX_PER_MM)) {
    if (!isNear(view, mark.at, TEXT_REACH_PX)) continue;
    // Setting a font is dear, and most lettering is of one size.
    const own = `${mark.bold ? '700 ' : ''}${Math.max(mark.sizeMm * PX_PER_MM, SMALLEST_TYPE_PX)}px ${FONT}`;
    if (own !== font) context.font = font = own;
    paintText(context, camera, mark);
  }
}

/** Paints the layers of a drawing but for their lettering, culled to what the camera sees. */
export function paintLayers(
  context: Context,
  camera: Camera,
  layers: readonly Layer[],
  pictures: PictureSource,
): void {
  const view = viewOf(camera);
  context.lineJoin = 'round';
  context.lineCap = 'butt';
  for (const layer of layers) {
    const ready = prepared(layer);
    const coarse = ready.symbolCount > COARSE_FROM && symbolsInView(ready, view) > COARSE_FROM;
    for (const stretch of ready.stretches) {
      if (stretch.kind === 'symbols') paintSymbols(context, view, stretch, coarse);
      else if (stretch.kind === 'circles') paintCircles(context, view, stretch);
      else if (stretch.kind === 'paths') paintPaths(context, view, stretch);
      else if (stretch.mark.kind === 'photo') paintPhoto(context, camera, stretch.mark, pictures);
      else if (isNear(view, stretch.mark.at, 40)) paintSingle(context, camera, stretch.mark);
    }
  }
  context.setLineDash([]);
}

function isNear(view: View, [x, y]: Point, reachPx: number): boolean {
  const reach = reachPx / view.scale;
  return x + reach >= view.minX && x - reach <= view.maxX && y + reach >= view.minY && y - reach <= view.maxY;
}

function symbolsInView({ stretches }: Prepared, view: View): number {
  let count = 0;
  for (const stretch of stretches) {
    if (stretch.kind === 'single') count++;
    if (stretch.kind !== 'symbols') continue;
    const { x, y } = stretch;
    for (let i = 0; i < x.length; i++) {
      if (x[i]! >= view.minX && x[i]! <= view.maxX && y[i]! >= view.minY && y[i]! <= view.maxY) count++;
    }
  }
  return count;
}

/** A polyline of screen points, for overlays. */
export function tracePath(context: Context, camera: Camera, points: readonly Point[], closed: boolean): void {
  context.beginPath();
  points.forEach((p, i) => {
    const [x, y] = toScreen(camera, p);
    if (i === 0) context.moveTo(x, y);
    else context.lineTo(x, y);
  });
  if (closed) context.closePath();
}
