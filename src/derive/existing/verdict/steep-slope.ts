import { says, clears, lacks, refsTo, type Rule } from './rule.ts';

/** Slope from which codes ask for water at a low rate, percent. */
const STEEP_PERCENT = 15;
const SOURCE =
  'low-volume irrigation is asked for on slopes over 15 percent: Yolo County CA 8-3.109 (over 25 percent: San Gabriel CA 153.537)';

/** Beds so steep that codes ask for a slow way to water. */
export const steepSlope: Rule = (input) => {
  const { slopePercent, beds, plan } = input;
  if (slopePercent === null) return lacks('Levels or a measured slope of the beds.');
  const found = {
    rule: 'steep-slope',
    value: slopePercent,
    limit: STEEP_PERCENT,
    unit: '%',
    source: SOURCE,
    refs: refsTo(
      'areas',
      beds.filter(({ id }) => plan.areas.has(id)),
    ),
  } as const;
  const slope = `${slopePercent.toFixed(slopePercent < 10 ? 1 : 0)} %`;
  if (slopePercent <= STEEP_PERCENT) {
    return clears(input, { ...found, message: `The beds slope by ${slope} on average.` });
  }
  return says(input, {
    ...found,
    speaks: 'for',
    message: `The beds slope by ${slope} on average: sprays run off, and many codes ask for low-volume irrigation there.`,
  });
};
