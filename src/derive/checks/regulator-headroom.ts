import { formatQuantity } from '../../base/quantity.ts';
import { REGULATORS, regulatorById } from '../../catalog/index.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import type { Check } from './check.ts';

/** A regulator holds its setting only with some pressure to spare before it. */
export const regulatorHeadroom: Check = ({ plan, planNetwork, results, units }) =>
  planNetwork.parts.controls.flatMap((placed): Notice[] => {
    const control = plan.controls.get(placed.id);
    if (!control) return [];
    const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
    // After the filter, where the regulator takes its water.
    const node = planNetwork.network.links.from[placed.regulatorLink]!;
    const inletKpa = headToKpa(results.solution.headM[node]! - planNetwork.network.nodes.elevationM[node]!);
    const neededKpa = control.setKpa + regulator.headroomKpa;
    // Not a number where no supply reaches: other notices say so.
    if (!(inletKpa < neededKpa)) return [];
    const pressure = (kpa: number): string => formatQuantity('pressure', kpa, units);
    const regulates = inletKpa >= control.setKpa;
    return [
      {
        rule: 'regulator-headroom',
        severity: regulates ? 'warning' : 'error',
        message: regulates
          ? `Before the regulator of control set ${called(control)} stand ${pressure(inletKpa)}, less than the ${pressure(neededKpa)} that it wants for its setting of ${pressure(control.setKpa)} at full flow: choose a lower setting, or lose less pressure before it.`
          : `Before the regulator of control set ${called(control)} stand only ${pressure(inletKpa)}, below its setting of ${pressure(control.setKpa)}, so it stands open and does not regulate: choose a lower setting, or find more pressure.`,
        refs: [{ table: 'controls', id: control.id }],
        source: regulator.source,
      },
    ];
  });
