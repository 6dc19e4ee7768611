import { formatQuantity } from '../../base/quantity.ts';
import { FILTERS, filterById, REGULATORS, regulatorById } from '../../catalog/index.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import type { Check } from './check.ts';

/** Regulators and filters work only within a range of flow. */
export const controlFlowWindow: Check = ({ plan, results, units }) =>
  results.zones.flatMap((zone): Notice[] => {
    const control = zone.owner.table === 'controls' ? plan.controls.get(zone.owner.id) : undefined;
    if (!control || zone.outletCount === 0 || !(zone.flowLph > 0)) return [];
    const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
    const filter = filterById(control.filter) ?? FILTERS[0]!;
    const flow = (lph: number): string => formatQuantity('zoneFlow', lph, units);
    const notices: Notice[] = [];
    const add = (rule: string, severity: Notice['severity'], message: string, source: string): void => {
      notices.push({ rule, severity, message, refs: [{ table: 'controls', id: control.id }], source });
    };
    if (zone.flowLph < regulator.minFlowLph) {
      add(
        'regulator-flow-low',
        'error',
        `Control set ${called(control)} passes ${flow(zone.flowLph)}, but its regulator begins at ${flow(regulator.minFlowLph)}: below the minimum it does not regulate. Choose one for a lower flow.`,
        regulator.source,
      );
    } else if (zone.flowLph > regulator.maxFlowLph) {
      add(
        'regulator-flow-high',
        'error',
        `Control set ${called(control)} passes ${flow(zone.flowLph)}, more than the ${flow(regulator.maxFlowLph)} of its regulator: choose a larger one, or divide the zone.`,
        regulator.source,
      );
    }
    if (zone.flowLph > filter.ratedFlowLph) {
      add(
        'filter-flow-high',
        'warning',
        `Control set ${called(control)} passes ${flow(zone.flowLph)}, more than the ${flow(filter.ratedFlowLph)} for which its filter is rated: choose a larger filter, or divide the zone.`,
        filter.source,
      );
    }
    return notices;
  });
