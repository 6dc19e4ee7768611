import { formatQuantity } from '../../../base/quantity.ts';
import { pondingOf } from '../../soil/index.ts';
import { clears, lacks, NOTHING, refsTo, says, type Rule } from './rule.ts';

/** A usual run of sprays at one start, minutes: common practice. */
export const SPRAY_RUN_MIN = 10;

/** Water that stands before a usual run of the sprays is over runs off or stays in the way. */
export const timeToPonding: Rule = (input) => {
  const { coverage, plan, bedHeads, units } = input;
  if (coverage.rateMmPerH === null) return NOTHING;
  const ponding = pondingOf(plan.soil, coverage.rateMmPerH);
  // Where nothing is known of the soil, its rate of intake is asked for already.
  if (!ponding && !input.intake) return NOTHING;
  if (!ponding) return lacks('Soil: its texture, by a jar or ribbon test, for the time until water stands.');
  const minutes = (ponding.withMeasuredIntake ?? ponding).minutes;
  const rate = formatQuantity('rate', coverage.rateMmPerH, units);
  const found = {
    rule: 'time-to-ponding',
    value: minutes,
    limit: SPRAY_RUN_MIN,
    unit: 'min',
    source: `${ponding.source}; usual spray run of ${SPRAY_RUN_MIN} minutes: common practice`,
    refs: refsTo('heads', bedHeads),
  } as const;
  if (minutes === null) {
    return clears(input, {
      ...found,
      message: `At ${rate} no water stands on the soil, however long it runs.`,
    });
  }
  const after = minutes < 0.5 ? 'at once' : `after about ${minutes.toFixed(minutes < 10 ? 1 : 0)} minutes`;
  return minutes < SPRAY_RUN_MIN
    ? says(input, {
        ...found,
        speaks: 'for',
        message: `At ${rate} water stands on the soil ${after}, before a usual run of ${SPRAY_RUN_MIN} minutes is over.`,
      })
    : clears(input, {
        ...found,
        message: `At ${rate} water stands on the soil ${after}, later than a usual run of ${SPRAY_RUN_MIN} minutes.`,
      });
};
