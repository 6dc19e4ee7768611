import { formatQuantity } from '../../../base/quantity.ts';
import { PSI_KPA } from '../../../base/units.ts';
import { isBelow } from '../../wording.ts';
import { clears, lacks, refsTo, says, type Rule } from './rule.ts';

/** Pressures at the filter: below the first drip is not for this zone, below the second it is to be checked. */
export const LEAST_KPA = 15 * PSI_KPA;
export const CAREFUL_KPA = 20 * PSI_KPA;

const SOURCE =
  'common practice: under 15 psi at the filter not this zone, under 20 psi check filter, regulator, pipe and lift with care';

/** What is left of the pressure at the filter once the drip flows. */
export const pressureBudget: Rule = (input) => {
  const { pressure, units, zone } = input;
  if (!pressure) {
    return lacks('Static pressure at the valve, and the pressure with about the flow of the drip.');
  }
  const { kpa, flowLph, where, basis } = pressure;
  const blocks = isBelow(kpa, LEAST_KPA);
  const limit = blocks ? LEAST_KPA : CAREFUL_KPA;
  const found = {
    rule: 'pressure-budget',
    value: kpa,
    limit,
    unit: 'kPa',
    source: SOURCE,
    refs: zone.supply ? refsTo('supplies', [zone.supply]) : [],
  } as const;
  const have = `${formatQuantity('pressure', kpa, units)} at ${where} with ${formatQuantity('zoneFlow', flowLph, units)} flowing (${basis})`;
  if (blocks) {
    return says(input, {
      ...found,
      speaks: 'against',
      blocks: true,
      message: `There is only ${have}, under the ${formatQuantity('pressure', LEAST_KPA, units)} that drip needs at its filter.`,
      waysOut: [
        'Find what takes the pressure: a valve not fully open, a pressure reducer set low, a narrow or furred service pipe.',
        'Feed the bed from another valve, or from a place on the service with more pressure.',
      ],
    });
  }
  if (isBelow(kpa, CAREFUL_KPA)) {
    return says(input, {
      ...found,
      speaks: 'condition',
      message: `There is ${have}, under ${formatQuantity('pressure', CAREFUL_KPA, units)}: little is left for filter, regulator, pipe and lift.`,
      waysOut: [
        'Choose filter and regulator with little loss, and emitters that work from a low pressure.',
        'Prove the layout before anything is bought.',
      ],
    });
  }
  return clears(input, { ...found, message: `There is ${have}, enough for drip.` });
};
