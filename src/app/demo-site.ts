import type { Path, Point, Ring } from '../base/point.ts';
import type { PlantClass, WaterUse } from '../plan/records.ts';

/**
 * The invented site of the demo: a front yard that falls from the house to the street. Plan metres, x east,
 * y north. The painted picture and the demo plan are both made from these figures, so they lie on each other.
 */
export const DEMO_PICTURE = { widthPx: 2000, heightPx: 1500, metresPerPixel: 0.0125 } as const;

/** Upper left corner of the picture on the plan. */
export const DEMO_CORNER: Point = [0, DEMO_PICTURE.heightPx * DEMO_PICTURE.metresPerPixel];

/** A place on the plan as pixels of the picture, y down. */
export function demoPixel([x, y]: Point): Point {
  return [x / DEMO_PICTURE.metresPerPixel, (DEMO_CORNER[1] - y) / DEMO_PICTURE.metresPerPixel];
}

/** Eaves of house and garage; the picture ends behind them. */
export const HOUSE: Ring = [
  [1.5, 18.75],
  [1.5, 13.4],
  [14, 13.4],
  [14, 10.4],
  [22.6, 10.4],
  [22.6, 18.75],
];

export const WALK: Ring = [
  [12, 1.9],
  [13.4, 1.9],
  [13.4, 13.4],
  [12, 13.4],
];

export const DRIVEWAY: Ring = [
  [15.2, 0.7],
  [21.2, 0.7],
  [21.2, 10.4],
  [15.2, 10.4],
];

/** Strip of public paving along the street, and the street's edge. */
export const SIDEWALK: Ring = [
  [0, 0.7],
  [25, 0.7],
  [25, 1.9],
  [0, 1.9],
];
export const STREET: Ring = [
  [0, 0],
  [25, 0],
  [25, 0.55],
  [0, 0.55],
];

/** Two beds that make one L: along the house wall, and down the walk. */
export const HOUSE_BED: Ring = [
  [1.6, 10.7],
  [8.2, 10.7],
  [8.75, 10.55],
  [9.15, 10.15],
  [9.3, 9.6],
  [12, 9.6],
  [12, 13.4],
  [1.6, 13.4],
];
export const WALK_BED: Ring = [
  [9.3, 9.6],
  [9.3, 4.4],
  [12, 4.4],
  [12, 9.6],
];

/** Round bed in the lawn, with a stone basin in it. */
export const ROUND_BED: Ring = oval([5, 5.6], 2.7, 2.1, 24);
export const BASIN: Ring = oval([6.2, 4.5], 0.55, 0.55, 16);

export const LAWN: Ring = [
  [0.4, 1.9],
  [12, 1.9],
  [12, 4.4],
  [9.3, 4.4],
  ...HOUSE_BED.slice(0, 5).reverse(),
  [1.5, 10.7],
  [1.5, 18.75],
  [0.4, 18.75],
];
export interface DemoPlant {
  readonly at: Point;
  readonly name: string;
  readonly plantClass: PlantClass;
  readonly canopyNowM: number;
  readonly canopyMatureM: number;
  readonly waterUse: WaterUse;
}

const shrub = (x: number): DemoPlant => ({
  at: [x, 12.6],
  name: 'broadleaf evergreen',
  plantClass: 'shrub',
  canopyNowM: 0.8,
  canopyMatureM: 1.2,
  waterUse: 'moderate',
});
const perennial = (at: Point): DemoPlant => ({
  at,
  name: 'sage',
  plantClass: 'perennial',
  canopyNowM: 0.4,
  canopyMatureM: 0.7,
  waterUse: 'low',
});
const cover = (at: Point): DemoPlant => ({
  at,
  name: 'creeping thyme',
  plantClass: 'groundcover',
  canopyNowM: 0.4,
  canopyMatureM: 1,
  waterUse: 'low',
});

export const DEMO_PLANTS: readonly DemoPlant[] = [
  ...[2.3, 4, 5.7, 7.4, 9.1, 11.2].map(shrub),
  ...([3.2, 4.9, 6.6, 8.3] as const).map((x) => perennial([x, 11])),
  cover([9.95, 6.3]),
  cover([11.45, 7]),
  cover([9.95, 8.3]),
  cover([11.45, 8.85]),
  {
    at: [4.3, 5.8],
    name: 'small flowering tree',
    plantClass: 'tree',
    canopyNowM: 1.8,
    canopyMatureM: 3,
    waterUse: 'moderate',
  },
  cover([6.9, 6.2]),
  perennial([6.1, 6.6]),
];

/** Valve box, and the old spray heads in the order in which the buried line reaches them; the last on a branch. */
export const DEMO_VALVE: Point = [1.1, 12.9];
export const DEMO_HEADS: readonly Point[] = [
  [1.9, 10.95],
  [5.6, 10.95],
  [9.6, 10.95],
  [9.25, 7.6],
  [9.25, 4.75],
  [1.9, 13.1],
];

/** Two lengths that set the scale and one that tests it: the ends, and what the tape said (not quite the truth). */
export const DEMO_MEASURES: readonly {
  readonly line: Path;
  readonly tapeM: number;
  readonly role: 'fit' | 'check';
}[] = [
  { line: [HOUSE[1]!, HOUSE[2]!], tapeM: 12.51, role: 'fit' },
  { line: [DRIVEWAY[0]!, DRIVEWAY[3]!], tapeM: 9.69, role: 'fit' },
  { line: [HOUSE[1]!, WALK[0]!], tapeM: 15.52, role: 'check' },
];

/** Height of the ground above the sidewalk at the lawn's corner: 8 percent down to the street, 1 percent to the east. */
export function demoHeightM([x, y]: Point): number {
  return 0.08 * (y - 1.9) + 0.01 * (12 - x);
}

function oval([x, y]: Point, rx: number, ry: number, corners: number): Ring {
  return Array.from({ length: corners }, (_, i): Point => {
    const turn = (2 * Math.PI * i) / corners;
    return [x + rx * Math.cos(turn), y + ry * Math.sin(turn)];
  });
}
