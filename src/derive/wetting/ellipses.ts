import Flatbush from 'flatbush';
import type { WettedAreas } from './areas.ts';

/** Ellipses as quadratic forms, a dx2 + 2 b dx dy + c dy2 <= 1 about their middles, with an index by their boxes. */
export interface Ellipses {
  /** Index of each one's outlet; outlets that wet nothing are left out. */
  readonly outlet: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  readonly c: Float64Array;
  /** Half the width and half the height of the box, metres. */
  readonly halfX: Float64Array;
  readonly halfY: Float64Array;
  readonly narrowest: Float64Array;
  /** Indices of the ellipses whose boxes meet a box. */
  near(minX: number, minY: number, maxX: number, maxY: number): number[];
}

/** The ellipses of wet ground; places that are no numbers are left out. */
export function ellipsesOf({ count, x, y, alongM, acrossM, fallDeg }: WettedAreas): Ellipses {
  const wet: number[] = [];
  for (let i = 0; i < count; i++) {
    if (alongM[i]! > 0 && acrossM[i]! > 0 && Number.isFinite(x[i]!) && Number.isFinite(y[i]!)) wet.push(i);
  }
  const make = () => new Float64Array(wet.length);
  const forms = {
    x: make(),
    y: make(),
    a: make(),
    b: make(),
    c: make(),
    halfX: make(),
    halfY: make(),
    narrowest: make(),
  };
  const index = wet.length > 0 ? new Flatbush(wet.length) : null;
  wet.forEach((i, k) => {
    const turn = (fallDeg[i]! * Math.PI) / 180;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const [along, across] = [alongM[i]!, acrossM[i]!];
    const [u, v] = [1 / (along * along), 1 / (across * across)];
    forms.x[k] = x[i]!;
    forms.y[k] = y[i]!;
    forms.a[k] = u * cos * cos + v * sin * sin;
    forms.b[k] = (u - v) * cos * sin;
    forms.c[k] = u * sin * sin + v * cos * cos;
    const halfX = Math.hypot(along * cos, across * sin);
    const halfY = Math.hypot(along * sin, across * cos);
    forms.halfX[k] = halfX;
    forms.halfY[k] = halfY;
    forms.narrowest[k] = Math.min(along, across);
    index!.add(x[i]! - halfX, y[i]! - halfY, x[i]! + halfX, y[i]! + halfY);
  });
  index?.finish();
  return {
    ...forms,
    outlet: Int32Array.from(wet),
    near: (minX, minY, maxX, maxY) => (index ? index.search(minX, minY, maxX, maxY) : []),
  };
}
