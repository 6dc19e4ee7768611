import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { runStudy } from './study-command.ts';

const fixture = (name: string): string =>
  readFileSync(new URL(`../../tests/fixtures/${name}`, import.meta.url), 'utf8');
const FILES: Record<string, () => string> = {
  'survey.json': () => fixture('survey-small.json'),
  'tree.json': () => fixture('survey-tree.json'),
  'plan.json': () => fixture('plan-v1.json'),
  'broken.json': () => '{"format": ',
  'foreign.json': () => '{"type": "FeatureCollection"}',
};

function run(...args: string[]): { code: number; out: string; error: string } {
  let out = '';
  let error = '';
  const code = runStudy(args, {
    read: (file) => {
      const text = FILES[file];
      if (!text) throw new Error('there is no such file');
      return text();
    },
    out: (text) => (out += text),
    error: (text) => (error += text),
  });
  return { code, out, error };
}

/** Every number inside a value. */
function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbers) : [];
}

describe('study of a survey', () => {
  test('as JSON: existing system in SI, nothing drawn yet, reading notices', () => {
    const { code, out, error } = run('survey.json', '--json');
    expect([code, error]).toEqual([0, '']);
    const study = JSON.parse(out) as Record<string, any>;
    expect(study).toMatchObject({ format: 'dripwright-study', kind: 'survey', site: 'Side yard on a bank' });
    expect(study['existing']).toMatchObject({ headCount: 4, plantCount: 2, headsWithoutFlow: 1 });
    // 56 ft2; 2 gpm; 1 gpm over the bed; 13 ft of pipe; 90.393 in3 (see tests/conformance/survey-sites.test.ts).
    expect(study['existing'].bedAreaM2).toBeCloseTo(5.2026, 4);
    expect(study['existing'].totalFlowLph).toBeCloseTo(454.249, 3);
    expect(study['existing'].precipitationMmPerH).toBeCloseTo(43.656, 3);
    expect(study['existing'].lateralLengthM).toBeCloseTo(3.9624, 6);
    expect(study['existing'].lateralVolumeL).toBeCloseTo(1.4813, 4);
    expect(study['hydraulics'].totals).toMatchObject({ outletCount: 0, runCount: 0, totalFlowLph: 0 });
    expect(study['hydraulics'].outlets).toEqual([]);
    expect(study['reading'].map((notice: { where: string }) => notice.where)).toEqual([
      'plants[1]',
      'heads[3]',
    ]);
  });

  test('as text: both kinds of unit, what is not known is said', () => {
    const { code, out } = run('survey.json');
    expect(code).toBe(0);
    expect(out).toContain('Side yard on a bank');
    expect(out).toMatch(/beds +56\b.*5\.20 m/);
    expect(out).toMatch(/heads +4 \(1 without a measured flow, 1 on lawn\)/);
    expect(out).toMatch(/precipitation +1\.72 in\/h \(43\.7 mm\/h\) at least: one head/);
    expect(out).toMatch(/lateral +13\.0 ft \(4\.0 m\) in plan, 14\.0 ft .* on the ground; 1 pieces? assumed/);
    expect(out).toMatch(/backflow device +not measured/);
    expect(out).toContain('no tubing is drawn yet');
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('verdict and tie-ins', () => {
  const study = () => JSON.parse(run('tree.json', '--json').out) as Record<string, any>;
  test('as JSON: outcome with reasons, ranked tie-ins with fates, coverage, soil, lateral, flow checks', () => {
    const { version, verdict, tieIns, tieInZones, coverage, soil, lateral, flowChecks } = study();
    expect(version).toBe(4);
    expect(verdict.outcome).toBe('convert');
    for (const reason of verdict.reasons) {
      expect(reason).toMatchObject({
        rule: expect.any(String),
        unit: expect.any(String),
        source: expect.stringMatching(/./),
        message: expect.stringMatching(/\.$/),
        blocks: false,
      });
      for (const key of ['value', 'limit', 'zone', 'speaks', 'waysOut', 'refs']) {
        expect(Object.keys(reason)).toContain(key);
      }
    }
    expect(verdict.zones).toEqual([{ zone: null, supplyId: 'V', outcome: 'convert' }]);
    expect(tieIns.map((one: any) => one.rank)).toEqual(tieIns.map((_: any, i: number) => i + 1));
    expect(tieIns[0]).toMatchObject({
      id: 'H6',
      zone: null,
      supplyId: 'V',
      drains: true,
      stagnantVolumeL: 0,
    });
    // Two pieces of 5 ft of 1/2 in Class 200: 0.105 gal each.
    expect(tieIns[0].deadLegLengthM).toBeCloseTo(3.048, 3);
    expect(tieIns[0].deadLegVolumeL).toBeCloseTo(0.79, 2);
    expect(Object.keys(tieIns[0].fates).sort()).toEqual(['H1', 'H2', 'H3', 'H4', 'H5', 'H6']);
    expect(tieIns[0].fates.H6).toBe('tie-in');
    expect(tieIns[0].legs).toHaveLength(2);
    expect(tieIns[0].why).toMatch(/\.$/);
    expect(tieInZones).toMatchObject([{ zone: null, best: 'H6' }]);
    // Paving and ground beside the bed take what does not fall on it.
    const shares = Object.values(coverage.total.shares as Record<string, number>);
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    expect(coverage.total.shares.paving).toBeGreaterThan(0.05);
    expect(coverage.heads).toHaveLength(6);
    expect(soil).toMatchObject({ texture: 'loam', how: 'jar', intake: { basis: 'measured' } });
    expect(soil.ponding.minutes).toBeGreaterThan(0);
    expect(lateral).toMatchObject([{ zone: null, supplyId: 'V', shape: { kind: 'tree' } }]);
    expect(flowChecks).toMatchObject([{ supplyId: 'V', verdict: 'agrees', how: 'meter' }]);
  });
  test('as text', () => {
    const { out } = run('tree.json');
    expect(out).toMatch(/Convert or not\n +verdict +Convert to drip\n +for +The heads put out 1\.64 in\/h/);
    expect(out).toMatch(/Where drip ties in, best first\n +rank .*\n +1 +H6 +10\.0 ft .* 0\.21 gal/);
    expect(out).toMatch(/flow at V +3\.20 gpm .* measured, 3\.14 gpm/);
    expect(out).toMatch(/controller +runs up to 99 min, 3 starts a day/);
    expect(out).toMatch(/backflow device +PVB, 1\.5 ft \(0\.5 m\) above the datum/);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('study of a plan', () => {
  test('as JSON: each run and outlet once, flows that add up, no number that JSON cannot hold', () => {
    const { code, out } = run('--json', 'plan.json');
    expect(code).toBe(0);
    const { hydraulics } = JSON.parse(out) as Record<string, any>;
    expect(hydraulics.runs.map((one: any) => one.runId).sort()).toEqual(['R1', 'R2']);
    // 7.303 m from 0.2 m on, one every 0.45 m: 16; and the point emitter on the other run.
    expect(hydraulics.totals.outletCount).toBe(17);
    expect(hydraulics.outlets).toHaveLength(17);
    const flow = hydraulics.outlets.reduce((sum: number, outlet: any) => sum + (outlet.flowLph ?? 0), 0);
    expect(flow).toBeGreaterThan(0);
    expect(hydraulics.totals.totalFlowLph).toBeCloseTo(flow, 6);
    expect(hydraulics.solver.converged).toBe(true);
    expect(numbers(hydraulics).every(Number.isFinite)).toBe(true);
  });

  test('as text', () => {
    const { out } = run('plan.json');
    expect(out).toMatch(/run +length +outlets/);
    expect(out).toMatch(/Row 1 +/);
    expect(out).toMatch(/outlets +17/);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('another law of friction', () => {
  test('is named; where all flow is laminar it changes nothing', () => {
    const read = (...args: string[]) =>
      JSON.parse(run('plan.json', '--json', ...args).out) as Record<string, any>;
    const [usual, other] = [read(), read('--friction', 'hazen-williams')];
    expect([usual['friction'], other['friction']]).toEqual(['darcy-weisbach', 'hazen-williams']);
    const lowest = (study: Record<string, any>) => study['hydraulics'].totals.lowestKpa as number;
    expect(lowest(other)).toBeCloseTo(lowest(usual), 6);
  });
  test('an unknown one is refused with those there are', () => {
    expect(run('plan.json', '--friction', 'manning').error).toContain('hazen-williams');
  });
});

describe('other states', () => {
  const json = (...args: string[]) =>
    JSON.parse(run('plan.json', '--json', ...args).out) as Record<string, any>;
  test('the state is named, and its figures are those of that state', () => {
    const usual = json();
    expect(usual['scenario']).toEqual({ kind: 'running' });
    const standing = json('--scenario', 'static');
    expect(standing['scenario']).toEqual({ kind: 'static' });
    expect(standing['hydraulics'].totals.totalFlowLph).toBe(0);
    const clogged = json('--scenario=clogged', '--share=0.5');
    expect(clogged['hydraulics'].totals.totalFlowLph).toBeLessThan(
      0.7 * usual['hydraulics'].totals.totalFlowLph,
    );
    expect(json('--scenario', 'dirty-filter')['hydraulics'].solver.converged).toBe(true);
    for (const study of [usual, standing, clogged]) {
      expect(numbers(study['hydraulics']).every(Number.isFinite)).toBe(true);
      const { drainedL, heldL, totalL } = study['drainDown'];
      expect(drainedL + heldL).toBeCloseTo(totalL, 9);
      expect(totalL).toBeGreaterThan(0.5);
    }
  });
  test('uniformity with its classes, and their sources', () => {
    const { hydraulics } = json();
    expect(hydraulics.totals.eu).toBeGreaterThan(50);
    expect(hydraulics.totals.us).toBeGreaterThan(50);
    expect(hydraulics.acceptance.length).toBeGreaterThan(3);
    expect(hydraulics.acceptance.every((one: any) => one.source !== '' && one.className !== '')).toBe(true);
    const { out } = run('plan.json');
    expect(out).toMatch(/Uniformity by published classes\n +figure/);
    expect(out).toMatch(/in the tubing +[\d.]+ gal \([\d.]+ L\)/);
    expect(out).toMatch(/highest on a run/);
  });
  test('flushing as text', () => {
    const { out } = run('plan.json', '--scenario', 'flushing');
    expect(out).toMatch(/Drip, flushing with \d+ ends? open/);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });
});

describe('exit codes', () => {
  test.each([
    [[], 2, /No file/],
    [['a', 'b'], 2, /One file/],
    [['plan.json', '--colour'], 2, /--colour/],
    [['plan.json', '--scenario', 'odd'], 2, /no scenario odd/],
    [['plan.json', '--scenario'], 2, /has no value/],
    [['plan.json', '--share', '0.2'], 2, /belongs to --scenario clogged/],
    [['plan.json', '--scenario', 'clogged', '--share', '20'], 2, /not from 0 to 1/],
    [['missing.json'], 1, /no such file/],
    [['broken.json', '--json'], 1, /line 1, column 12/],
    [['foreign.json'], 1, /"type"/],
  ])('%j ends with %i', (args, code, message) => {
    const result = run(...args);
    expect(result.code).toBe(code);
    expect(result.error).toMatch(message);
    expect(result.out).toBe('');
  });

  test('help', () => {
    expect(run('--help')).toMatchObject({ code: 0, out: expect.stringContaining('--json') });
  });
});
