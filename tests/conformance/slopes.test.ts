import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { bandsOf } from '../../src/layout/bands/index.ts';
import { readSurvey } from '../../src/plan/file.ts';

/**
 * Slopes of the survey files in the sibling folder ../shared/sites, where that folder is there, against figures that
 * were worked out apart from this program (field practice notes beside the project, part 6): rise and lift of the bed,
 * number of bands. Lift: 0.4335 psi a foot of water.
 */
const FT = 0.3048;
const PSI = 6.894757;
const sites = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../shared/sites');

// Site 3 falls slightly along its foot too (z = 0.40 y - 0.005 x): 10.4 ft up, 0.3 ft along.
const SITES = [
  { file: 'site-3.json', riseFt: 10.4 + 0.3, liftPsi: 4.5 + 0.13, bands: 2, areaFt2: 1560 },
  { file: 'site-6.json', riseFt: 29.5, liftPsi: 12.8, bands: 3, areaFt2: 420 * 59 },
] as const;

describe.each(SITES)('$file', ({ file, riseFt, liftPsi, bands, areaFt2 }) => {
  test.skipIf(!existsSync(path.join(sites, file)))('bands, rise, lift, area', () => {
    const survey = readSurvey(readFileSync(path.join(sites, file), 'utf8'));
    if (!survey.ok) throw new Error(survey.problem.what);
    const { plan } = survey.value;
    const bed = [...plan.areas].find(({ use }) => use === 'bed')!;
    const found = bandsOf(plan, bed.id, { riseM: null });
    if (!found.ok) throw new Error(found.problem.what);
    const { value } = found;
    expect(value.riseM / FT).toBeCloseTo(riseFt, 1);
    expect(value.bands).toHaveLength(bands);
    const lift = value.bands.reduce((sum, band) => sum + band.pressureKpa, 0) / PSI;
    expect(Math.abs(lift - liftPsi)).toBeLessThan(0.06);
    const area = value.bands.reduce((sum, band) => sum + band.areaM2, 0) / FT ** 2;
    expect(area).toBeCloseTo(areaFt2, 1);
    for (const band of value.bands) expect(band.riseM / FT).toBeLessThanOrEqual(10);
    expect(value.isOutside).toBe(false);
  });
});
