import type { Point } from '../../base/point.ts';
import { colorOf } from '../../drawing/index.ts';
import { toScreen, type Advice, type Camera } from '../../editor/index.ts';
import { tracePath } from './painter.ts';

type Context = CanvasRenderingContext2D;
const RADIUS_PX = 9;

/** The sign of a part within its ring, as on the drawing: a triangle against a bar, a cap above, a drop below. */
const SHAPES: Readonly<Record<Advice['signs'][number]['kind'], readonly (readonly Point[])[]>> = {
  'check valve': [
    [
      [-4, -4],
      [3, 0],
      [-4, 4],
      [-4, -4],
    ],
    [
      [4, -4],
      [4, 4],
    ],
  ],
  'air relief': [
    [
      [0, 5],
      [0, -5],
    ],
    [
      [-4, -5],
      [4, -5],
    ],
  ],
  drain: [
    [
      [0, -5],
      [0, 5],
    ],
    [
      [-3, 1.5],
      [0, 5],
      [3, 1.5],
    ],
  ],
};

/** What is advised and not yet there: quiet lines between bands, open signs where parts are to be set. */
export function paintAdvice(context: Context, camera: Camera, { lines, signs }: Advice): void {
  context.strokeStyle = colorOf('accent');
  context.lineWidth = 1.25;
  context.setLineDash([7, 4]);
  for (const line of lines) {
    tracePath(context, camera, line, false);
    context.stroke();
  }
  for (const { at, kind, marked } of signs) {
    const [x, y] = toScreen(camera, at);
    context.setLineDash(marked ? [] : [3, 3]);
    context.lineWidth = marked ? 2 : 1.25;
    context.fillStyle = colorOf('paper');
    context.globalAlpha = 0.85;
    context.beginPath();
    context.arc(x, y, RADIUS_PX, 0, 2 * Math.PI);
    context.fill();
    context.globalAlpha = 1;
    context.stroke();
    context.setLineDash([]);
    context.beginPath();
    for (const [first, ...rest] of SHAPES[kind]) {
      context.moveTo(x + first![0], y + first![1]);
      for (const [dx, dy] of rest) context.lineTo(x + dx, y + dy);
    }
    context.stroke();
  }
}
