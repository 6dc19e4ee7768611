import { formatQuantity } from '../../base/quantity.ts';
import { polygonContains } from '../../base/polygon.ts';
import { BACKFLOW_TYPES, backflowType, type BackflowType } from '../../catalog/index.ts';
import type { Plan, Ref } from '../../plan/records.ts';
import { groundOf } from '../ground/index.ts';
import type { Notice } from '../results.ts';
import { twoFigures } from '../wording.ts';
import type { Check, CheckInput, Limit } from './check.ts';

/** A reduced-pressure device stands this far above the ground, so that its relief port drains freely, metres. */
const ABOVE_GRADE_M = 0.3048;

const ordinances =
  'city backflow ordinances (Paris TX; Gilbert AZ): 6 in for an atmospheric, 12 in for a pressure vacuum breaker above the highest outlet after it; 12 in above grade for a reduced-pressure device';
const CAUTION = 'Backflow protection keeps drinking water safe: local code and licensed practice come first.';

/** Height above the highest outlet by kind of vacuum breaker. */
export const HEIGHT_LIMITS: Partial<Record<BackflowType['id'], Limit>> = Object.fromEntries(
  BACKFLOW_TYPES.flatMap(({ id, name, aboveOutletsM }) =>
    aboveOutletsM === null
      ? []
      : [
          [
            id,
            {
              key: `backflow-height.${id.toLowerCase()}`,
              label: `Height of ${/^[aeiou]/.test(name) ? 'an' : 'a'} ${name} over the highest outlet`,
              kind: 'length',
              usual: aboveOutletsM,
              least: 0,
              most: 3,
              source: ordinances,
            } satisfies Limit,
          ] as const,
        ],
  ),
);

/** What the device must stand above. */
interface Highest {
  readonly zM: number;
  /** `outlet`, or the ground of the beds while no outlet is drawn. */
  readonly what: string;
  readonly refs: readonly Ref[];
}

/**
 * Vacuum breakers work only above all outlets after them: the device's height is held against the highest outlet that
 * is drawn, and before there is one against the highest ground of the beds. A reduced-pressure device is only told
 * with the height above grade that it asks for, since the survey does not say where it stands.
 */
export const backflowHeight: Check = (input) => {
  const { backflowType: written } = input.plan.water;
  const type = written === null ? undefined : backflowType(written);
  if (type?.id === 'RP') return aboveGrade(input, type);
  const above = type && HEIGHT_LIMITS[type.id];
  if (!type || !above) return [];
  const highest = higher(highestOutlet(input) ?? highestBed(input.plan), highestKept(input.plan));
  return highest ? againstHighest(input, type, input.limit(above), highest) : [];
};

function againstHighest(
  { plan, planNetwork, units }: CheckInput,
  type: BackflowType,
  aboveM: number,
  highest: Highest,
): Notice[] {
  const suppliesRefs = planNetwork.parts.supplies.map(({ id }) => ({ table: 'supplies', id }) as const);
  const above = formatQuantity('length', aboveM, units);
  const deviceM = plan.water.backflowZM;
  const notice = (severity: Notice['severity'], message: string, refs: readonly Ref[]): Notice[] => [
    { rule: 'backflow-height', severity, message: `${message} ${CAUTION}`, refs, source: ordinances },
  ];
  if (deviceM === null) {
    const { network, parts } = planNetwork;
    const valves = parts.supplies.map(({ node }) => network.nodes.elevationM[node]!);
    const liftM = highest.zM - Math.min(...valves);
    const uphill =
      valves.length > 0 && plan.levels.size + plan.falls.size > 0 && liftM > 0
        ? ` The highest ${highest.what} lies ${formatQuantity('length', liftM, units)} above the valve.`
        : '';
    return notice(
      'info',
      `The ${type.name} must stand at least ${above} above the highest ${highest.what} after it, and its height is not known here: measure it and type it in Survey under Water service.${uphill}`,
      suppliesRefs,
    );
  }
  const clearM = deviceM - highest.zM;
  // Heights are measured to the centimetre at best.
  if (clearM >= aboveM - 0.005) return [];
  const [has, needs] = twoFigures('length', Math.abs(clearM), aboveM, units);
  const where =
    clearM >= 0
      ? `stands only ${has} above the highest ${highest.what} after it`
      : `stands ${has} below the highest ${highest.what} after it`;
  const ground =
    plan.levels.size + plan.falls.size === 0
      ? ' No level is measured, so the ground counts as flat at the datum: measure levels before the device is moved.'
      : '';
  return notice(
    'error',
    `The ${type.name} ${where} and needs ${needs}: have it raised, or have a device fitted that does not rely on height.${ground}`,
    [...highest.refs, ...suppliesRefs],
  );
}

function aboveGrade({ plan, planNetwork, units }: CheckInput, type: BackflowType): Notice[] {
  if (planNetwork.outlets.length === 0 && plan.areas.size === 0) return [];
  return [
    {
      rule: 'backflow-grade',
      severity: 'info',
      message: `The ${type.name} must stand at least ${formatQuantity('length', ABOVE_GRADE_M, units)} above the ground around it, never in a pit, so that its relief port drains into the open. ${CAUTION}`,
      refs: planNetwork.parts.supplies.map(({ id }) => ({ table: 'supplies', id }) as const),
      source: ordinances,
    },
  ];
}

function higher(a: Highest | null, b: Highest | null): Highest | null {
  return a && b ? (b.zM > a.zM ? b : a) : (a ?? b);
}

function highestOutlet({ planNetwork: { outlets } }: CheckInput): Highest | null {
  let top: (typeof outlets)[number] | null = null;
  for (const outlet of outlets) if (!top || outlet.zM > top.zM) top = outlet;
  return top && { zM: top.zM, what: 'outlet', refs: [top.owner] };
}

/** Spray heads that are kept stay after the device, whatever valve they are on. */
function highestKept(plan: Plan): Highest | null {
  const ground = groundOf(plan);
  let top: Highest | null = null;
  for (const { id, at, fate } of plan.heads) {
    if (fate !== 'keep') continue;
    const { zM } = ground.heightAt(at);
    if (!top || zM > top.zM) top = { zM, what: 'spray head', refs: [{ table: 'heads', id }] };
  }
  return top;
}

/** Planar ground between the levels is highest at a corner of the bed or at a level inside. */
function highestBed(plan: Plan): Highest | null {
  const ground = groundOf(plan);
  let top: Highest | null = null;
  for (const bed of plan.areas) {
    if (bed.use !== 'bed') continue;
    const inside = [...plan.levels]
      .map(({ at }) => at)
      .filter((at) => polygonContains(bed.outline, bed.holes, at));
    for (const at of [...bed.outline, ...inside]) {
      const { zM } = ground.heightAt(at);
      if (!top || zM > top.zM)
        top = { zM, what: 'ground of the beds', refs: [{ table: 'areas', id: bed.id }] };
    }
  }
  return top;
}
