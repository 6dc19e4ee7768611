import { describe, expect, test } from 'vitest';
import { columnLetters, columnsByHeading, guessColumns, unitOfHeading } from './columns.ts';

const found = (...headings: string[]) =>
  Object.fromEntries(Object.entries(columnsByHeading(headings)).filter(([, column]) => column !== null));

describe('columns by their headings', () => {
  test.each([
    [
      ['Botanical Name', 'Common Name', 'Type', 'QTY', 'Mature Width', 'Height', 'Water'],
      { name: 1, plantClass: 2, count: 3, canopyMature: 4, waterUse: 6 },
    ],
    [
      ['Species', 'Plant class', 'Canopy now (m)', 'Canopy (m)', 'Root-ball', 'East', 'North'],
      { name: 0, plantClass: 1, canopyNow: 2, canopyMature: 3, rootBall: 4, x: 5, y: 6 },
    ],
    [
      ['canopy_mature_cm', 'canopy_now_cm', 'x_m', 'y_m', 'plants'],
      { canopyMature: 0, canopyNow: 1, x: 2, y: 3, name: 4 },
    ],
    [
      ['Mature canopy diameter after 10 years', 'Quantity planted', 'Water use (region 3)', 'Mature height'],
      { canopyMature: 0, count: 1, waterUse: 2 },
    ],
    [['', 'price', 'note'], {}],
  ])('%j', (headings, columns) => {
    expect(found(...headings)).toEqual(columns);
  });

  test('no column serves twice', () => {
    const columns = Object.values(found('name', 'name', 'canopy', 'canopy', 'spread'));
    expect(new Set(columns).size).toBe(columns.length);
  });
});

test.each([
  ['Canopy (ft)', 'ft'],
  ['canopy [cm]', 'cm'],
  ['canopy_m', 'm'],
  ['Spread, inches', 'in'],
  ['width in.', 'in'],
  ['x', null],
  ['Min', null],
  ['canopy (mature)', null],
  ['', null],
])('the unit of the heading %j is %j', (heading, unit) => {
  expect(unitOfHeading(heading)).toBe(unit);
});

describe('the row of headings', () => {
  test('is the one that names most fields', () => {
    const rows = [
      ['Plants of bed 2'],
      ['name', 'x'],
      ['name', 'class', 'x', 'y'],
      ['Sage', 'shrub', '1', '2'],
    ];
    expect(guessColumns(rows).headerRow).toBe(2);
  });

  test('is missing where no row names fields: class, water use and name are told by their words', () => {
    const rows = [
      ['1', 'White sage', 'shrub', 'low', '4'],
      ['2', 'Elm', 'tree', 'Mod', '30'],
      ['3', 'Thyme', 'GC', '', '2'],
    ];
    expect(guessColumns(rows)).toMatchObject({
      headerRow: null,
      mapping: { name: 1, plantClass: 2, waterUse: 3, count: null, canopyMature: null, x: null },
    });
  });

  test('nothing at all gives nothing', () => {
    expect(guessColumns([])).toMatchObject({ headerRow: null, mapping: { name: null } });
    expect(guessColumns([[], ['', ' ']]).headerRow).toBeNull();
  });
});

test('letters of columns', () => {
  expect([0, 25, 26, 51, 52, 701, 702].map(columnLetters)).toEqual(['A', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA']);
});
