import { calledAs } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { supplyFlowLph } from '../zones.ts';
import { isAbove, isBelow, twoFigures } from '../wording.ts';
import type { Check, Rule } from './check.ts';

/** A valve made for sprays may not close at the small flow of drip. */
export const valveFlow: Check = ({ plan, planNetwork, results, units }) =>
  planNetwork.parts.supplies.flatMap((placed): Notice[] => {
    const supply = plan.supplies.get(placed.id);
    if (!supply || !placed.hasPressure) return [];
    const flowLph = supplyFlowLph(planNetwork, results.solution, placed);
    // Nothing is laid out behind this valve yet.
    if (!(flowLph > 1e-6)) return [];
    const against = (limitLph: number): [string, string] => twoFigures('zoneFlow', flowLph, limitLph, units);
    const refs = [{ table: 'supplies', id: supply.id }] as const;
    if (supply.minFlowLph !== null && isBelow(flowLph, supply.minFlowLph)) {
      const [passes, least] = against(supply.minFlowLph);
      return [
        {
          rule: 'valve-flow-low',
          severity: 'error',
          message: `${calledAs('Supply', supply)} passes ${passes}, below the ${least} that its valve needs to open and close surely: use a valve for low flow, or join beds into one zone.`,
          refs,
          source: 'minimum flow as surveyed for this valve',
        },
      ];
    }
    if (supply.maxFlowLph !== null && isAbove(flowLph, supply.maxFlowLph)) {
      const [passes, most] = against(supply.maxFlowLph);
      return [
        {
          rule: 'valve-flow-high',
          severity: 'warning',
          message: `${calledAs('Supply', supply)} passes ${passes}, above the ${most} of its valve: divide the zone.`,
          refs,
          source: 'maximum flow as surveyed for this valve',
        },
      ];
    }
    return [];
  });

export const valveFlowRule: Rule = {
  number: 6,
  title: 'Flow within the range of the zone valve',
  says: ['valve-flow-low', 'valve-flow-high'],
  severity: 'error',
  limits: [],
  source: 'minimum and maximum flow as surveyed for this valve',
  check: valveFlow,
};
