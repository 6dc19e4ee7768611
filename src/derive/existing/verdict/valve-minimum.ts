import { formatQuantity } from '../../../base/quantity.ts';
import { isAbove, isBelow } from '../../wording.ts';
import {
  allOf,
  clears,
  lacks,
  NOTHING,
  refsTo,
  says,
  type Finding,
  type Rule,
  type ZoneInput,
} from './rule.ts';

const SOURCE = "the valve's own rating; why it matters: common practice";

/** The flow of the drip against the least and the greatest flow that the zone's valve is made for. */
export const valveMinimum: Rule = (input) => {
  const { expected, zone } = input;
  const { supply } = zone;
  if (!supply) return lacks('The valve of the zone, with its least and greatest flow.');
  if (!expected) return lacks('Plants or beds of the zone, so that a drip flow can be told.');
  const min = supply.minFlowLph;
  return allOf(
    min === null ? lacks('The least flow at which the valve works, from its label.') : against(input, min),
    supply.maxFlowLph === null ? NOTHING : over(input, supply.maxFlowLph),
  );
};

function flows({ expected, units }: ZoneInput): string {
  const { lowLph, highLph } = expected!;
  const high = formatQuantity('zoneFlow', highLph, units);
  if (highLph - lowLph <= 1e-6 * highLph) return high;
  return `${formatQuantity('zoneFlow', lowLph, units, { unit: false })} to ${high}`;
}

function against(input: ZoneInput, min: number): Finding {
  const { lowLph, highLph, how } = input.expected!;
  const least = formatQuantity('zoneFlow', min, input.units);
  const found = {
    rule: 'valve-minimum',
    value: lowLph,
    limit: min,
    unit: 'L/h',
    source: SOURCE,
    refs: refsTo('supplies', [input.zone.supply!]),
  } as const;
  if (!isBelow(lowLph, min)) {
    return clears(input, {
      ...found,
      message: `Drip will take ${flows(input)}, not under the ${least} that the valve needs (${how}).`,
    });
  }
  const always = isBelow(highLph, min);
  return says(input, {
    ...found,
    speaks: 'condition',
    message: `Drip will take ${flows(input)} (${how}); the valve needs ${least} to open and close reliably${always ? '' : ', so it depends on what is laid'}.`,
    waysOut: [
      'Fit a valve that is made for low flow.',
      'Join two beds into one zone, so that more flows at once.',
      `Raise the flow: more or larger emitters, or dripline, to reach ${least}.`,
    ],
  });
}

function over(input: ZoneInput, max: number): Finding {
  const { lowLph, highLph, how } = input.expected!;
  if (!isAbove(highLph, max)) return NOTHING;
  return says(input, {
    rule: 'valve-minimum',
    speaks: 'condition',
    value: highLph,
    limit: max,
    unit: 'L/h',
    source: SOURCE,
    message: `Drip will take ${flows(input)} (${how}), more than the ${formatQuantity('zoneFlow', max, input.units)} that the valve lets through${isAbove(lowLph, max) ? '' : ', if it is laid for the larger figure'}.`,
    waysOut: ['Lay emitters of lower flow.', 'Divide the zone between two valves, or fit a larger one.'],
    refs: refsTo('supplies', [input.zone.supply!]),
  });
}
