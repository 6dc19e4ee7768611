import { describe, expect, test } from 'vitest';
import { agree, counted, isAbove, isBelow, listed, shownSource, twoFigures } from './wording.ts';

const GPM = 227.1247;

describe('words for notices', () => {
  test('counts take the singular and the plural', () => {
    expect([counted(1, 'outlet'), counted(2, 'outlet'), counted(0, 'outlet')]).toEqual([
      '1 outlet',
      '2 outlets',
      '0 outlets',
    ]);
    expect(agree(1, 'is', 'are') + agree(3, 'is', 'are')).toBe('isare');
    expect(listed(['a', 'b', 'c'], 2)).toBe('a, b and 1 more');
  });
  test('a limit is missed only by more than half a percent', () => {
    expect([isBelow(99.6, 100), isBelow(99.4, 100), isAbove(100.4, 100), isAbove(100.6, 100)]).toEqual([
      false,
      true,
      false,
      true,
    ]);
    expect([isBelow(NaN, 1), isAbove(NaN, 1)]).toEqual([false, false]);
  });
  test('figures that would read alike show one more digit', () => {
    expect(twoFigures('zoneFlow', 0.097 * GPM, 0.1 * GPM, 'us')).toEqual(['0.097 gpm', '0.100 gpm']);
    expect(twoFigures('zoneFlow', 0.5 * GPM, 2 * GPM, 'us')).toEqual(['0.50 gpm', '2.00 gpm']);
  });
  test('a source is shown without remarks on how its value was come by', () => {
    expect(shownSource('common practice: usual flow ranges, from memory')).toBe(
      'common practice: usual flow ranges',
    );
    expect(shownSource('from memory')).toBe('common practice, typical values');
    expect(shownSource('common practice, from memory, to be checked')).toBe(
      'common practice, typical values',
    );
    expect(shownSource('ASTM B88 type L copper tube (from memory, to be checked)')).toBe(
      'ASTM B88 type L copper tube',
    );
    expect(shownSource('NRCS standard 430')).toBe('NRCS standard 430');
  });
});
