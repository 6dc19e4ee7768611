import { formatQuantity } from '../../base/quantity.ts';
import { PSI_KPA } from '../../base/units.ts';
import { REGULATORS, regulatorById } from '../../catalog/index.ts';
import { headToKpa } from '../../hydraulics/index.ts';
import { calledAs } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isBelow, twoFigures } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';
import { lowerSetting } from './settings.ts';

const SPARE: Limit = {
  key: 'regulator-headroom.spare',
  label: 'Pressure before a regulator above its setting',
  kind: 'pressure',
  usual: 5 * PSI_KPA,
  least: 0,
  most: 200,
  source: 'common practice: 5 psi more than the setting',
};

/** A regulator holds its setting only with some pressure to spare before it. */
export const regulatorHeadroom: Check = (input) => {
  const { plan, planNetwork, results, units } = input;
  const own = input.limit(SPARE);
  return planNetwork.parts.controls.flatMap((placed): Notice[] => {
    const control = plan.controls.get(placed.id);
    if (!control) return [];
    const regulator = regulatorById(control.regulator) ?? REGULATORS[0]!;
    // After the filter, where the regulator takes its water.
    const node = planNetwork.network.links.from[placed.regulatorLink]!;
    const inletKpa = headToKpa(results.solution.headM[node]! - planNetwork.network.nodes.elevationM[node]!);
    // A limit of the plan's own goes before what is noted for the regulator.
    const spareKpa = own === SPARE.usual ? regulator.headroomKpa : own;
    const neededKpa = control.setKpa + spareKpa;
    // Not a number where no supply reaches: other notices say so.
    if (!isBelow(inletKpa, neededKpa)) return [];
    const holds = !isBelow(inletKpa, control.setKpa);
    const [gives, needs] = twoFigures('pressure', inletKpa, neededKpa, units);
    const pressure = (kpa: number): string => formatQuantity('pressure', kpa, units);
    const lower = Math.max(0, inletKpa - spareKpa);
    const loweredTo = lower > 0 ? ` to ${pressure(lower)} or less` : '';
    return [
      {
        rule: 'regulator-headroom',
        severity: holds ? 'warning' : 'error',
        message: `The supply gives only ${gives} at the regulator of ${calledAs('control set', control)}; it needs ${needs} to hold its setting of ${pressure(control.setKpa)}${holds ? ' at full flow' : ', and stands open until then'}. Lower the set pressure${loweredTo} if the outlets allow it, or bring more pressure to it: less flow at a time, wider pipe before it, a cleaner or larger filter.`,
        refs: [{ table: 'controls', id: control.id }],
        source: regulator.source,
        ...lowerSetting(input, placed, lower),
      },
    ];
  });
};

export const regulatorHeadroomRule: Rule = {
  number: 8,
  title: 'Pressure to spare before the regulator',
  says: ['regulator-headroom'],
  severity: 'error',
  limits: [SPARE],
  source: SPARE.source,
  check: regulatorHeadroom,
};
