import type { Box, Point } from '../base/point.ts';

/** Which part of the plan the canvas shows. Screen pixels run right and down, the plan's y runs up. */
export interface Camera {
  /** Plan point in the middle of the canvas. */
  readonly center: Point;
  readonly pixelsPerMetre: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Screen pixels for a millimetre of pen: a millimetre on paper is about a millimetre on glass. */
export const PX_PER_MM = 96 / 25.4;

/** Bounds of zoom: a kilometre across a small canvas to a millimetre a pixel. */
const MIN_SCALE = 0.5;
const MAX_SCALE = 4000;
const clampScale = (scale: number) => Math.min(MAX_SCALE, Math.max(MIN_SCALE, scale));

export function toScreen(camera: Camera, p: Point): Point {
  return [
    camera.widthPx / 2 + (p[0] - camera.center[0]) * camera.pixelsPerMetre,
    camera.heightPx / 2 - (p[1] - camera.center[1]) * camera.pixelsPerMetre,
  ];
}

export function toGround(camera: Camera, px: Point): Point {
  return [
    camera.center[0] + (px[0] - camera.widthPx / 2) / camera.pixelsPerMetre,
    camera.center[1] - (px[1] - camera.heightPx / 2) / camera.pixelsPerMetre,
  ];
}

/** Moves the picture by screen pixels. */
export function panned(camera: Camera, dxPx: number, dyPx: number): Camera {
  const { center, pixelsPerMetre } = camera;
  return { ...camera, center: [center[0] - dxPx / pixelsPerMetre, center[1] + dyPx / pixelsPerMetre] };
}

/** Zooms by a factor with the plan point under `atPx` held in its place. */
export function zoomed(camera: Camera, factor: number, atPx: Point): Camera {
  const held = toGround(camera, atPx);
  const next = { ...camera, pixelsPerMetre: clampScale(camera.pixelsPerMetre * factor) };
  const now = toGround(next, atPx);
  return { ...next, center: [next.center[0] + held[0] - now[0], next.center[1] + held[1] - now[1]] };
}

/** Shows a box with some room round it. */
export function fitted(camera: Camera, box: Box, room = 0.08): Camera {
  const width = Math.max(box.maxX - box.minX, 0.5);
  const height = Math.max(box.maxY - box.minY, 0.5);
  const scale = Math.min(camera.widthPx / width, camera.heightPx / height) * (1 - 2 * room);
  return {
    ...camera,
    center: [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2],
    pixelsPerMetre: clampScale(scale),
  };
}

/** The part of the plan that the canvas shows. */
export function visibleBox(camera: Camera): Box {
  const [minX, maxY] = toGround(camera, [0, 0]);
  const [maxX, minY] = toGround(camera, [camera.widthPx, camera.heightPx]);
  return { minX, minY, maxX, maxY };
}
