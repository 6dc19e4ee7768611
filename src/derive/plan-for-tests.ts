import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import { emptyPlan, UNMEASURED_LATERAL, UNMEASURED_SUPPLY } from '../plan/empty.ts';
import type {
  ControlSet,
  InlineEmitters,
  LateralPipe,
  Level,
  Plan,
  PointEmitter,
  Run,
  Supply,
} from '../plan/records.ts';

/** Short ways to write the records of a plan in tests. */

export const PSI = 6.894757;

export function supply(id: string, at: Point, more: Partial<Supply> = {}): Supply {
  return {
    ...UNMEASURED_SUPPLY,
    id,
    name: id,
    at,
    pressureKpa: 400,
    ...more,
  };
}

export function lateral(
  from: string,
  to: string,
  a: Point,
  b: Point,
  more: Partial<LateralPipe> = {},
): LateralPipe {
  return {
    ...UNMEASURED_LATERAL,
    id: `${from}-${to}`,
    from,
    to,
    a,
    b,
    size: '3/4',
    material: 'PVC Class 200',
    ...more,
  };
}

export function control(id: string, at: Point, more: Partial<ControlSet> = {}): ControlSet {
  return { id, name: id, at, filter: 'screen-155', regulator: 'window-0.1-8', setKpa: 25 * PSI, ...more };
}

export function blank(id: string, ...path: Point[]): Run {
  return { id, name: id, path, tubing: 'blank-half-600', inline: null };
}

export function dripline(id: string, path: readonly Point[], more: Partial<InlineEmitters> = {}): Run {
  return {
    id,
    name: id,
    path,
    tubing: 'inline-17',
    inline: { law: 'inline-plain', ratedFlowLph: 2.3, spacingM: 0.3, firstM: 0.15, ...more },
  };
}

export function emitter(
  id: string,
  runId: string,
  at: Point,
  more: Partial<PointEmitter> = {},
): PointEmitter {
  return { id, runId, at, plantId: null, law: 'point-plain', ratedFlowLph: 4, ...more };
}

export function level(id: string, x: number, y: number, zM: number): Level {
  return { id, at: [x, y], zM };
}

export function planOf(parts: {
  readonly levels?: readonly Level[];
  readonly supplies?: readonly Supply[];
  readonly laterals?: readonly LateralPipe[];
  readonly controls?: readonly ControlSet[];
  readonly runs?: readonly Run[];
  readonly emitters?: readonly PointEmitter[];
}): Plan {
  return {
    ...emptyPlan('test'),
    levels: Table.of(parts.levels ?? []),
    supplies: Table.of(parts.supplies ?? []),
    laterals: Table.of(parts.laterals ?? []),
    controls: Table.of(parts.controls ?? []),
    runs: Table.of(parts.runs ?? []),
    emitters: Table.of(parts.emitters ?? []),
  };
}
