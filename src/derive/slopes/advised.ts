import type { Point } from '../../base/point.ts';
import { CHECK_VALVE } from '../../catalog/index.ts';
import { add, together, type Edit } from '../../plan/edits/index.ts';
import type { LinePartKind, Plan } from '../../plan/records.ts';
import { openHighs } from '../checks/air-relief.ts';
import { openLows } from '../checks/low-point-drains.ts';
import { buildPlanNetwork } from '../network/index.ts';
import { checkPlaces } from './check-places.ts';

/** A part that is advised at a place of a run, and is not there yet. */
export interface AdvisedPart {
  readonly kind: 'check valve' | LinePartKind;
  readonly runId: string;
  readonly at: Point;
  readonly zM: number;
  /** Before the first row, at the base of a band, at a high or at a low place. */
  readonly why: 'entry' | 'band' | 'high' | 'low';
  /** What it holds back, or how far the place stands out, metres. */
  readonly heightM: number;
}

export interface Advised {
  readonly parts: readonly AdvisedPart[];
  /** Runs drawn against the water, on which a check valve would be advised otherwise. */
  readonly against: readonly string[];
  /** Runs that no water reaches yet: for these no check valves can be advised. */
  readonly apart: readonly string[];
}

const NOTHING: Advised = { parts: [], against: [], apart: [] };

/**
 * What is advised for tubing on a slope: check valves (`checkPlaces`), and air reliefs and drains at the very places
 * that design checks 26 and 33 find once these are set. Nothing while no heights are known.
 */
export function advisedOf(plan: Plan): Advised {
  if (plan.runs.size === 0 || plan.levels.size + plan.falls.size === 0) return NOTHING;
  const network = buildPlanNetwork(plan);
  const { places, against } = checkPlaces(plan, network);
  const checks = places.map((place): AdvisedPart => ({ kind: 'check valve', ...place }));
  // Air and water do not pass check valves backwards, so what they part wants reliefs and drains of its own.
  const parted = checks.length > 0 ? advisedEdit(checks).apply(plan) : plan;
  const partedNetwork = parted === plan ? network : buildPlanNetwork(parted);
  const standing = (
    kind: LinePartKind,
    why: AdvisedPart['why'],
    found: ReturnType<typeof openHighs>,
  ): AdvisedPart[] =>
    found.map(({ runId, at, zM, depthM }) => ({ kind, runId, at, zM, why, heightM: depthM }));
  return {
    parts: [
      ...checks,
      ...standing('air relief', 'high', openHighs(parted, partedNetwork)),
      ...standing('drain', 'low', openLows(parted, partedNetwork)),
    ],
    against,
    apart: network.parts.apartRuns,
  };
}

/** Sets parts that are advised, as one step. Those whose run is gone by then are left out. */
export function advisedEdit(parts: readonly AdvisedPart[]): Edit {
  const label = parts.length === 1 ? `Set ${parts[0]!.kind}` : 'Set what is advised';
  const set = ({ kind, runId, at }: AdvisedPart): Edit =>
    kind === 'check valve'
      ? add('', 'checkValves', { runId, at, openKpa: CHECK_VALVE.openKpa })
      : add('', 'lineParts', { kind, runId, at });
  return {
    label,
    apply: (plan) => together(label, parts.filter(({ runId }) => plan.runs.has(runId)).map(set)).apply(plan),
  };
}
