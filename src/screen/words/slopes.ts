import type { AdvisedPart } from '../../derive/slopes/index.ts';

const kinds: Readonly<Record<AdvisedPart['kind'], string>> = {
  'check valve': 'Check valve',
  'air relief': 'Air relief',
  drain: 'Drain',
};

/** Words of the slope of a bed: bands, and the parts that a slope asks for, in English. */
export const slopes = {
  title: 'Slope',
  none: 'Nothing says how this bed slopes. Set levels or falls in Survey, under Ground.',
  toSurvey: 'Go to Survey',
  level: 'This bed is level: no bands, check valves or air reliefs are needed for its slope.',
  rise: 'Lowest to highest place',
  mean: 'Mean slope',
  steepest: 'Steepest',
  lift: 'Lift, bottom to top',
  liftHint:
    'Pressure that the top has less than the bottom while water stands: 0.433 psi a foot, 9.79 kPa a metre',
  outside:
    'Part of the bed lies beyond the levels, where the slope is carried on: set levels at its corners.',
  most: 'A band rises at most',
  usual: (rise: string) => `as usual: ${rise}`,
  oneBand: (rise: string) => `One band will do: it rises ${rise}.`,
  mild: (rise: string) =>
    `Up to ${rise} one band will do with compensating emitters; plain ones want two from about half of that.`,
  bands: (count: number) => `${count} bands`,
  band: 'Band',
  bandName: (number: number, count: number) =>
    number === 1 ? `${number}, lowest` : number === count ? `${number}, highest` : String(number),
  parts: (count: number) => (count > 1 ? ` (${count} parts)` : ''),
  rises: 'Rises',
  pressure: 'Pressure',
  area: 'Area, in plan',
  each: (frost: boolean) =>
    `For each band: a check valve at its base, where its header enters, an air relief at its highest point${frost ? ', and a drain or an end that opens at its lowest' : ''}.`,
  split: 'Split into bands',
  splitNote: {
    live: 'The rows are laid anew in each band, by the same choices.',
    byHand: 'The rows stay as they are, as plain runs.',
    none: 'Plants and runs stay where they are.',
  },
  splitDone: (count: number) => `The bed is ${count} beds now, one above the other.`,
  advised: 'What is advised on this slope',
  noRuns: 'Draw tubing in this bed first; then check valves, air reliefs and drains are advised here.',
  allSet: 'Nothing is missing: what is advised is set, or nothing here asks for it.',
  winter: 'Lowest winter temperature',
  winterHint:
    'Below freezing drains are advised at low points (North Carolina 21 NCAC 23; each low point: common practice).',
  winterLabel: 'Set lowest winter temperature',
  apart: 'No water reaches these rows yet: check valves are advised once a control set does.',
  look: 'Look for what is advised',
  kinds,
  reason: (part: AdvisedPart, run: string, height: string): string => {
    switch (part.why) {
      case 'entry':
        return `on ${run}, before the first row: holds ${height} of water above it.`;
      case 'band':
        return `on ${run}, at the base of a band: holds ${height} of water above it.`;
      case 'high':
        return `on ${run}, a high point, ${height} above the lowest end or the dip beside it: air gets in here when the water is shut off.`;
      case 'low':
        return `on ${run}, a low point, ${height} deep: water gets out here before frost.`;
    }
  },
  against: (runs: string) =>
    `Water of the upper rows also comes down by ${runs}. A check valve there would shut flushing off: split the bed into bands, so that each has headers of its own.`,
  set: 'Set',
  setOne: (kind: string, run: string) => `Set: ${kind} on ${run}`,
  setAll: 'Set what is advised',
  setDone: (count: number) => `${count} ${count === 1 ? 'part' : 'parts'} set.`,
  more: (count: number) => `and ${count} more`,
  caution:
    'Local codes go first where they ask for check valves or air reliefs, and for the backflow preventer above the highest outlet.',
  source:
    'Check valves: Redwood City landscape rules and San Marcos TX; air reliefs and drains: common practice',
} as const;
