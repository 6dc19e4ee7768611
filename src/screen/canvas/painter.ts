import { boxOf, type Box, type Point } from '../../base/point.ts';
import {
  colorOf,
  legible,
  symbolShape,
  symbolSizeMm,
  type CircleMark,
  type Layer,
  type Mark,
  type PathMark,
  type Pen,
  type PhotoMark,
  type SymbolMark,
  type TextMark,
} from '../../drawing/index.ts';
import { PX_PER_MM, toScreen, visibleBox, type Camera } from '../../editor/index.ts';
import type { PictureSource } from '../services.ts';

/** With more symbols than this in view they are drawn as coarse squares, so that panning stays fluid. */
const COARSE_FROM = 4000;
/** Circles smaller than this are drawn with an unbroken line. */
const DASHED_FROM_PX = 10;
/** Smaller lettering than this cannot be read on glass. */
const SMALLEST_TYPE_PX = 11;
const FONT = '"Noto Sans", system-ui, sans-serif';

const boxes = new WeakMap<PathMark, Box | null>();
function pathBox(mark: PathMark): Box | null {
  const known = boxes.get(mark);
  if (known !== undefined) return known;
  const box = boxOf(mark.lines.flat());
  boxes.set(mark, box);
  return box;
}

/** Whether any of a mark can be seen; `marginM` allows for symbols and letters that reach beyond their place. */
function inView(mark: Mark, view: Box, marginM: number): boolean {
  if (mark.kind === 'photo') return true;
  if (mark.kind === 'path') {
    const box = pathBox(mark);
    return (
      !!box &&
      box.minX <= view.maxX &&
      box.maxX >= view.minX &&
      box.minY <= view.maxY &&
      box.maxY >= view.minY
    );
  }
  const reach = mark.kind === 'circle' ? mark.radiusM : mark.kind === 'text' ? marginM * 4 : marginM;
  const [x, y] = mark.at;
  return x + reach >= view.minX && x - reach <= view.maxX && y + reach >= view.minY && y - reach <= view.maxY;
}

type Context = CanvasRenderingContext2D;

function setPen(context: Context, pen: Pen): void {
  context.strokeStyle = colorOf(pen.ink);
  context.lineWidth = Math.max(pen.widthMm * PX_PER_MM, 0.5);
  context.setLineDash(pen.dashMm ? pen.dashMm.map((mm) => mm * PX_PER_MM) : []);
}

function fillWith(
  context: Context,
  color: NonNullable<PathMark['fill']>,
  opacity: number,
  rule: CanvasFillRule,
): void {
  context.globalAlpha = opacity;
  context.fillStyle = colorOf(color);
  context.fill(rule);
  context.globalAlpha = 1;
}

function paintPath(context: Context, camera: Camera, mark: PathMark): void {
  context.beginPath();
  for (const line of mark.lines) {
    line.forEach((p, i) => {
      const [x, y] = toScreen(camera, p);
      if (i === 0) context.moveTo(x, y);
      else context.lineTo(x, y);
    });
    if (mark.closed) context.closePath();
  }
  if (mark.fill) fillWith(context, mark.fill, mark.fillOpacity ?? 1, 'evenodd');
  if (mark.pen) {
    setPen(context, mark.pen);
    context.stroke();
  }
}

function paintCircle(context: Context, camera: Camera, mark: CircleMark): void {
  const [x, y] = toScreen(camera, mark.at);
  const radiusPx = mark.radiusM * camera.pixelsPerMetre;
  context.beginPath();
  context.arc(x, y, radiusPx, 0, 2 * Math.PI);
  if (mark.fill) fillWith(context, mark.fill, mark.fillOpacity ?? 1, 'nonzero');
  if (mark.pen) {
    setPen(context, mark.pen);
    // Dashes round a tiny circle cannot be told apart, and thousands of them are slow to draw.
    if (radiusPx < DASHED_FROM_PX) context.setLineDash([]);
    context.stroke();
  }
}

function paintSymbol(context: Context, camera: Camera, mark: SymbolMark): void {
  const [dx, dy] = mark.shiftMm ?? [0, 0];
  const [atX, atY] = toScreen(camera, mark.at);
  const [x, y] = [atX + dx * PX_PER_MM, atY + dy * PX_PER_MM];
  const size = symbolSizeMm(mark, camera.pixelsPerMetre / PX_PER_MM) * PX_PER_MM;
  if (mark.pen) setPen(context, mark.pen);
  for (const piece of symbolShape(mark.name, mark.turnDeg)) {
    context.beginPath();
    if (piece.kind === 'circle') {
      context.arc(x + piece.at[0] * size, y + piece.at[1] * size, piece.radius * size, 0, 2 * Math.PI);
    } else {
      piece.points.forEach(([px, py], i) => {
        if (i === 0) context.moveTo(x + px * size, y + py * size);
        else context.lineTo(x + px * size, y + py * size);
      });
      if (piece.closed) context.closePath();
    }
    if (piece.paint === 'solid') {
      context.fillStyle = colorOf(mark.pen?.ink ?? mark.fill ?? 'line');
      context.fill();
      continue;
    }
    if (piece.paint === 'both' && mark.fill) {
      context.fillStyle = colorOf(mark.fill);
      context.fill();
    }
    if (mark.pen) context.stroke();
  }
}

function paintCoarse(context: Context, camera: Camera, mark: SymbolMark): void {
  const [x, y] = toScreen(camera, mark.at);
  // A sign that is open inside would vanish as a filled square.
  const open = mark.fill === undefined || mark.fill === 'paper';
  context.fillStyle = colorOf((open ? mark.pen?.ink : mark.fill) ?? 'line');
  context.fillRect(x - 1.25, y - 1.25, 2.5, 2.5);
}

function paintText(context: Context, camera: Camera, mark: TextMark): void {
  const [x, y] = toScreen(camera, mark.at);
  const [dx, dy] = mark.shiftMm ?? [0, 0];
  context.save();
  context.translate(x, y);
  if (mark.turnDeg) context.rotate((-mark.turnDeg * Math.PI) / 180);
  context.font = `${mark.bold ? '700 ' : ''}${Math.max(mark.sizeMm * PX_PER_MM, SMALLEST_TYPE_PX)}px ${FONT}`;
  context.textAlign = mark.anchor === 'middle' ? 'center' : mark.anchor;
  context.lineJoin = 'round';
  context.lineWidth = 3;
  context.setLineDash([]);
  context.strokeStyle = colorOf('paper');
  context.globalAlpha = 0.85;
  context.strokeText(mark.text, dx * PX_PER_MM, dy * PX_PER_MM);
  context.globalAlpha = 1;
  context.fillStyle = colorOf(mark.ink);
  context.fillText(mark.text, dx * PX_PER_MM, dy * PX_PER_MM);
  context.restore();
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

/** Paints the layers of a drawing, culled to what the camera sees. */
export function paintLayers(
  context: Context,
  camera: Camera,
  layers: readonly Layer[],
  pictures: PictureSource,
): void {
  const view = visibleBox(camera);
  const marginM = 40 / camera.pixelsPerMetre;
  context.lineJoin = 'round';
  context.lineCap = 'butt';
  const texts: TextMark[] = [];
  for (const layer of layers) {
    const seen = layer.marks.filter((mark) => inView(mark, view, marginM));
    const symbols = seen.reduce((count, mark) => count + (mark.kind === 'symbol' ? 1 : 0), 0);
    const coarse = symbols > COARSE_FROM;
    for (const mark of seen) {
      if (mark.kind === 'path') paintPath(context, camera, mark);
      else if (mark.kind === 'circle') paintCircle(context, camera, mark);
      else if (mark.kind === 'photo') paintPhoto(context, camera, mark, pictures);
      else if (mark.kind === 'symbol') (coarse ? paintCoarse : paintSymbol)(context, camera, mark);
      else if (!coarse) texts.push(mark);
    }
  }
  for (const mark of legible(texts, camera.pixelsPerMetre / PX_PER_MM, false))
    paintText(context, camera, mark);
  context.setLineDash([]);
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
