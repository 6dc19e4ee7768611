import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { coverageOf } from '../../src/derive/existing/coverage/index.ts';
import { expectedDripFlow } from '../../src/derive/existing/expected-drip.ts';
import { flowCheckOf } from '../../src/derive/existing/flow-check.ts';
import { verdictOf } from '../../src/derive/existing/verdict/index.ts';
import { readSurveyValue } from '../../src/plan/survey.ts';
import type { Plan } from '../../src/plan/records.ts';

/**
 * Whether to convert the sites of the sibling folder ../shared/sites: figures of ../shared/reference/field-practice.md,
 * section 6, which were worked out apart from this program.
 */

const GPM = 60 * 3.785411784;
const IN = 25.4;

const sites = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../../../shared/sites');

type Survey = Record<string, unknown>;

function survey(name: string): Survey {
  return JSON.parse(readFileSync(path.join(sites, `${name}.json`), 'utf8')) as Survey;
}

function planOf(value: unknown): Plan {
  const result = readSurveyValue(value);
  if (!result.ok) throw new Error(`${result.problem.where}: ${result.problem.what}`);
  return result.value.plan;
}

/** Expected flow of point emitters, and the lowest and highest of dripline, gpm. */
const EXPECTED = [
  { site: 'site-1', rate: 1.64, gpm: 3.14, pointGpm: 0.42, driplineGpm: null },
  { site: 'site-3', rate: 1.28, gpm: 20.8, pointGpm: 3.05, driplineGpm: [6.57, 7.5] },
  // 114.8 gpm with wider rows in the lower third; 27,705 ft2 at 18 x 18 in are 123.1.
  { site: 'site-6', rate: 1.61, gpm: 414.38, pointGpm: 50, driplineGpm: [114.8, 123.2] },
] as const;

describe.skipIf(!existsSync(sites))('sites of the sibling folder', () => {
  test.each(EXPECTED)(
    '$site: convert, with its rate and flows',
    ({ site, rate, gpm, pointGpm, driplineGpm }) => {
      const plan = planOf(survey(site));
      const verdict = verdictOf(plan, 'us');
      expect(verdict.outcome).toBe('convert');
      expect(verdict.zones.every(({ outcome }) => outcome === 'convert')).toBe(true);
      expect(verdict.reasons.some(({ blocks }) => blocks)).toBe(false);
      for (const zone of verdict.zones) {
        const reason = zone.reasons.find(({ rule }) => rule === 'rate-over-intake')!;
        expect(Math.abs(reason.value! / IN - rate) / rate).toBeLessThan(0.01);
      }
      const { total, zones } = coverageOf(plan);
      expect(total.flowLph! / GPM).toBeCloseTo(gpm, 6);
      const flows = zones.map(({ zone }) => expectedDripFlow(plan, zone)!);
      const sum = (part: 'pointLph' | 'driplineLph') =>
        flows.reduce((all, flow) => all + flow[part]! / GPM, 0);
      expect(Math.abs(sum('pointLph') - pointGpm) / pointGpm).toBeLessThan(0.02);
      if (driplineGpm) {
        expect(sum('driplineLph')).toBeGreaterThan(driplineGpm[0]);
        expect(sum('driplineLph')).toBeLessThan(driplineGpm[1] * 1.01);
      }
    },
  );

  test('site-1: H4 and H5 throw 10 ft across a bed of 6 ft; the valve works at the flow of the drip', () => {
    const plan = planOf(survey('site-1'));
    const { heads } = coverageOf(plan);
    for (const id of ['H4', 'H5']) expect(heads.get(id)!.oversprayShare).toBeGreaterThan(0.3);
    expect(heads.get('H3')!.oversprayShare).toBeLessThan(0.05);
    const { reasons, clear } = verdictOf(plan, 'us');
    expect(reasons.map(({ rule }) => rule)).toContain('overspray-share');
    expect(clear.find(({ rule }) => rule === 'valve-minimum')!.value! / GPM).toBeCloseTo(0.42, 2);
    expect(flowCheckOf(plan)[0]).toMatchObject({ from: 'working point', verdict: 'agrees' });
  });

  test('site-6: ground wetted by 145 heads in a moment', () => {
    const plan = planOf(survey('site-6'));
    coverageOf(plan);
    const started = performance.now();
    const { heads } = coverageOf({ ...plan, heads: plan.heads.with(...plan.heads) });
    // 40 to 50 ms alone on the machine; a loaded one may take several times as long.
    expect(performance.now() - started).toBeLessThan(1000);
    expect(heads.size).toBe(145);
  });

  test('a head that waters lawn on the valve of site-1 makes it a site to be split', () => {
    const value = survey('site-1');
    const heads = (value['heads'] as Survey[]).map((head, i) =>
      i === 1 ? { ...head, waters: 'lawn' } : head,
    );
    const verdict = verdictOf(planOf({ ...value, heads }), 'us');
    expect(verdict.outcome).toBe('split');
    const reason = verdict.reasons[0]!;
    expect(reason).toMatchObject({
      rule: 'shared-valve',
      blocks: true,
      refs: [{ table: 'heads', id: 'H2' }],
    });
    expect(reason.waysOut.length).toBeGreaterThan(2);
  });

  test.each(['site-1', 'site-3'])(
    '%s with parts missing or of the wrong kind still gets a verdict',
    (site) => {
      const whole = survey(site);
      const parts = Object.keys(whole).filter((key) => !['format', 'version', 'units'].includes(key));
      for (const key of parts) {
        for (const value of [undefined, 'unknown', 7, [null, 'x', {}]]) {
          const plan = planOf({ ...whole, [key]: value });
          const { outcome, missing, reasons } = verdictOf(plan, 'metric');
          expect(['convert', 'split', 'leave'], key).toContain(outcome);
          for (const { message } of reasons) expect(message).not.toMatch(/NaN|undefined|null|Infinity/);
          if (key === 'heads') expect(missing.length).toBeGreaterThan(0);
        }
      }
      const mute = (whole['heads'] as Survey[]).map(({ gpm: _flow, radius: _radius, ...rest }) => rest);
      const { missing } = verdictOf(planOf({ ...whole, heads: mute }), 'us');
      expect(missing.join(' ')).toMatch(/Flow of every head/);
      expect(missing.join(' ')).toMatch(/Radius, start and sweep/);
    },
    60_000,
  );
});
