import type { Point } from '../../base/point.ts';
import { colorOf } from '../../drawing/index.ts';

/** A word on the canvas that can be read on any ground. */
export function paintWord(
  context: CanvasRenderingContext2D,
  text: string,
  [x, y]: Point,
  ink = colorOf('accent'),
): void {
  context.font = '12px "Noto Sans", system-ui, sans-serif';
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.setLineDash([]);
  context.lineJoin = 'round';
  context.lineWidth = 4;
  context.strokeStyle = colorOf('paper');
  context.strokeText(text, x, y);
  context.fillStyle = ink;
  context.fillText(text, x, y);
  context.textBaseline = 'alphabetic';
}
