import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { runStudy } from '../../src/app/study-command.ts';

/**
 * Invented survey files, each of one kind of old lateral or one odd survey, against what an expert would say: worked out
 * by hand from ../shared/reference/field-practice.md, sections 1.5 and 1.6, with the reasoning beside each figure. Water
 * in pipe is 0.0408 d2 gal to a foot (section 1.6, rule 3), d in inches: class 200 0.716, 0.930 and 1.189, schedule 40
 * 0.622 and 0.824 in for 1/2, 3/4 and 1 in (ASTM D2241 from memory; Hydraulic Institute Engineering Data Book). Rates are
 * 96.25 gpm / ft2. Pressures are static less the working point's loss times (Q / Qp)^1.85, less friction of 150 after
 * Hazen and Williams (4.52 Q^1.852 / (C^1.852 d^4.87) psi to a foot), and a psi for each 2.31 ft that the tie-in lies
 * below the valve; the globe valve of 1 in, used up to 30 gpm, takes 1 psi just open and 1.5 psi at a quarter of that
 * (common practice, straight between). Q is 0.6 gph to each 2.25 ft2 of bed on the slope, which is the larger of the two expected flows.
 */

const valvePsi = (gpm: number): number => 1 + (0.5 * gpm) / 7.5;

const FT = 0.3048;
const GAL = 3.785411784;
const GPM = 60 * GAL;
const PSI = 6.894757293168361;

const folder = fileURLToPath(new URL('../fixtures/sites', import.meta.url));

type Study = Record<string, any>;

function study(name: string): Study {
  let out = '';
  const code = runStudy([`${name}.json`, '--json'], {
    read: (file) => readFileSync(path.join(folder, file), 'utf8'),
    out: (text) => (out += text),
    error: (text) => {
      throw new Error(text);
    },
  });
  expect(code).toBe(0);
  return JSON.parse(out) as Study;
}

/** Gallons in some feet of pipe of a bore in inches. */
const gal = (feet: number, boreIn: number): number => 0.0408 * boreIn ** 2 * feet;
/** Length on a slope. */
const on = (slope: number, feet: number): number => feet * Math.hypot(1, slope);

interface Expected {
  readonly outcome: 'convert' | 'split' | 'leave';
  /** Rules that speak, and rules that do not. */
  readonly says?: readonly string[];
  readonly silent?: readonly string[];
  readonly blocks?: readonly string[];
  readonly gpm: number;
  readonly inPerH: number;
  readonly bedFt2: number;
  /** Ids any of which may come first; none where there is no tie-in. */
  readonly best: readonly string[];
  readonly shape: string;
  readonly deadFt?: number;
  readonly deadGal?: number | null;
  readonly cuts?: number;
  readonly drains?: boolean | null;
  readonly psi?: number;
  readonly feasible?: boolean;
  readonly why?: RegExp;
}

const SITES: Readonly<Record<string, Expected>> = {
  // a: far end, low. 2.5 gpm on 44 x 8 ft; rate over 0.2 in/h; bed 8 ft wide. 42 ft of 3/4 in, 0.84 ft lower.
  'run-low-end': {
    outcome: 'convert',
    says: ['rate-over-intake', 'overspray-share', 'spray-near-paving'],
    silent: ['shared-valve', 'pressure-budget', 'valve-minimum', 'unknown-pipe'],
    gpm: 2.5,
    inPerH: (96.25 * 2.5) / 352,
    bedFt2: 352,
    best: ['H5'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    cuts: 0,
    drains: true,
    psi: 59.47,
    why: /^Best: end of line, lowest; all its water drains; no dead leg;/,
  },
  // a: not low: the far end all the same, with a drain at the dip (H3), no blind tail behind a tie-in in the middle.
  'run-dip': {
    outcome: 'convert',
    gpm: 2.5,
    inPerH: (96.25 * 2.5) / 352,
    bedFt2: 352,
    best: ['H5'],
    shape: 'single run',
    deadFt: 0,
    drains: false,
    psi: 59.54,
    why: /set a drain at H3/,
  },
  // b: end of the longest branch; two stubs of 3 m of 1/2 in schedule 40 (6 m in all) cut at their tees.
  'tree-metric': {
    outcome: 'convert',
    says: ['rate-over-intake', 'overspray-share'],
    gpm: (11 * 60) / GPM,
    inPerH: (11 * 60) / 96 / 25.4,
    bedFt2: 96 / FT ** 2,
    best: ['H4'],
    shape: 'tree',
    deadFt: 6 / FT,
    deadGal: gal(6 / FT, 0.622),
    cuts: 2,
    drains: true,
  },
  // c: end of the header, low; four teeth of 20 ft in plan on 30 percent cut at the header. 40.2 ft of 1 in.
  'comb-slope': {
    outcome: 'convert',
    gpm: 6,
    inPerH: (96.25 * 6) / 720,
    bedFt2: 720,
    best: ['H30'],
    shape: 'comb',
    deadFt: on(0.3, 80),
    deadGal: gal(on(0.3, 80), 0.93),
    cuts: 4,
    drains: true,
    psi: 79.15,
    why: /^Best: end of the header, lowest/,
  },
  // The same without levels: the same place; whether it drains is not known, never said.
  'comb-no-levels': {
    outcome: 'convert',
    gpm: 6,
    inPerH: (96.25 * 6) / 720,
    bedFt2: 720,
    best: ['H30'],
    shape: 'comb',
    deadFt: 80,
    deadGal: gal(80, 0.93),
    cuts: 4,
    drains: null,
    why: /levels not measured/,
  },
  // d: end of the longer arm (22 ft), the arm of 18 ft cut at the middle.
  'centre-fed': {
    outcome: 'convert',
    gpm: 2,
    inPerH: (96.25 * 2) / 308,
    bedFt2: 308,
    best: ['H4'],
    shape: 'centre-fed',
    deadFt: 18,
    deadGal: gal(18, 0.93),
    cuts: 1,
    drains: true,
    psi: 59.32,
  },
  // e: cut opposite the feed, 36 or 48 of 84 ft would be dead behind one tie-in. On level ground it is better opened
  // beside the feed: only the 6 ft between are dead, and all else is rinsed. 83 ft of 3/4 in on the way.
  'ring-level': {
    outcome: 'convert',
    gpm: 3.6,
    inPerH: (96.25 * 3.6) / 360,
    bedFt2: 360,
    best: ['H1', 'H6'],
    shape: 'ring',
    deadFt: 6,
    deadGal: gal(6, 0.93),
    cuts: 2,
    drains: true,
    psi: 59.01,
    why: /end of the opened ring.*ring opened between H1 and R/,
  },
  // e: falling away from the feed, in frost: cut opposite, at the low end. Dead is the shorter way: 6 ft level, 30 ft on 5
  // percent. The valve lies 1.75 ft higher; 53 ft of pipe.
  'ring-slope': {
    outcome: 'convert',
    gpm: 3.6,
    inPerH: (96.25 * 3.6) / 360,
    bedFt2: 360,
    best: ['H3', 'H4'],
    shape: 'ring',
    deadFt: 6 + on(0.05, 30),
    deadGal: gal(6 + on(0.05, 30), 0.93),
    cuts: 2,
    drains: true,
    psi: 59.81,
  },
  // e with a tail: the tail is the end of line; the shorter way round is cut out: again 6 ft level and 30 ft on 5 percent.
  'ring-tail': {
    outcome: 'convert',
    gpm: 4.2,
    inPerH: (96.25 * 4.2) / 528,
    bedFt2: 528,
    best: ['H7'],
    shape: 'ring',
    deadFt: 6 + on(0.05, 30),
    deadGal: gal(6 + on(0.05, 30), 0.93),
    cuts: 2,
    drains: true,
  },
  // f: at the manifold; five rays of 10 ft of 1/2 in are given up. 3 ft of 3/4 in. Rate 0.48 in/h, under 0.5.
  star: {
    outcome: 'convert',
    says: ['overspray-share'],
    silent: ['rate-over-intake'],
    gpm: 2,
    inPerH: (96.25 * 2) / 400,
    bedFt2: 400,
    best: ['M'],
    shape: 'star',
    deadFt: 50,
    deadGal: gal(50, 0.716),
    cuts: 5,
    drains: true,
    psi: 58.94,
    why: /^Best: manifold;/,
  },
  // g: last saddle, all swing pipe taken off: five times 2 ft, of a bore that nobody measured.
  'daisy-chain': {
    outcome: 'convert',
    gpm: 2.25,
    inPerH: (96.25 * 2.25) / 300,
    bedFt2: 300,
    best: ['S5'],
    shape: 'daisy chain',
    deadFt: 10,
    deadGal: null,
    cuts: 5,
    drains: true,
    psi: 59.55,
    why: /^Best: last saddle/,
  },
  // h: one tie-in a bed, as one would need a new crossing of the walk. Nothing is dead: the run goes through both.
  'across-paving': {
    outcome: 'convert',
    gpm: 2.4,
    inPerH: (96.25 * 2.4) / 288,
    bedFt2: 288,
    best: ['H1+H4', 'H2+H4', 'H1+H3', 'H2+H3'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    drains: true,
    why: /^Best as two tie-ins: .* without a new crossing/,
  },
  // i: none until split. For afterwards the end on the bed's pipe, never one on the lawn's: 12 + 5 + 10 ft of that.
  'shared-lawn': {
    outcome: 'split',
    says: ['shared-valve'],
    blocks: ['shared-valve'],
    gpm: 3.4,
    inPerH: 96.25 / 160,
    bedFt2: 160,
    best: ['H2'],
    shape: 'tree',
    deadFt: 27,
    deadGal: gal(27, 0.93),
    cuts: 0,
    drains: true,
    feasible: false,
    why: /^None until the zone is split, as heads G1, G2 stay sprays/,
  },
  // j: the valve's side of what is assumed: H3, with 20 ft behind it.
  'partly-assumed': {
    outcome: 'convert',
    says: ['unknown-pipe'],
    gpm: 2.5,
    inPerH: (96.25 * 2.5) / 352,
    bedFt2: 352,
    best: ['H3'],
    shape: 'single run',
    deadFt: on(0.02, 20),
    deadGal: gal(on(0.02, 20), 0.93),
    cuts: 1,
    drains: true,
    psi: 59.33,
    why: /^Best: as far as the pipe is known/,
  },
  // Each valve its own run: the far end of each.
  'two-valves': {
    outcome: 'convert',
    gpm: 3.9,
    inPerH: (96.25 * 3.9) / 440,
    bedFt2: 440,
    best: ['H3'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    drains: true,
    psi: 59.64,
  },
  // The same where only valves and heads have a zone, and both valves are in one box. The lawn's is left as it is.
  'valves-in-one-box': {
    outcome: 'convert',
    silent: ['shared-valve'],
    gpm: 4.4,
    inPerH: (96.25 * 1.4) / 220,
    bedFt2: 220,
    best: ['H2'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    drains: true,
  },
  // Or where nothing has a zone: what a valve feeds is one.
  'valves-without-zones': {
    outcome: 'convert',
    gpm: 3.2,
    inPerH: (96.25 * 3.2) / 440,
    bedFt2: 440,
    best: ['H2'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    drains: true,
  },
  // d, an H: the end of an arm of the farther row, the one that lies lower; three arms of 15 ft on 1 percent are cut.
  'two-rows': {
    outcome: 'convert',
    gpm: 3.2,
    inPerH: (96.25 * 3.2) / 648,
    bedFt2: 648,
    best: ['H4'],
    shape: 'centre-fed',
    deadFt: on(0.01, 45),
    deadGal: gal(on(0.01, 45), 0.93),
    cuts: 3,
    drains: true,
  },
  // c with teeth to both sides: the end of the header; eight teeth of 8 ft of 1/2 in.
  fishbone: {
    outcome: 'convert',
    gpm: 4.8,
    inPerH: (96.25 * 4.8) / 1200,
    bedFt2: 1200,
    best: ['A3'],
    shape: 'comb',
    deadFt: 64,
    deadGal: gal(64, 0.716),
    cuts: 8,
    drains: true,
  },
  // h with three beds: the pipe goes through all, so a third tie-in is named.
  'three-beds': {
    outcome: 'convert',
    gpm: 1.8,
    inPerH: (96.25 * 1.8) / 240,
    bedFt2: 240,
    best: ['H1+H3'],
    shape: 'single run',
    deadFt: 0,
    drains: true,
    why: /the pipe passes there: tie in at H2 too/,
  },
  // Steel from the valve on: a new feed from there, 42 ft given up.
  galvanised: {
    outcome: 'convert',
    says: ['galvanised'],
    gpm: 2.5,
    inPerH: (96.25 * 2.5) / 352,
    bedFt2: 352,
    best: ['V'],
    shape: 'single run',
    deadFt: on(0.02, 42),
    deadGal: gal(on(0.02, 42), 0.824),
    why: /^Best: start new from the valve/,
  },
  // Strips of 15 x 4 ft fill the bed: no overspray by the pattern, but a bed of 4 ft with all heads by paving.
  'parkway-strip': {
    outcome: 'convert',
    says: ['rate-over-intake', 'spray-near-paving'],
    silent: ['overspray-share'],
    gpm: 2.7,
    inPerH: (96.25 * 2.7) / 180,
    bedFt2: 180,
    best: ['H3'],
    shape: 'single run',
    deadFt: 0,
    drains: true,
    psi: 59.89,
  },
  // Heads 0.3 and 0.5 ft beside the middle of one long pipe are on it; the end is 6 ft past the last head.
  'heads-beside-pipe': {
    outcome: 'convert',
    gpm: 1.8,
    inPerH: (96.25 * 1.8) / 320,
    bedFt2: 320,
    best: ['N1'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
    drains: true,
    psi: 59.42,
  },
  // Pipes named for valve and heads, without places. The stub of 3.5 ft of 1/2 in holds 0.07 gal: capped, not cut.
  'names-only': {
    outcome: 'convert',
    gpm: 2.1,
    inPerH: (96.25 * 2.1) / 240,
    bedFt2: 240,
    best: ['H3'],
    shape: 'tree',
    deadFt: 3.5,
    deadGal: gal(3.5, 0.716),
    cuts: 0,
    drains: true,
  },
  // High with low on one valve is not allowed.
  'mixed-water-use': {
    outcome: 'split',
    says: ['mixed-water-use'],
    blocks: ['mixed-water-use'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
    deadFt: 0,
  },
  // 20 psi less 6 (1.6 / 3)^1.85 = 1.88, less 0.03 of friction: under 20, over 15.
  'weak-supply': {
    outcome: 'convert',
    says: ['pressure-budget'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
    psi: 18.09,
  },
  // 5 psi less: not this zone, whatever else speaks for drip.
  'too-weak-supply': {
    outcome: 'leave',
    says: ['pressure-budget', 'rate-over-intake'],
    blocks: ['pressure-budget'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
    psi: 13.09,
  },
  // 0.1 to 1.6 gpm under a valve of 5 gpm: a condition with ways out, no bar.
  'valve-minimum': {
    outcome: 'convert',
    says: ['valve-minimum'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
    psi: 59.1,
  },
  // Nothing speaks for drip but what is not known: the soil is asked for.
  'no-soil': {
    outcome: 'leave',
    silent: ['rate-over-intake', 'time-to-ponding'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
  },
  // 0.53 in/h on clay: more than any table gives it.
  'fine-clay': {
    outcome: 'convert',
    says: ['rate-over-intake', 'time-to-ponding'],
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
  },
  // Without a valve nobody knows which end is fed: no tie-in.
  'missing-valve': {
    outcome: 'convert',
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: [],
    shape: 'single run',
  },
  'unknown-sizes': {
    outcome: 'convert',
    gpm: 2,
    inPerH: (96.25 * 2) / 360,
    bedFt2: 360,
    best: ['H2'],
    shape: 'single run',
    deadFt: 0,
    deadGal: 0,
  },
  // 12 ft falling and draining, or 20 ft rising: 0.28 gal more dead against 1 gal that stands. Rate 0.27 in/h, no overspray.
  'frost-free': {
    outcome: 'leave',
    silent: ['rate-over-intake', 'overspray-share'],
    gpm: 1.6,
    inPerH: (96.25 * 1.6) / 576,
    bedFt2: 576,
    best: ['H2'],
    shape: 'centre-fed',
    deadFt: 20 * Math.hypot(1, 1.65 / 22),
    deadGal: gal(20 * Math.hypot(1, 1.65 / 22), 0.93),
    cuts: 1,
    drains: true,
  },
};

function within(ours: number, value: number, share: number, what: string): void {
  expect(Math.abs(ours - value), `${what}: ${ours} against ${value}`).toBeLessThanOrEqual(
    share * Math.abs(value) + 1e-9,
  );
}

test('every file has its expectation', () => {
  expect(readdirSync(folder).sort()).toEqual(
    Object.keys(SITES)
      .map((name) => `${name}.json`)
      .sort(),
  );
});

describe.each(Object.entries(SITES))('%s', (name, want) => {
  const found = study(name);
  const { coverage, existing, lateral, tieIns, verdict } = found as Record<string, Study>;

  test('reads without a fault; flow exact, rate within 1 percent, beds within 0.5', () => {
    expect(found['reading']).toEqual([]);
    expect(existing!['totalFlowLph'] / GPM).toBeCloseTo(want.gpm, 6);
    within(coverage!['total'].rateMmPerH / 25.4, want.inPerH, 0.01, 'rate');
    within(existing!['bedAreaM2'] / FT ** 2, want.bedFt2, 0.005, 'beds');
    expect(lateral![0].shape.kind).toBe(want.shape);
  });

  test('the verdict, with what speaks and what blocks', () => {
    expect(verdict!['outcome']).toBe(want.outcome);
    const rules = verdict!['reasons'].map(({ rule }: Study) => rule as string);
    for (const rule of want.says ?? []) expect(rules).toContain(rule);
    for (const rule of want.silent ?? []) expect(rules).not.toContain(rule);
    const blocking = verdict!['reasons'].filter(({ blocks }: Study) => blocks);
    expect(blocking.map(({ rule }: Study) => rule)).toEqual(want.blocks ?? []);
    for (const reason of verdict!['reasons']) {
      expect(reason.source).not.toBe('');
      expect(reason.message).not.toMatch(/NaN|undefined|null|Infinity/);
    }
  });

  test('the best tie-in, its dead legs, draining and pressure', () => {
    const [best] = tieIns as unknown as Study[];
    if (want.best.length === 0) {
      expect(best).toBeUndefined();
      return;
    }
    expect(want.best).toContain(best!['id']);
    expect(best!['feasible']).toBe(want.feasible ?? true);
    if (want.deadFt !== undefined) within(best!['deadLegLengthM'] / FT, want.deadFt, 0.001, 'dead legs');
    if (want.deadGal === null) expect(best!['deadLegVolumeL']).toBeNull();
    else if (want.deadGal !== undefined)
      within(best!['deadLegVolumeL'] / GAL, want.deadGal, 0.01, 'dead water');
    if (want.cuts !== undefined) expect(best!['cuts']).toBe(want.cuts);
    if (want.drains !== undefined) expect(best!['drains']).toBe(want.drains);
    // Another law of friction, and a smooth curve of the valve: a fifth of a psi.
    if (want.psi !== undefined) {
      const byHand = want.psi - valvePsi(best!['flowLph'] / GPM);
      expect(Math.abs(best!['pressureKpa'] / PSI - byHand)).toBeLessThan(0.2);
    }
    if (want.why) expect(best!['why']).toMatch(want.why);
  });

  test('sentences: one each, none says a figure twice', () => {
    for (const { why, rank } of tieIns as unknown as Study[]) {
      expect(why.match(/\.(?:\s|$)/g), why).toHaveLength(1);
      expect(why).toMatch(rank === 1 ? /best/i : /behind|as good as/i);
      expect(why).not.toMatch(/NaN|undefined|null|Infinity|against (?:0|0\.00) /);
      const volumes = why.match(/\d+\.\d\d gal/g) ?? [];
      expect(new Set(volumes).size, why).toBe(volumes.length);
      expect(why.length, why).toBeLessThan(260);
    }
  });

  test('fates: every head once, exactly the heads of the best tie-in are tied in', () => {
    const [best] = tieIns as unknown as Study[];
    if (!best) return;
    const tied = Object.entries(best['fates']).flatMap(([id, fate]) => (fate === 'tie-in' ? [id] : []));
    const places = best['places'].flatMap(({ headId }: Study) => headId ?? []);
    expect(tied.sort()).toEqual(places.sort());
    expect(Object.values(best['fates'])).not.toContain('keep');
  });
});

test('two valves: the second zone has its own best tie-in, and its own flow and rate', () => {
  const { tieIns, coverage, tieInZones } = study('two-valves') as Record<string, any>;
  expect(tieInZones.map(({ zone, best }: Study) => [zone, best])).toEqual([
    ['1', 'H3'],
    ['2', 'H5'],
  ]);
  const second = tieIns.find(({ zone, rank }: Study) => zone === '2' && rank === 1);
  expect(second).toMatchObject({ id: 'H5', supplyId: 'V2', deadLegLengthM: 0 });
  expect(Math.abs(second.pressureKpa / PSI - (59.64 - valvePsi(second.flowLph / GPM)))).toBeLessThan(0.2);
  expect(coverage.zones.map(({ flowLph }: Study) => flowLph / GPM)).toEqual([
    expect.closeTo(2.1, 6),
    expect.closeTo(1.8, 6),
  ]);
});

test('two valves in one box: drip on one, none on that of the lawn', () => {
  const { tieIns, tieInZones, verdict } = study('valves-in-one-box') as Record<string, any>;
  expect(verdict.zones.map(({ zone, outcome }: Study) => [zone, outcome])).toEqual([
    ['1', 'convert'],
    ['2', 'leave'],
  ]);
  expect(new Set(tieIns.map(({ supplyId }: Study) => supplyId))).toEqual(new Set(['V1']));
  expect(tieInZones[1].notices.map(({ rule }: Study) => rule)).toEqual(['tie-in-all-stays-spray']);
  const bare = study('valves-without-zones') as Record<string, any>;
  expect(bare['tieInZones'].map(({ zone, best }: Study) => [zone, best])).toEqual([
    ['V1', 'H2'],
    ['V2', 'H4'],
  ]);
});

test('shared valve: no tie-in lies on the pipe of the lawn before all on that of the bed', () => {
  const { tieIns } = study('shared-lawn') as Record<string, any>;
  const order = tieIns.map(({ id }: Study) => id as string);
  for (const lawn of ['G1', 'G2', 'N']) expect(order.indexOf(lawn)).toBeGreaterThan(order.indexOf('T'));
  for (const one of tieIns) {
    expect(one.untilSplit).toEqual(['G1', 'G2']);
    expect(one.fates).toMatchObject({ G1: 'undecided', G2: 'undecided' });
  }
});

test('comb, star and swing pipe: a tooth, a ray and a swing pipe come behind', () => {
  const rankOf = (name: string, id: string): number =>
    (study(name)['tieIns'] as Study[]).find((one) => one['id'] === id)!['rank'] as number;
  expect(rankOf('comb-slope', 'H32')).toBeGreaterThan(rankOf('comb-slope', 'H00'));
  expect(rankOf('comb-no-levels', 'H32')).toBeGreaterThan(1);
  for (const ray of ['H1', 'H2', 'H3', 'H4', 'H5']) expect(rankOf('star', ray)).toBeGreaterThan(1);
  expect(rankOf('daisy-chain', 'H5')).toBeGreaterThan(1);
});
