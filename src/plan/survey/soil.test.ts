import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readSurvey } from '../file.ts';
import { coverFacts } from './cover.ts';

const INCH = 0.0254;

function read(parts: Readonly<Record<string, unknown>>) {
  const units = { length: 'ft', flow: 'gpm', pressure: 'psi' };
  const result = readSurvey(JSON.stringify({ format: 'survey', version: 1, units, ...parts }));
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

describe('cover in words', () => {
  test.each([
    ['2 in bark', 'mulch', 2 * INCH],
    ['netting and 2 in shredded mulch', 'mulch', 2 * INCH],
    ['coco netting', 'netting', null],
    ['Gravel', 'gravel', null],
    ['fabric under gravel', 'fabric', null],
    ['fabric under 2 in gravel', 'fabric', 2 * INCH],
    ['3/4 in crushed gravel', 'gravel', null],
    ['2-1/2 in of 3/4 in gravel', 'gravel', 2.5 * INCH],
    ['2-3 in bark', 'mulch', 2 * INCH],
    ['2 to 3" wood chips', 'mulch', 2 * INCH],
    ['5 cm bark', 'mulch', 0.05],
    ['50 mm', null, null],
    ['mulch 1½ in', 'mulch', 1.5 * INCH],
    ['bark, 3in.', 'mulch', 3 * INCH],
    ['1 in netting over 3 in compost', 'mulch', 3 * INCH],
    ['fabric 6 ft wide', 'fabric', null],
    ['bare', 'bare', null],
    ['none', 'bare', null],
    ['bare soil', 'bare', null],
    ['no mulch', 'bare', null],
    ['no fabric, 2 in bark', 'mulch', 2 * INCH],
    ['mulch: 2 in bark; fabric: none', 'mulch', 2 * INCH],
    ['mulch: 2 in bark; fabric: yes', 'fabric', 2 * INCH],
    ['type: gravel; depthIn: 2', 'gravel', 2 * INCH],
    ['without weed barrier; straw', 'mulch', null],
    ['ground cover', 'plants', null],
    ['yes', null, null],
    ['blue carpet', null, null],
  ] as const)('%s', (words, kind, depthM) => {
    const found = coverFacts(words);
    expect(found.kind).toBe(kind);
    if (depthM === null) expect(found.depthM).toBeNull();
    else expect(found.depthM).toBeCloseTo(depthM, 9);
  });

  test('very long words do not hold up the reading', () => {
    expect(coverFacts('mulch '.repeat(1e6)).kind).toBe('mulch');
    expect(coverFacts('1'.repeat(1e6)).kind).toBeNull();
  }, 2000);

  test('any words: never thrown, and a depth only within bounds', () => {
    const piece = fc.constantFrom(
      '2',
      '-',
      '1/0',
      ' in',
      '"',
      "'",
      'bark',
      'no ',
      'fabric',
      ':',
      ';',
      ' und ',
      '½',
      '1,000',
      ' m',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(piece).map((parts) => parts.join('')),
        ),
        (words) => {
          const { depthM } = coverFacts(words);
          if (depthM !== null) expect(depthM > 0 && depthM <= 0.6).toBe(true);
        },
      ),
      { seed: 3, numRuns: 2000 },
    );
  });
});

describe('cover of a survey', () => {
  test.each([
    ['2 in bark', 'mulch', '2 in bark'],
    [{ mulch: '3 in bark', fabric: true, gravel: null }, 'fabric', 'mulch: 3 in bark; fabric: yes'],
    [[{ type: 'gravel', depthIn: 2 }], 'gravel', 'type: gravel; depthIn: 2'],
    [false, 'bare', 'none'],
  ])('%j', (cover, kind, words) => {
    const { plan, notices } = read({ cover });
    expect(plan.soil).toMatchObject({ coverKind: kind, cover: words });
    expect(notices).toEqual([]);
  });
  test('unknown words are kept and named', () => {
    const { plan, notices } = read({ cover: 'blue carpet' });
    expect(plan.soil).toMatchObject({ cover: 'blue carpet', coverKind: null, coverDepthM: null });
    expect(notices.map(({ where }) => where)).toEqual(['cover']);
  });
  test('not measured stays so, without a notice', () => {
    const { plan, notices } = read({ cover: null, soil: { cover: 'unknown' } });
    expect(plan.soil).toMatchObject({ cover: null, coverKind: null });
    expect(notices).toEqual([]);
  });
});

describe('ribbon, fabric and compaction', () => {
  test.each([
    [{ ribbonIn: 1.5 }, 1.5 * INCH],
    [{ ribbonCm: 4 }, 0.04],
    [{ ribbonMm: '40' }, 0.04],
    [{ ribbon: '1 1/2 in' }, 1.5 * INCH],
    [{ ribbon: '4 cm' }, 0.04],
    [{ ribbon: 'none' }, 0],
    [{ ribbon: 0 }, 0],
    [{ ribbon: 'unknown' }, null],
  ])('%j', (soil, ribbonM) => {
    const { plan, notices } = read({ soil });
    if (ribbonM === null) expect(plan.soil.ribbonM).toBeNull();
    else expect(plan.soil.ribbonM).toBeCloseTo(ribbonM, 9);
    expect(notices).toEqual([]);
  });
  test.each([
    [{ ribbon: 2 }],
    [{ ribbon: 'long' }],
    [{ ribbon: '3 m' }],
    [{ ribbonIn: -1 }],
    [{ ribbonIn: 'x' }],
    [{ ribbonIn: 900 }],
  ])('%j is named and counts as not measured', (soil) => {
    const { plan, notices } = read({ soil });
    expect(plan.soil.ribbonM).toBeNull();
    expect(notices).toHaveLength(1);
  });
  test('fabric intake with its unit, compacted as a word', () => {
    const { plan, notices } = read({ soil: { fabricIntakeInPerH: 0.2, compacted: 'yes' } });
    expect(plan.soil.fabricIntakeMmPerH).toBeCloseTo(5.08, 9);
    expect(plan.soil.compacted).toBe(true);
    expect(notices).toEqual([]);
    expect(read({ soil: { fabricIntakeMmPerH: 7 } }).plan.soil.fabricIntakeMmPerH).toBe(7);
  });
});
