import { describe, expect, test } from 'vitest';
import { conform, countOf } from './cases.ts';
import { design } from './design.ts';
import { feederTubes } from './feeder-tubes.ts';
import { friction } from './friction.ts';
import { laterals } from './laterals.ts';
import { networks } from './networks.ts';
import { outlets } from './outlets.ts';
import { sectors } from './sectors.ts';
import { soilGreenAmpt } from './soil-green-ampt.ts';
import { soilIntake } from './soil-intake.ts';

const tables = [
  ...friction,
  ...outlets,
  ...laterals,
  ...networks,
  ...design,
  ...soilIntake,
  ...soilGreenAmpt,
  ...sectors,
  ...feederTubes,
];
for (const each of tables) conform(each);

describe('in all', () => {
  const cases = tables.flatMap((each) => each.cases);
  const largest = Math.max(...tables.map((each) => each.cases.length));

  test(`${countOf(cases)} in ${tables.length} tables`, () => {
    console.log(`conformance: ${countOf(cases)} in ${tables.length} tables`);
    for (const { name, source, expected, within } of cases) {
      expect(source, name).not.toBe('');
      expect(Number.isFinite(expected), name).toBe(true);
      // A case that allows any value would be none.
      if ('share' in within) expect(within.share, name).toBeLessThanOrEqual(0.07);
      else expect(within.absolute, name).toBeLessThanOrEqual(0.05 * Math.max(1, Math.abs(expected)));
    }
    expect(new Set(tables.map((each) => each.subject)).size).toBe(tables.length);
    expect(largest).toBeLessThan(cases.length);
  });
});
