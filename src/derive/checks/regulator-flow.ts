import { formatQuantity } from '../../base/quantity.ts';
import { REGULATORS, regulatorById, type Regulator } from '../../catalog/index.ts';
import type { ControlSet } from '../../plan/records.ts';
import { calledAs } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, isBelow, twoFigures } from '../wording.ts';
import type { Check, Rule } from './check.ts';

/** Regulators hold their setting only within a range of flow. */
export const regulatorFlow: Check = ({ plan, results, units }) =>
  results.zones.flatMap((zone): Notice[] => {
    const control = zone.owner.table === 'controls' ? plan.controls.get(zone.owner.id) : undefined;
    if (!control || zone.outletCount === 0 || !(zone.flowLph > 0)) return [];
    const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
    const isLow = isBelow(zone.flowLph, regulator.minFlowLph);
    if (!isLow && !isAbove(zone.flowLph, regulator.maxFlowLph)) return [];
    const limitLph = isLow ? regulator.minFlowLph : regulator.maxFlowLph;
    const [passes, limit] = twoFigures('zoneFlow', zone.flowLph, limitLph, units);
    const fit = regulatorFor(control, zone.flowLph);
    return [
      {
        rule: isLow ? 'regulator-flow-low' : 'regulator-flow-high',
        severity: 'error',
        message: isLow
          ? `${calledAs('Control set', control)} passes ${passes}, and the flow range of its regulator begins at ${limit}: below the minimum it does not regulate. Choose one for a lower flow${fit ? '' : ', or join beds into one zone'}.`
          : `${calledAs('Control set', control)} passes ${passes}, and the flow range of its regulator ends at ${limit}: choose a larger one, or divide the zone.`,
        refs: [{ table: 'controls', id: control.id }],
        source: regulator.source,
        ...(fit && {
          fix: {
            label: `Use a regulator for ${formatQuantity('zoneFlow', fit.minFlowLph, units)} to ${formatQuantity('zoneFlow', fit.maxFlowLph, units)}`,
            changes: [
              { kind: 'set', table: 'controls', ids: [control.id], fields: { regulator: fit.id } },
            ] as const,
          },
        }),
      },
    ];
  });

/** The regulator whose range holds a flow with the most room on either side, among those with the same setting. */
export function regulatorFor({ setKpa }: ControlSet, flowLph: number): Regulator | undefined {
  const room = ({ minFlowLph, maxFlowLph }: Regulator): number =>
    Math.min(flowLph / minFlowLph, maxFlowLph / flowLph);
  return REGULATORS.filter(
    (regulator) => room(regulator) >= 1 && regulator.settingsKpa.some((kpa) => Math.abs(kpa - setKpa) < 1),
  ).toSorted((a, b) => room(b) - room(a))[0];
}

export const regulatorFlowRule: Rule = {
  number: 7,
  title: 'Flow within the range of the regulator',
  says: ['regulator-flow-low', 'regulator-flow-high'],
  severity: 'error',
  limits: [],
  source: 'common practice: flow range as noted for the regulator',
  check: regulatorFlow,
};
