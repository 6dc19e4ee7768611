import { between, type Point } from '../../base/point.ts';
import { formatQuantity } from '../../base/quantity.ts';
import { colorOf } from '../../drawing/index.ts';
import {
  readTape,
  tapePlaces,
  toScreen,
  visibleBox,
  type Camera,
  type Draft,
  type EditorState,
  type Taping,
} from '../../editor/index.ts';
import { hand } from '../words/hand.ts';
import { paintWord } from './paint-word.ts';
import { byTouch } from './touch.ts';

type Context = CanvasRenderingContext2D;
/** More stems than this in view are drawn as dots without canopies. */
const COARSE_FROM = 1500;
const STEM_PX = 2;
const SIGN_PX = 9;
/** Words stand above what they speak of, farther above a finger. */
const ABOVE_PX = { pen: 20, finger: 52 } as const;
const HALF_CROSS_PX = 16;

const above = () => (byTouch() ? ABOVE_PX.finger : ABOVE_PX.pen);

/** Plants to be set as stems and canopies, or to be taken away as crosses. */
function paintStems(
  context: Context,
  camera: Camera,
  { points, radiusM, gone }: NonNullable<Draft['stems']>,
): void {
  const view = visibleBox(camera);
  const seen = points.filter(
    ([x, y]) =>
      x >= view.minX - radiusM &&
      x <= view.maxX + radiusM &&
      y >= view.minY - radiusM &&
      y <= view.maxY + radiusM,
  );
  context.strokeStyle = colorOf(gone ? 'warn' : 'accent');
  context.fillStyle = context.strokeStyle;
  context.lineWidth = 1.25;
  context.setLineDash([]);
  const radiusPx = radiusM * camera.pixelsPerMetre;
  const canopies = !gone && seen.length <= COARSE_FROM && radiusPx > STEM_PX * 1.5;
  context.beginPath();
  for (const at of seen) {
    const [x, y] = toScreen(camera, at);
    if (gone) {
      context.moveTo(x - 5, y - 5);
      context.lineTo(x + 5, y + 5);
      context.moveTo(x + 5, y - 5);
      context.lineTo(x - 5, y + 5);
    } else if (canopies) {
      context.moveTo(x + radiusPx, y);
      context.arc(x, y, radiusPx, 0, 2 * Math.PI);
    }
  }
  context.globalAlpha = gone ? 1 : 0.55;
  context.stroke();
  context.globalAlpha = 1;
  if (gone) return;
  for (const at of seen) {
    const [x, y] = toScreen(camera, at);
    context.fillRect(x - STEM_PX, y - STEM_PX, 2 * STEM_PX, 2 * STEM_PX);
  }
}

/** Where what is drawn cannot be built so: a triangle for a bend too tight, a ring with a cross for a crossing. */
function paintSigns(context: Context, camera: Camera, signs: NonNullable<Draft['signs']>): void {
  context.strokeStyle = colorOf('warn');
  context.lineWidth = 2;
  context.setLineDash([]);
  context.beginPath();
  for (const { at, kind } of signs) {
    const [x, y] = toScreen(camera, at);
    if (kind === 'bend') {
      context.moveTo(x, y - SIGN_PX);
      context.lineTo(x + SIGN_PX, y + SIGN_PX * 0.7);
      context.lineTo(x - SIGN_PX, y + SIGN_PX * 0.7);
      context.closePath();
    } else {
      const arm = SIGN_PX * 0.6;
      context.moveTo(x + SIGN_PX, y);
      context.arc(x, y, SIGN_PX, 0, 2 * Math.PI);
      context.moveTo(x - arm, y - arm);
      context.lineTo(x + arm, y + arm);
      context.moveTo(x + arm, y - arm);
      context.lineTo(x - arm, y + arm);
    }
  }
  context.stroke();
}

/** Length and slope beside each piece of the tape. */
function paintTape(context: Context, camera: Camera, state: EditorState): void {
  const tape = state.toolState as Taping;
  if (!Array.isArray(tape.points) || tape.points.length === 0) return;
  const { legs } = readTape(state.history.plan, tapePlaces(tape), tape.ended === 'ring');
  for (const { from, to, planM, slopePercent } of legs) {
    if (planM * camera.pixelsPerMetre < 40) continue;
    const [x, y] = toScreen(camera, between(from, to, 0.5));
    const length = formatQuantity('length', planM, state.units);
    const slope = slopePercent === null ? '' : ` · ${formatQuantity('slope', slopePercent, state.units)}`;
    const off = 16 / (planM || 1);
    paintWord(context, length + slope, [x + (to[1] - from[1]) * off, y + (to[0] - from[0]) * off]);
  }
}

function paintCrosshair(context: Context, camera: Camera, at: Point): void {
  const [x, y] = toScreen(camera, at);
  context.strokeStyle = colorOf('accent');
  context.lineWidth = 1.5;
  context.setLineDash([]);
  context.beginPath();
  context.moveTo(x - HALF_CROSS_PX, y);
  context.lineTo(x + HALF_CROSS_PX, y);
  context.moveTo(x, y - HALF_CROSS_PX);
  context.lineTo(x, y + HALF_CROSS_PX);
  context.stroke();
}

/** Signs and words of hand work above everything else: plants to come, what was caught and why, tape, crosshair. */
export function paintHand(context: Context, camera: Camera, state: EditorState): void {
  const { draft, tool } = state;
  if (draft.stems) paintStems(context, camera, draft.stems);
  if (draft.brush) {
    const [x, y] = toScreen(camera, draft.brush.at);
    context.strokeStyle = colorOf('accent');
    context.lineWidth = 1;
    context.setLineDash([4, 4]);
    context.beginPath();
    context.arc(x, y, draft.brush.radiusM * camera.pixelsPerMetre, 0, 2 * Math.PI);
    context.stroke();
    context.setLineDash([]);
  }
  if (draft.signs) paintSigns(context, camera, draft.signs);
  if (tool === 'tape') paintTape(context, camera, state);
  if (state.crosshair && tool !== 'select' && tool !== 'pan')
    paintCrosshair(context, camera, state.crosshair);
  if (draft.word) {
    const [x, y] = toScreen(camera, draft.word.at);
    const ink = colorOf(draft.signs?.length ? 'warn' : 'accent');
    paintWord(context, draft.word.text, [x, draft.signs?.length ? y + 22 : y - above() - 14], ink);
  }
  const { snap } = draft;
  if (snap?.reason && snap.kind !== 'free') {
    const [x, y] = toScreen(camera, snap.at);
    paintWord(context, hand.snaps[snap.reason], [x, y - above()]);
  }
}
