import type { Point } from '../../base/point.ts';

/**
 * A pinhole camera over flat ground, for tests: the ground in metres, x to the right and y away from the camera; the
 * picture in pixels from its upper left corner, y down.
 */
export interface Camera {
  readonly heightM: number;
  /** Below the horizontal, degrees. */
  readonly pitchDeg: number;
  readonly rollDeg: number;
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

export const PHONE: Camera = {
  heightM: 3,
  pitchDeg: 40,
  rollDeg: 0,
  focalPx: 2000,
  widthPx: 4000,
  heightPx: 3000,
};

/** Where a place on the ground shows on the picture. */
export function seenBy(camera: Camera, [x, y]: Point): Point {
  const { heightM, pitchDeg, rollDeg, focalPx, widthPx, heightPx } = camera;
  const [pitch, roll] = [(pitchDeg * Math.PI) / 180, (rollDeg * Math.PI) / 180];
  // Along the camera's axis, and below it.
  const depth = y * Math.cos(pitch) + heightM * Math.sin(pitch);
  const below = heightM * Math.cos(pitch) - y * Math.sin(pitch);
  const [u, v] = [(focalPx * x) / depth, (focalPx * below) / depth];
  return [
    widthPx / 2 + u * Math.cos(roll) - v * Math.sin(roll),
    heightPx / 2 + u * Math.sin(roll) + v * Math.cos(roll),
  ];
}
