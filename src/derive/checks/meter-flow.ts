import { METER_DESIGN_SHARE, meterBySize } from '../../catalog/index.ts';
import { nominalSize } from '../existing/pipe-bore.ts';
import { calledAs } from '../network/notices.ts';
import type { Notice } from '../results.ts';
import { isAbove, twoFigures } from '../wording.ts';
import type { Check, Limit, Rule } from './check.ts';

const SHARE: Limit = {
  key: 'meter-flow-high.share',
  label: "Flow of a zone as a share of the meter's safe maximum",
  kind: 'percent',
  usual: 100 * METER_DESIGN_SHARE,
  least: 1,
  most: 100,
  source: 'common practice: designers use about 75 percent of the safe maximum of a displacement meter',
};

/** A meter run near its maximum wears out early. Valves run one after the other, so each is held against it alone. */
export const meterFlow: Check = ({ plan, results, units, limit: limitFor }) => {
  const size = plan.water.meterSize;
  const meter = size === null ? undefined : meterBySize(nominalSize(size));
  if (!meter) return [];
  const percent = limitFor(SHARE);
  const limitLph = (percent / 100) * meter.safeMaxLph;
  return results.supplies.flatMap(({ id, flowLph }): Notice[] => {
    if (!isAbove(flowLph, limitLph)) return [];
    const [passes, limit] = twoFigures('zoneFlow', flowLph, limitLph, units);
    return [
      {
        rule: 'meter-flow-high',
        severity: 'warning',
        message: `${calledAs('Supply', plan.supplies.get(id) ?? { id })} draws ${passes} through the ${meter.name}, more than the ${limit} that is ${percent === SHARE.usual ? 'three quarters' : `${+percent.toFixed(1)} %`} of its safe maximum: divide the zone.`,
        refs: [{ table: 'supplies', id }],
        source: meter.source,
      },
    ];
  });
};

export const meterFlowRule: Rule = {
  number: null,
  title: 'Flow through the meter',
  says: ['meter-flow-high'],
  severity: 'warning',
  limits: [SHARE],
  source: SHARE.source,
  check: meterFlow,
};
