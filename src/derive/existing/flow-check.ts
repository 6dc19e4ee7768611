import { memo } from '../../base/memo.ts';
import type { FlowMethod, Plan, WorkingPoint } from '../../plan/records.ts';
import { existingZones, type ExistingZone } from './zones.ts';

/** Difference from the heads' flows up to which the measured one agrees, percent. */
export const FLOW_AGREES_PERCENT = 10;
/** A working point may stand for a running zone between this share of the heads' flows and its inverse. */
const NEAR_SHARE = 0.5;
/** Hair for figures that lie on the limit but for rounding. */
const HAIR = 1e-9;

const SOURCE =
  'common practice: measured zone flow against the sum of the nozzle chart flows, within 10 percent';

/** The measured flow of a zone against what its heads should give. */
export interface FlowCheck {
  readonly zone: string | null;
  readonly supplyId: string;
  readonly measuredLph: number;
  /** `running flow`: measured with the zone on; `working point`: a point of the water service near the heads' flow. */
  readonly from: 'running flow' | 'working point';
  readonly how: FlowMethod | null;
  /** Sum over the heads with a known flow, L/h. */
  readonly headsLph: number;
  readonly headsWithoutFlow: number;
  /** By how much the measured flow is above the heads', percent of the heads' flow. */
  readonly differencePercent: number;
  /** `null` where heads without a flow leave it open. */
  readonly verdict: 'agrees' | 'higher' | 'lower' | null;
  /** What that means, one or two plain sentences. */
  readonly meaning: string;
  readonly source: string;
}

/**
 * Checks the flow of each zone whose valve has a measured running flow, or, in a plan with one valve, a working point
 * between half and twice the heads' flow. Higher than the heads: leak, worn or wrong nozzles; lower: pinched pipe,
 * closed flow control, clogged heads. Remembered while its tables are the same.
 */
export function flowCheckOf(plan: Pick<Plan, 'heads' | 'laterals' | 'supplies' | 'water'>): FlowCheck[] {
  return remembered(existingZones(plan), plan.supplies.size, plan.water);
}

const remembered = memo(
  (zones: readonly ExistingZone[], valveCount: number, water: Plan['water']): FlowCheck[] =>
    zones.flatMap((zone) => checkOf(zone, valveCount === 1 ? water.workingPoints : []) ?? []),
);

function checkOf(zone: ExistingZone, points: readonly WorkingPoint[]): FlowCheck | null {
  const { supply, heads } = zone;
  const flows = heads.flatMap(({ flowLph }) => flowLph ?? []);
  const headsLph = flows.reduce((sum, flow) => sum + flow, 0);
  if (!supply || !(headsLph > 0)) return null;
  const measured = measuredFlow(zone, headsLph, points);
  if (!measured) return null;
  const headsWithoutFlow = heads.length - flows.length;
  const differencePercent = (100 * (measured.measuredLph - headsLph)) / headsLph;
  const verdict = verdictFor(differencePercent, headsWithoutFlow);
  return {
    zone: zone.zone,
    supplyId: supply.id,
    ...measured,
    headsLph,
    headsWithoutFlow,
    differencePercent,
    verdict,
    meaning: meaningOf(verdict, measured.from, headsWithoutFlow),
    source: SOURCE,
  };
}

function measuredFlow(
  { supply }: ExistingZone,
  headsLph: number,
  points: readonly WorkingPoint[],
): Pick<FlowCheck, 'measuredLph' | 'from' | 'how'> | null {
  if (supply && supply.runningFlowLph !== null) {
    return { measuredLph: supply.runningFlowLph, from: 'running flow', how: supply.runningFlowHow };
  }
  const away = ({ flowLph }: WorkingPoint): number => Math.abs(flowLph - headsLph);
  const near = points
    .filter(({ flowLph }) => flowLph >= NEAR_SHARE * headsLph && flowLph <= headsLph / NEAR_SHARE)
    .reduce<WorkingPoint | null>((best, point) => (best && away(best) <= away(point) ? best : point), null);
  return near && { measuredLph: near.flowLph, from: 'working point', how: near.how ?? null };
}

function verdictFor(differencePercent: number, headsWithoutFlow: number): FlowCheck['verdict'] {
  if (differencePercent < -FLOW_AGREES_PERCENT - HAIR) return 'lower';
  // Heads that are not in the sum may be what makes the measured flow the higher one.
  if (headsWithoutFlow > 0) return null;
  return differencePercent > FLOW_AGREES_PERCENT + HAIR ? 'higher' : 'agrees';
}

function meaningOf(verdict: FlowCheck['verdict'], from: FlowCheck['from'], headsWithoutFlow: number): string {
  const basis =
    from === 'working point'
      ? ' The flow is that of the nearest working point of the water service: measure the zone running to be sure.'
      : '';
  switch (verdict) {
    case 'agrees':
      return `The measured flow agrees with the heads.${basis}`;
    case 'higher':
      return `More water flows than the heads should give: look for a leak, or for worn or wrong nozzles.${basis}`;
    case 'lower':
      return `Less water flows than the heads should give: look for a pinched pipe, a closed flow control or clogged heads.${basis}`;
    case null:
      return `${headsWithoutFlow === 1 ? 'One head has' : `${headsWithoutFlow} heads have`} no flow, so the sum is not complete: add what is missing.${basis}`;
  }
}
