import type { Point, Ring } from '../../../base/point.ts';
import { Table } from '../../../base/table.ts';
import { emptyPlan, UNMEASURED_HEAD } from '../../../plan/empty.ts';
import type { Area, Head, LateralPipe, Level, Plan, Supply } from '../../../plan/records.ts';
import { lateral, supply } from '../../plan-for-tests.ts';

/** Short ways to write old zones in tests, and nets of any size for measuring. */

export function head(id: string, at: Point, more: Partial<Head> = {}): Head {
  return { ...UNMEASURED_HEAD, id, at, flowLph: 100, ...more };
}

export function bed(id: string, x: number, y: number, width: number, depth: number): Area {
  return area(id, 'bed', x, y, width, depth);
}

export function area(id: string, use: Area['use'], x: number, y: number, width: number, depth: number): Area {
  const outline: Ring = [
    [x, y],
    [x + width, y],
    [x + width, y + depth],
    [x, y + depth],
  ];
  return { id, use, name: id, outline, holes: [] };
}

/** 3/4 in class 200 pipe: bore 0.930 in, 0.4382 L/m. */
export function pipe(
  from: string,
  to: string,
  a: Point,
  b: Point,
  more: Partial<LateralPipe> = {},
): LateralPipe {
  return lateral(from, to, a, b, more);
}

/** Litres in a metre of 3/4 in class 200 pipe (bore 0.930 in: ASTM D2241, from memory): pi/4 x 23.622² mm2. */
export const LITRES_PER_M = (Math.PI / 4) * 23.622 ** 2 * 1e-3;

export function zone(parts: {
  readonly supplies?: readonly Supply[];
  readonly heads?: readonly Head[];
  readonly laterals: readonly LateralPipe[];
  readonly levels?: readonly Level[];
  readonly areas?: readonly Area[];
  readonly lowestWinterC?: number;
}): Plan {
  return {
    ...emptyPlan('old zone'),
    supplies: Table.of(parts.supplies ?? [supply('V', [0, 0])]),
    heads: Table.of(parts.heads ?? []),
    laterals: Table.of(parts.laterals),
    levels: Table.of(parts.levels ?? []),
    areas: Table.of(parts.areas ?? []),
    climate: { lowestWinterC: parts.lowestWinterC ?? null, note: '' },
  };
}

/** Kinds of nets for measuring. */
export type NetKind =
  'run' | 'tree' | 'comb' | 'one ring' | 'two rings' | 'one large ring' | 'two large rings';

/** A net of exactly `count` pieces (at least 20), with a head at each joint, on a slope of 5 in 100 to the east. */
export function largeNet(kind: NetKind, count: number): Plan {
  const pieces: [Point, Point][] = [];
  const step = (from: Point, dx: number, dy: number): Point => {
    const to: Point = [from[0] + dx, from[1] + dy];
    pieces.push([from, to]);
    return to;
  };
  const chain = (from: Point, steps: number, dx: number, dy: number): Point => {
    let at = from;
    for (let i = 0; i < steps; i++) at = step(at, dx, dy);
    return at;
  };
  const ring = (from: Point, sideSteps: number): Point => {
    const corner = chain(chain(from, sideSteps, 1, 0), sideSteps, 0, 1);
    chain(chain(corner, sideSteps, -1, 0), sideSteps, 0, -1);
    return corner;
  };
  const fill = (from: Point): void => {
    // A header with teeth of three pieces.
    let at = from;
    while (pieces.length < count) {
      at = step(at, 2, 0);
      if (pieces.length + 3 <= count) chain(at, 3, 0, 1.5);
    }
  };
  switch (kind) {
    case 'run':
      chain([0, 0], count, 1, 0);
      break;
    case 'tree':
      // Branches of growing length, every other one with a twig.
      for (let at: Point = [0, 0], k = 1; pieces.length < count; k++) {
        at = step(at, 3, 0);
        const length = Math.min(1 + (k % 5), count - pieces.length);
        const end = chain(at, length, 0, k % 2 ? 1.5 : -1.5);
        if (k % 2 && pieces.length < count) step(end, 1, 0.4);
      }
      break;
    case 'comb':
      fill([0, 0]);
      break;
    case 'one ring':
      fill(ring(chain([0, 0], 2, 1, 0), 10));
      break;
    case 'two rings': {
      const corner = ring(chain([0, 0], 2, 1, 0), 10);
      fill(ring(chain(corner, 2, 1, 0), 10));
      break;
    }
    case 'one large ring':
      ring([0, 0], Math.floor(count / 4));
      break;
    case 'two large rings': {
      // Two rings that share a side: three ways between two joints.
      const side = Math.floor(count / 7);
      ring([0, 0], side);
      const up = chain(chain(chain([side, 0], side, 1, 0), side, 0, 1), side, -1, 0);
      void up;
      break;
    }
  }
  const places = new Map<string, Point>();
  for (const ends of pieces) for (const at of ends) places.set(at.join(), at);
  const heads = [...places.values()].map((at, i) => head(`H${i + 1}`, at));
  return {
    ...zone({
      heads,
      laterals: pieces.map(([a, b], i) => ({ ...pipe('', '', a, b), id: `L${i + 1}` })),
      levels: [
        { id: 'Z1', at: [0, 0], zM: 0 },
        { id: 'Z2', at: [100, 0], zM: -5 },
        { id: 'Z3', at: [0, 100], zM: 1 },
      ],
      areas: [bed('A1', -1, -20, 500, 60)],
    }),
  };
}
