import { kpaToHead, lphToM3s } from '../../hydraulics/index.ts';
import type { LossCurve } from '../../hydraulics/network.ts';
import type { WorkingPoint } from '../../plan/records.ts';

/** Losses of a water service grow with flow to about this power (exponent of the Hazen-Williams formula). */
export const SERVICE_EXPONENT = 1.85;

export interface SupplyCurve {
  /** Null when no point can be used. */
  readonly curve: LossCurve | null;
  readonly unusable: readonly WorkingPoint[];
}

/**
 * How far the pressure of a service falls below its static pressure as flow grows, through the measured working
 * points: up to the first point and past the last loss = (static - p) (Q / Qp)^1.85, between two points the power law
 * through both. A point above the static pressure, without flow, or with less loss than one at a smaller flow cannot
 * be used and is given back.
 */
export function supplyCurve(staticKpa: number, points: readonly WorkingPoint[]): SupplyCurve {
  const unusable: WorkingPoint[] = [];
  const used: { flowM3s: number; lossM: number }[] = [];
  for (const point of [...points].sort((a, b) => a.flowLph - b.flowLph || b.pressureKpa - a.pressureKpa)) {
    const flowM3s = lphToM3s(point.flowLph);
    const lossM = kpaToHead(staticKpa - point.pressureKpa);
    const before = used.at(-1);
    const fits = flowM3s > (before?.flowM3s ?? 0) && lossM > (before?.lossM ?? 0);
    if (fits && Number.isFinite(flowM3s) && Number.isFinite(lossM)) used.push({ flowM3s, lossM });
    else unusable.push(point);
  }
  if (used.length === 0) return { curve: null, unusable };

  const flows: number[] = [];
  const losses: number[] = [];
  const enter = (flow: number, loss: number): void => {
    flows.push(flow);
    losses.push(loss);
  };
  const first = used[0]!;
  const last = used.at(-1)!;
  // Close steps, so that the curve drawn through them keeps to the power law.
  for (let k = 1; k < STEPS; k++) {
    const share = (k / STEPS) ** 2;
    enter(first.flowM3s * share, first.lossM * share ** SERVICE_EXPONENT);
  }
  for (let i = 0; i + 1 < used.length; i++) {
    const from = used[i]!;
    const to = used[i + 1]!;
    for (let k = 0; k < STEPS; k++) {
      const share = k / STEPS;
      enter(
        from.flowM3s * (to.flowM3s / from.flowM3s) ** share,
        from.lossM * (to.lossM / from.lossM) ** share,
      );
    }
  }
  for (let k = 0; k <= STEPS; k++) {
    const times = 1 + (k / STEPS) * 3;
    enter(last.flowM3s * times, last.lossM * times ** SERVICE_EXPONENT);
  }
  return { curve: { flowM3s: Float64Array.from(flows), lossM: Float64Array.from(losses) }, unusable };
}

const STEPS = 24;

/** Loss growing with the square of flow through one point, kPa at L/h: filters, open regulators (common practice). */
export function squareCurve(flowLph: number, lossKpa: number): LossCurve {
  // The engine takes a curve of one point for a square law.
  return {
    flowM3s: Float64Array.of(lphToM3s(flowLph)),
    lossM: Float64Array.of(kpaToHead(lossKpa)),
  };
}
