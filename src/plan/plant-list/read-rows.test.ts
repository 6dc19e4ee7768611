import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { plantDefaults } from '../../catalog/plants.ts';
import { checked } from '../check.ts';
import { plantKind, RECORDS } from '../schema.ts';
import { columnsByHeading, guessColumns, LENGTH_UNITS, PLANT_FIELDS, type ColumnMapping } from './columns.ts';
import { readPlantRows, type ReadOptions } from './read-rows.ts';

const HEADINGS = ['name', 'class', 'count', 'canopy', 'canopy now', 'root ball', 'water', 'x', 'y'];
const read = (rows: readonly (readonly string[])[], options: Partial<ReadOptions> = {}) =>
  readPlantRows([HEADINGS, ...rows], columnsByHeading(HEADINGS), { headerRow: 0, unit: 'ft', ...options });
const faults = (rows: readonly (readonly string[])[], options: Partial<ReadOptions> = {}) =>
  read(rows, options).problems.map(({ where, what }) => `${where}: ${what}`);

describe('rows of a plant list', () => {
  test('a row with a place is a plant, one without a place a kind with its count', () => {
    const list = read([
      ['Sage', 'Shrub', '', '4', '2', '12 in', 'low', '10', '-5'],
      ['Yarrow', 'perennial', '24', '2', '', '', 'Medium', '', ''],
    ]);
    expect(list.problems).toEqual([]);
    expect(list.plants).toEqual([
      {
        name: 'Sage',
        plantClass: 'shrub',
        canopyNowM: expect.closeTo(2 * 0.3048, 12),
        canopyMatureM: expect.closeTo(4 * 0.3048, 12),
        rootBallM: expect.closeTo(0.3048, 12),
        waterUse: 'low',
        at: [expect.closeTo(3.048, 12), expect.closeTo(-1.524, 12)],
      },
    ]);
    expect(list.kinds).toEqual([
      {
        name: 'Yarrow',
        plantClass: 'perennial',
        canopyNowM: null,
        canopyMatureM: expect.closeTo(0.6096, 12),
        rootBallM: null,
        waterUse: 'moderate',
        count: 24,
      },
    ]);
  });

  // NIST Special Publication 811 (2008), appendix B.8: foot 0.3048 m, inch 0.0254 m.
  test.each([
    ['4', 'ft', 1.2192],
    ['48', 'in', 1.2192],
    ['1,2', 'm', 1.2],
    ['120', 'cm', 1.2],
    [`3' 6"`, 'm', 1.0668],
    ['90 cm', 'ft', 0.9],
    ['2 1/2', 'ft', 0.762],
    ['½ m', 'in', 0.5],
    ['3 feet', 'cm', 0.9144],
  ] as const)('a canopy of %s where figures are in %s is %f m', (text, unit, metres) => {
    expect(read([['A', 'tree', '', text]], { unit }).kinds[0]!.canopyMatureM).toBeCloseTo(metres, 10);
  });

  test('a unit in the heading goes before the unit of the list, one in the cell before both', () => {
    const rows = [
      ['name', 'class', 'canopy (cm)', 'x_m', 'y [in]'],
      ['A', 'tree', '250', '3', '100'],
      ['A', 'tree', '8 ft', '3', '1 m'],
    ];
    const list = readPlantRows(rows, columnsByHeading(rows[0]!), { headerRow: 0, unit: 'ft' });
    expect(list.problems).toEqual([]);
    expect(list.plants[0]!.canopyMatureM).toBeCloseTo(2.5, 12);
    expect(list.plants[0]!.at).toEqual([3, expect.closeTo(2.54, 12)]);
    expect(list.plants[1]!.canopyMatureM).toBeCloseTo(2.4384, 12);
    expect(list.plants[1]!.at[1]).toBe(1);
  });

  test.each([
    ['Trees', 'tree'],
    ['palm', 'tree'],
    ['Bushes', 'shrub'],
    ['S', 'shrub'],
    ['grasses', 'perennial'],
    ['Annual', 'perennial'],
    ['GC', 'groundcover'],
    ['ground-cover', 'groundcover'],
    ['Ground Covers', 'groundcover'],
  ])('class %s is %s', (word, plantClass) => {
    expect(read([['A', word]]).kinds).toMatchObject([{ plantClass }]);
  });

  test.each([
    ['HIGH', 'high'],
    ['med', 'moderate'],
    ['Mod.', 'moderate'],
    ['low water', 'low'],
    ['very-low', 'very low'],
    ['VL', 'very low'],
    ['unknown', null],
    ['', null],
  ])('water use %j is %j', (word, waterUse) => {
    expect(read([['A', 'tree', '', '', '', '', word]]).kinds).toMatchObject([{ waterUse }]);
  });

  test.each([
    [['A', ''], 'row 2, column B (class): the class is missing'],
    [['A', 'statue'], 'row 2, column B (class): "statue" is not a plant class'],
    [['A', 'tree', '2.5'], 'row 2, column C (count): "2.5" is not a whole number'],
    [['A', 'tree', '1,000'], /row 2, column C \(count\): "1,000" may mean/],
    [['A', 'tree', '-3'], /row 2, column C \(count\): "-3" is below zero/],
    [['A', 'tree', '9999999'], /more than a million/],
    [['A', 'tree', '', 'wide'], /row 2, column D \(canopy\): "wide" does not begin with a number/],
    [['A', 'tree', '', '3-4 ft'], 'row 2, column D (canopy): "3-4 ft" is more than one figure'],
    [['A', 'tree', '', '0'], 'row 2, column D (canopy): "0" is not above zero'],
    [['A', 'tree', '', '-2'], 'row 2, column D (canopy): "-2" is not above zero'],
    [['A', 'tree', '', '900'], 'row 2, column D (canopy): "900" in ft is more than 60 m'],
    [['A', 'tree', '', '4 gal'], /row 2, column D \(canopy\): "gal" is a unit of volume/],
    [['A', 'tree', '', '', '', '40 ft'], 'row 2, column F (root ball): "40 ft" is more than 5 m'],
    [['A', 'tree', '', '', '', '', 'thirsty'], /column G \(water\): "thirsty" is not a water-use class/],
    [['A', 'tree', '', '', '', '', '', '5', ''], 'row 2, column I (y): x is "5" but y is empty'],
    [['A', 'tree', '', '', '', '', '', '', '5'], 'row 2, column H (x): y is "5" but x is empty'],
    [['A', 'tree', '', '', '', '', '', '1e9', '5'], /row 2, column H \(x\)/],
    [['A', 'tree', '3', '', '', '', '', '1', '2'], /one place holds one plant/],
    [['A', 'tree', '0', '', '', '', '', '1', '2'], /one place holds one plant/],
  ])('%j is kept back and told', (row, told) => {
    const list = read([row, ['B', 'shrub', '2', '3']]);
    expect(faults([row])).toEqual([typeof told === 'string' ? told : expect.stringMatching(told)]);
    expect(list.badRows.map(({ cells }) => cells)).toEqual([row]);
    expect(list.problems[0]!.todo).not.toBe('');
    // The others go on.
    expect(list.kinds).toMatchObject([{ name: 'B', count: 2 }]);
  });

  test('all faults of a row are told at once', () => {
    expect(faults([['A', 'statue', 'many', 'wide', '', '', 'wet', '1', '']])).toHaveLength(5);
  });

  test('rows without a class take the chosen one; a wrong word stays a fault', () => {
    const list = read([['A'], ['B', 'statue']], { classWhenMissing: 'perennial' });
    expect(list.kinds).toMatchObject([{ name: 'A', plantClass: 'perennial' }]);
    expect(list.badRows).toHaveLength(1);
  });

  test('a missing mature canopy is that of the kind in the list, then in the plan, then usual for its class', () => {
    const known = [{ ...read([['Oak', 'tree', '1', '30']]).kinds[0]! }];
    const list = read(
      [
        ['Sage', 'shrub', '', '', '', '', '', '1', '1'],
        ['SAGE', 'shrub', '9', '5'],
        ['oak', 'tree', '', '', '', '', '', '2', '2'],
        ['Fig', 'tree', '', '', '', '', '', '3', '3'],
        ['Elm', 'tree', '4'],
      ],
      { known },
    );
    const canopies = list.plants.map(({ canopyMatureM }) => canopyMatureM / 0.3048);
    expect(canopies).toEqual([
      expect.closeTo(5, 9),
      expect.closeTo(30, 9),
      expect.closeTo(plantDefaults('tree').canopyMatureM / 0.3048, 9),
    ]);
    expect(list.notes).toMatchObject([
      { where: 'rows 5 and 6', what: expect.stringContaining('usual tree') },
    ]);
    expect(list.assumed.size).toBe(4);
  });

  test('rows of one kind that disagree: the first stands, the other is kept back', () => {
    const list = read([
      ['Sage', 'shrub', '3', '4', '', '', 'low'],
      ['sage ', 'shrub', '2', '6'],
      ['Sage', 'tree', '2', '6'],
      ['Sage', 'shrub', '1', '4', '', '', 'high'],
      ['Sage', 'shrub', '5', '', '1'],
      ['Sage', 'shrub', '5', '', '2'],
    ]);
    expect(list.problems.map(({ where }) => where)).toEqual([
      'row 3, column D (canopy)',
      'row 5, column G (water)',
      'row 7, column E (canopy now)',
    ]);
    expect(list.kinds).toHaveLength(3);
  });

  test('places far outside of the plan are kept and noted', () => {
    const place = (x: string, y: string) => ['A', 'tree', '', '9', '', '', '', x, y];
    const list = read([place('5', '5'), place('5000', '5'), place('5', '-900')], {
      box: { minX: 0, minY: 0, maxX: 20, maxY: 10 },
    });
    expect(list.plants).toHaveLength(3);
    expect(list.notes).toMatchObject([
      { where: 'rows 3 and 4', what: expect.stringContaining('far outside') },
    ]);
  });

  test('two rows at one place are kept and noted', () => {
    const place = (x: string) => ['A', 'tree', '', '9', '', '', '', x, '1 m'];
    const list = read([place('1 m'), place('1.0002 m'), place('1.2 m'), place('100 cm')]);
    expect(list.plants).toHaveLength(4);
    expect(list.notes).toMatchObject([
      { where: 'rows 3 and 5', what: expect.stringContaining('earlier row') },
    ]);
  });

  test('titles, empty rows and short rows; numbers of rows are those of a spreadsheet', () => {
    const rows = [['Our list'], [], ['class', 'name'], ['', ' '], ['tree'], ['wood', 'Elm', 'more']];
    const guessed = guessColumns(rows);
    expect(guessed).toMatchObject({ headerRow: 2, mapping: { plantClass: 0, name: 1 } });
    const list = readPlantRows(rows, guessed.mapping, { headerRow: 2, unit: 'm' });
    expect(list.readings.map(({ row }) => row)).toEqual([5, 6]);
    expect(list.kinds).toMatchObject([{ name: '', plantClass: 'tree', count: null }]);
  });
});

const cell = fc.oneof(
  fc.string({ maxLength: 12 }),
  fc.string({ unit: 'grapheme', maxLength: 8 }),
  fc.constantFrom('', 'tree', 'GC', 'low', '4', '3,5', `2' 6"`, '-1', '1e9', '=1+1', 'A', 'B', '__proto__'),
);
const rowsOf = fc.array(fc.array(cell, { maxLength: 11 }), { maxLength: 12 });
const column = fc.option(fc.integer({ min: 0, max: 11 }), { nil: null });
const mappings = fc.record(
  Object.fromEntries(PLANT_FIELDS.map((field) => [field, column])) as Record<
    (typeof PLANT_FIELDS)[number],
    typeof column
  >,
) as fc.Arbitrary<ColumnMapping>;

test('any table in any way: no throw, no row lost, and a plan file can hold all that was read', () => {
  fc.assert(
    fc.property(
      rowsOf,
      fc.option(mappings, { nil: null }),
      fc.option(fc.nat(12), { nil: null }),
      fc.constantFrom(...LENGTH_UNITS),
      fc.constantFrom(null, 'shrub' as const),
      (rows, chosen, header, unit, classWhenMissing) => {
        const guessed = guessColumns(rows);
        const mapping = chosen ?? guessed.mapping;
        const headerRow = chosen ? header : guessed.headerRow;
        const list = readPlantRows(rows, mapping, { headerRow, unit, classWhenMissing });
        const filled = rows
          .slice(headerRow === null ? 0 : headerRow + 1)
          .filter((row) => row.some((text) => text.trim() !== ''));
        expect(list.plants.length + list.kinds.length + list.badRows.length).toBe(filled.length);
        expect(list.readings.map(({ cells }) => cells)).toEqual(filled);
        for (const row of list.badRows) expect(row.faults.length).toBeGreaterThan(0);
        for (const { where, what, todo } of list.problems) expect(where && what && todo).toBeTruthy();
        for (const plant of list.plants) {
          expect(checked(RECORDS.plants, { ...plant, id: 'P1' }, 'plant')).toMatchObject({ ok: true });
        }
        for (const kind of list.kinds) expect(checked(plantKind, kind, 'kind')).toMatchObject({ ok: true });
      },
    ),
    { seed: 20_260_214, numRuns: 3000 },
  );
});
