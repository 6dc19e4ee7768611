import { FOOT_M } from '../../base/units.ts';
import { colorOf } from '../../drawing/index.ts';
import { toScreen, visibleBox, type Camera } from '../../editor/index.ts';
import type { UnitSystem } from '../../base/quantity.ts';

/** Steps of the grid in shown units, coarse enough that lines stand at least this far apart. */
const STEPS = [1, 5, 10, 50, 100, 500];
const APART_PX = 14;

/** Metres between thin grid lines at the present zoom. */
export function gridStepM(camera: Camera, units: UnitSystem): number {
  const unitM = units === 'us' ? FOOT_M : 1;
  const step = STEPS.find((s) => s * unitM * camera.pixelsPerMetre >= APART_PX) ?? STEPS.at(-1)!;
  return step * unitM;
}

/** Arms of the cross at the plan's zero, pixels. */
const ZERO_PX = 9;

/** A cross where x and y are zero, for whoever types or imports places. */
function paintZero(context: CanvasRenderingContext2D, camera: Camera): void {
  const [x, y] = toScreen(camera, [0, 0]).map((px) => Math.round(px) + 0.5) as [number, number];
  context.strokeStyle = colorOf('soft');
  context.lineWidth = 1;
  context.beginPath();
  context.moveTo(x - ZERO_PX, y);
  context.lineTo(x + ZERO_PX, y);
  context.moveTo(x, y - ZERO_PX);
  context.lineTo(x, y + ZERO_PX);
  context.stroke();
}

/** A faint grid in the person's units; every fifth line a little stronger, and a cross at the zero. */
export function paintGrid(context: CanvasRenderingContext2D, camera: Camera, units: UnitSystem): void {
  context.fillStyle = colorOf('paper');
  context.fillRect(0, 0, camera.widthPx, camera.heightPx);
  const step = gridStepM(camera, units);
  const view = visibleBox(camera);
  const lines = (from: number, to: number, draw: (value: number) => void, strong: boolean) => {
    context.beginPath();
    for (let i = Math.floor(from / step); i * step <= to; i++) {
      if ((i % 5 === 0) === strong) draw(i * step);
    }
    context.globalAlpha = strong ? 0.35 : 0.16;
    context.strokeStyle = colorOf('faint');
    context.lineWidth = 1;
    context.stroke();
    context.globalAlpha = 1;
  };
  for (const strong of [false, true]) {
    lines(
      view.minX,
      view.maxX,
      (x) => {
        const px = Math.round(toScreen(camera, [x, 0])[0]) + 0.5;
        context.moveTo(px, 0);
        context.lineTo(px, camera.heightPx);
      },
      strong,
    );
    lines(
      view.minY,
      view.maxY,
      (y) => {
        const py = Math.round(toScreen(camera, [0, y])[1]) + 0.5;
        context.moveTo(0, py);
        context.lineTo(camera.widthPx, py);
      },
      strong,
    );
  }
  paintZero(context, camera);
}
