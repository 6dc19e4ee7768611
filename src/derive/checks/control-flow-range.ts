import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, isBelow, twoFigures } from '../wording.ts';
import type { Check } from './check.ts';

/** Regulators and filters work only within a range of flow. */
export const controlFlowRange: Check = ({ plan, results, units }) =>
  results.zones.flatMap((zone): Notice[] => {
    const control = zone.owner.table === 'controls' ? plan.controls.get(zone.owner.id) : undefined;
    if (!control || zone.outletCount === 0 || !(zone.flowLph > 0)) return [];
    const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
    const filter = filterById(control.filter) ?? FILTERS[0]!;
    const against = (limitLph: number): [string, string] =>
      twoFigures('zoneFlow', zone.flowLph, limitLph, units);
    const notices: Notice[] = [];
    const add = (rule: string, severity: Notice['severity'], message: string, source: string): void => {
      notices.push({ rule, severity, message, refs: [{ table: 'controls', id: control.id }], source });
    };
    if (isBelow(zone.flowLph, regulator.minFlowLph)) {
      const [passes, least] = against(regulator.minFlowLph);
      add(
        'regulator-flow-low',
        'error',
        `Control set ${called(control)} passes ${passes}, and the flow range of its regulator begins at ${least}: below the minimum it does not regulate. Choose one for a lower flow.`,
        regulator.source,
      );
    } else if (isAbove(zone.flowLph, regulator.maxFlowLph)) {
      const [passes, most] = against(regulator.maxFlowLph);
      add(
        'regulator-flow-high',
        'error',
        `Control set ${called(control)} passes ${passes}, and the flow range of its regulator ends at ${most}: choose a larger one, or divide the zone.`,
        regulator.source,
      );
    }
    if (isAbove(zone.flowLph, filter.ratedFlowLph)) {
      const [passes, rated] = against(filter.ratedFlowLph);
      add(
        'filter-flow-high',
        'warning',
        `Control set ${called(control)} passes ${passes}, more than the ${rated} for which its filter is rated: choose a larger filter, or divide the zone.`,
        filter.source,
      );
    }
    return notices;
  });
