import { formatQuantity } from '../../../base/quantity.ts';
import { bedSlope, intakeOf, type SoilIntake } from '../../soil/index.ts';
import { isAbove, twoFigures } from '../../wording.ts';
import type { BedCoverage } from '../coverage/index.ts';
import { allOf, clears, lacks, NOTHING, refsTo, says, type Finding, type Rule } from './rule.ts';

const RATE = 'flow of the heads over the area of the beds; 96.25 x gpm / ft2 gives in/h';

/**
 * Sprays that give more than the soil takes in run off: the zone's mean rate, and the rate on each bed that no other
 * zone reaches, against the intake at the mean slope of the beds, or of that bed.
 */
export const rateOverIntake: Rule = (input) => {
  const { coverage, intake, bedHeads, plan, units } = input;
  const { rateMmPerH } = coverage;
  const gaps = [
    ...(intake
      ? []
      : ['Soil: a jar or ribbon test for the texture, or better the intake measured on the site.']),
    ...(bedHeads.some(({ flowLph }) => flowLph === null)
      ? ['Flow of every head, by its nozzle and pressure.']
      : []),
    ...(coverage.bedAreaM2 > 0 ? [] : ['The outline of the beds.']),
  ];
  if (rateMmPerH === null || !intake) return lacks(...gaps);
  const [rate, takes] = twoFigures('rate', rateMmPerH, intake.mmPerH, units);
  const found = {
    rule: 'rate-over-intake',
    value: rateMmPerH,
    limit: intake.mmPerH,
    unit: 'mm/h',
    source: `${RATE}; intake: ${intake.source}`,
    refs: refsTo('heads', bedHeads),
  } as const;
  const whole = isAbove(rateMmPerH, intake.mmPerH)
    ? says(input, {
        ...found,
        speaks: 'for',
        message: `The heads put out ${rate} and the soil takes in ${takes}${spread(intake, input.units)}: the rest runs off.`,
      })
    : clears(input, {
        ...found,
        message: `The heads put out ${rate}, which the soil takes in (${takes}${spread(intake, input.units)}).`,
      });
  const isOneOfSeveral = [...plan.areas].filter(({ use }) => use === 'bed').length > 1;
  const several = isOneOfSeveral ? input.beds.filter(({ id }) => input.ownBeds.has(id)) : [];
  return allOf(lacks(...gaps), whole, ...several.map((bed) => onBed(bed)));

  function onBed(bed: BedCoverage): Finding {
    const slope = bedSlope(plan, bed.id)?.meanPercent ?? null;
    const here = intakeOf(plan.soil, slope);
    if (bed.rateMmPerH === null || !here || !isAbove(bed.rateMmPerH, here.mmPerH)) return NOTHING;
    const [rateHere, takesHere] = twoFigures('rate', bed.rateMmPerH, here.mmPerH, units);
    const name = plan.areas.get(bed.id)?.name || bed.id;
    const on = slope === null ? '' : ` on its slope of ${formatQuantity('slope', slope, units)}`;
    return says(input, {
      ...found,
      value: bed.rateMmPerH,
      limit: here.mmPerH,
      source: `water of each head spread evenly on its sector; intake: ${here.source}`,
      speaks: 'for',
      message: `${name} gets ${rateHere} and takes in ${takesHere}${on}.`,
      refs: refsTo('areas', [bed]),
    });
  }
};

/** The range of the tables where they differ and nothing was measured. */
function spread({ basis, range }: SoilIntake, units: 'us' | 'metric'): string {
  if (basis === 'measured') return ' as measured';
  if (!(range.highMmPerH > range.lowMmPerH)) return ' by the table';
  const low = formatQuantity('rate', range.lowMmPerH, units, { unit: false });
  return ` by the table; tables range from ${low} to ${formatQuantity('rate', range.highMmPerH, units)}`;
}
