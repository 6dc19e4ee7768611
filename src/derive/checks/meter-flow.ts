import { METER_DESIGN_SHARE, meterBySize } from '../../catalog/index.ts';
import { nominalSize } from '../existing/pipe-bore.ts';
import { called } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Check } from './check.ts';

/** A meter run near its maximum wears out early. Valves run one after the other, so each is held against it alone. */
export const meterFlow: Check = ({ plan, results, units }) => {
  const size = plan.water.meterSize;
  const meter = size === null ? undefined : meterBySize(nominalSize(size));
  if (!meter) return [];
  const limitLph = METER_DESIGN_SHARE * meter.safeMaxLph;
  return results.supplies.flatMap(({ id, flowLph }): Notice[] => {
    if (!isAbove(flowLph, limitLph)) return [];
    const [passes, limit] = twoFigures('zoneFlow', flowLph, limitLph, units);
    return [
      {
        rule: 'meter-flow-high',
        severity: 'warning',
        message: `Supply ${called(plan.supplies.get(id) ?? { id })} draws ${passes} through the ${meter.name}, more than the ${limit} that is three quarters of its safe maximum: divide the zone.`,
        refs: [{ table: 'supplies', id }],
        source: meter.source,
      },
    ];
  });
};
