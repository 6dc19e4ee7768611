import type { Entry } from './source.ts';

/**
 * What a figure of uniformity is judged by. `EU` is emission uniformity as designed, `EU field` as measured, `DUlq`
 * distribution uniformity of the lowest quarter, `Us` statistical uniformity, `qvar` and `pvar` the span of flow and
 * pressure over the largest.
 */
export type Measure = 'EU' | 'EU field' | 'DUlq' | 'Us' | 'qvar' | 'pvar';

/** A class of a band, percent; bounds belong to it. */
export interface AcceptanceClass {
  readonly name: string;
  readonly fromPercent: number;
  readonly toPercent: number;
}

/** One published way to judge a measure. Sources disagree, so there are several for a measure. */
export interface AcceptanceBand extends Entry {
  readonly measure: Measure;
  /** Where it applies; empty where it does everywhere. */
  readonly applies: string;
  /** Best first. Published classes may leave gaps between them. */
  readonly classes: readonly AcceptanceClass[];
}

const c = (name: string, fromPercent: number, toPercent: number): AcceptanceClass => ({
  name,
  fromPercent,
  toPercent,
});
const above = (name: string, percent: number) => c(name, percent, 100);
// Both from memory, to be checked.
const ep405 = 'ASAE EP405.1, design emission uniformity';
const ep458 = 'ASAE EP458, field evaluation of microirrigation systems';

const design = (id: string, applies: string, from: number, to: number): AcceptanceBand => ({
  id,
  name: 'design emission uniformity',
  measure: 'EU',
  applies,
  classes: [above('above the recommended range', to), c('recommended', from, to), c('below', 0, from)],
  source: ep405,
});

export const ACCEPTANCE_BANDS: readonly AcceptanceBand[] = [
  design('ep405-point-wide-level', 'point sources more than 4 m apart, slope under 2 %', 90, 95),
  design('ep405-point-wide-steep', 'point sources more than 4 m apart, steep or undulating', 85, 90),
  design('ep405-point-close-level', 'point sources less than 4 m apart, slope under 2 %', 85, 90),
  design('ep405-point-close-steep', 'point sources less than 4 m apart, steep or undulating', 80, 90),
  design('ep405-line-level', 'line sources, slope under 2 %', 80, 90),
  design('ep405-line-steep', 'line sources, steep or undulating', 70, 85),
  {
    id: 'ep458-us',
    name: 'statistical uniformity in the field',
    measure: 'Us',
    applies: '',
    classes: [
      c('excellent', 95, 100),
      c('good', 85, 90),
      c('fair', 75, 80),
      c('poor', 65, 70),
      c('unacceptable', 0, 60),
    ],
    source: ep458,
  },
  {
    id: 'ep458-eu',
    name: 'emission uniformity in the field',
    measure: 'EU field',
    applies: '',
    classes: [
      c('excellent', 94, 100),
      c('good', 81, 87),
      c('fair', 68, 75),
      c('poor', 56, 62),
      c('unacceptable', 0, 50),
    ],
    source: ep458,
  },
  {
    id: 'extension-us',
    name: 'statistical uniformity, extension table',
    measure: 'Us',
    applies: '',
    classes: [
      c('excellent', 90, 100),
      c('good', 80, 90),
      c('fair', 70, 80),
      c('poor', 60, 70),
      c('unacceptable', 0, 60),
    ],
    // From memory, to be checked.
    source: 'common practice: extension tables of field evaluation, typical values',
  },
  {
    id: 'burt-dulq',
    name: 'mean of evaluated drip systems',
    measure: 'DUlq',
    applies: 'compared with 329 evaluations of drip in the field',
    classes: [above('above their mean', 85), c('below their mean', 0, 85)],
    source: 'Burt (2004), mean distribution uniformity of drip 0.85',
  },
  {
    id: 'subunit-flow',
    name: 'flow variation in a zone',
    measure: 'qvar',
    applies: '',
    classes: [c('preferred', 0, 10), c('allowed', 10, 20), c('too much', 20, 100)],
    source: 'common practice: 10 % preferred, 20 % limit',
  },
  {
    id: 'subunit-pressure',
    name: 'pressure variation in a zone',
    measure: 'pvar',
    applies: 'outlets that do not compensate, exponent 0.5',
    classes: [c('preferred', 0, 19), c('allowed', 19, 36), c('too much', 36, 100)],
    source: 'follows from 10 % and 20 % of flow: 1 - (1 - qvar)^2',
  },
  {
    id: 'teaching-pressure',
    name: 'pressure variation, teaching texts',
    measure: 'pvar',
    applies: 'outlets that do not compensate, exponent 0.5',
    classes: [c('allowed', 0, 20), c('too much', 20, 100)],
    source: 'teaching texts on drip laterals: 20 % of pressure for 10 % of flow',
  },
];

/** Whether a lower figure is the better one. */
function lowerIsBetter(measure: Measure): boolean {
  return measure === 'qvar' || measure === 'pvar';
}

/**
 * Name of the class that a figure in percent falls in by a band; a figure in a gap is between two classes. On a
 * shared bound the better class counts.
 */
export function acceptanceClass(band: AcceptanceBand, percent: number): string {
  const inside = band.classes.find(
    ({ fromPercent, toPercent }) => percent >= fromPercent && percent <= toPercent,
  );
  if (inside) return inside.name;
  const lower = lowerIsBetter(band.measure);
  const better = band.classes.findLast((one) =>
    lower ? one.toPercent < percent : one.fromPercent > percent,
  );
  const worse = band.classes.find((one) => (lower ? one.fromPercent > percent : one.toPercent < percent));
  if (better && worse) return `between ${worse.name} and ${better.name}`;
  return (better ?? worse ?? band.classes[0])!.name;
}

/** All bands for a measure, each with its source. */
export function acceptanceBands(measure: Measure): readonly AcceptanceBand[] {
  return ACCEPTANCE_BANDS.filter((band) => band.measure === measure);
}
