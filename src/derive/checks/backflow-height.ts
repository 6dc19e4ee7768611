import { formatQuantity } from '../../base/quantity.ts';
import { backflowType } from '../../catalog/index.ts';
import type { Check } from './check.ts';

/**
 * Vacuum breakers work only above all outlets. The survey does not say how high the device stands, so the rule can
 * only be told with the height that it asks for; where its height is not known nothing is held against it.
 */
export const backflowHeight: Check = ({ plan, planNetwork, units }) => {
  const { backflowType: written } = plan.water;
  const type = written === null ? undefined : backflowType(written);
  if (!type || type.aboveOutletsM === null || planNetwork.outlets.length === 0) return [];
  const { network, parts } = planNetwork;
  const highest = planNetwork.outlets.reduce((top, { zM }) => Math.max(top, zM), -Infinity);
  const valves = parts.supplies.map(({ node }) => network.nodes.elevationM[node]!);
  const above = formatQuantity('length', type.aboveOutletsM, units);
  const lift = highest - Math.min(...valves);
  const uphill =
    valves.length > 0 && plan.levels.size > 0 && lift > 0
      ? ` The highest outlet lies ${formatQuantity('length', lift, units)} above the valve.`
      : '';
  return [
    {
      rule: 'backflow-height',
      severity: 'info',
      message: `The ${type.name} must stand at least ${above} above the highest outlet after it, and its height is not known here: measure it.${uphill} Backflow protection keeps drinking water safe: local code and licensed practice come first.`,
      refs: parts.supplies.map(({ id }) => ({ table: 'supplies', id }) as const),
      source:
        'city backflow ordinances (Paris TX; Gilbert AZ): 6 in for an atmospheric, 12 in for a pressure vacuum breaker',
    },
  ];
};
