import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../empty.ts';
import type { PlantKind } from '../records.ts';
import { columnsByHeading, guessColumns } from './columns.ts';
import { cellRead, cellWritten, csvText } from './csv.ts';
import { importPlants } from './edits.ts';
import { kindKey } from './kinds.ts';
import { readPlantRows, type ReadOptions } from './read-rows.ts';
import { badRowsTable, plantListRows } from './write-rows.ts';

const name = fc
  .oneof(fc.string({ maxLength: 12 }), fc.constantFrom('=1+1', "'=x", '-5', '+A', '@sum', "'", 'n/a', '4'))
  .map((text) => text.replace(/\s+/g, ' ').trim());
const size = fc.double({ min: 0.05, max: 60, noNaN: true });
const fields = {
  name,
  plantClass: fc.constantFrom('tree', 'shrub', 'perennial', 'groundcover'),
  canopyNowM: fc.option(size),
  canopyMatureM: size,
  rootBallM: fc.option(fc.double({ min: 0.02, max: 5, noNaN: true })),
  waterUse: fc.option(fc.constantFrom('high', 'moderate', 'low', 'very low')),
} as const;
const kinds = fc.uniqueArray(fc.record({ ...fields, count: fc.option(fc.nat(1e6)) }), {
  maxLength: 6,
  selector: (kind) => kindKey(kind as PlantKind),
});
const place = fc.double({ min: -1000, max: 1000, noNaN: true });
const plants = fc.array(fc.record({ ...fields, at: fc.tuple(place, place) }), { maxLength: 6 });

/** The same with every number met to a thousandth of a millimetre. */
const near = (value: unknown): unknown =>
  JSON.parse(JSON.stringify(value), (_, one: unknown) =>
    typeof one === 'number' ? expect.closeTo(one, 6) : one,
  );

test('a list that was saved gives the same plants and kinds in an empty plan', () => {
  fc.assert(
    fc.property(kinds, plants, fc.constantFrom('us', 'metric'), (someKinds, somePlants, units) => {
      const plan = {
        ...emptyPlan(),
        planting: { kinds: someKinds as PlantKind[] },
        plants: Table.of(somePlants.map((plant, i) => ({ ...plant, id: `P${i + 1}` }) as never)),
      };
      // As the cells stand in the file.
      const rows = plantListRows(plan, units as 'us').map((cells) => cells.map(cellWritten));
      const { headerRow, mapping } = guessColumns(rows);
      expect(headerRow).toBe(0);
      // Figures carry the unit of their heading, whatever the list is read in.
      const list = readPlantRows(rows, mapping, { headerRow, unit: 'cm' });
      expect(list.problems).toEqual([]);
      const again = importPlants('Open', list, { counts: 'replace', standing: 'add' }).apply(emptyPlan());
      expect([...again.plants]).toEqual(near([...plan.plants]));
      expect(again.planting).toEqual(near(plan.planting));
    }),
    { seed: 20_260_301, numRuns: 400 },
  );
});

describe('cells that a spreadsheet could take for formulas', () => {
  test.each([
    ['=HYPERLINK("a")', `'=HYPERLINK("a")`],
    ['+1+1', `'+1+1`],
    ['-2+3', `'-2+3`],
    ['@SUM(A1)', `'@SUM(A1)`],
    ['＝1', `'＝1`],
    ['\t=1', `'\t=1`],
    [`'=1`, `''=1`],
    ['-3.5', '-3.5'],
    ['+4', '+4'],
    [`3' 6"`, `3' 6"`],
    ['Sage', 'Sage'],
  ])('%j is written as %j', (text, written) => {
    expect(cellWritten(text)).toBe(written);
    expect(cellRead(written)).toBe(text.trim());
  });
});

test('text of a CSV file', () => {
  expect(
    csvText([
      ['a', 'b,c', 'd"e', 'f\ng', ' h '],
      ['', '=1'],
    ]),
  ).toBe('a,"b,c","d""e","f\ng"," h "\r\n,\'=1\r\n');
});

describe('rows to correct', () => {
  const rows = [
    ['title'],
    ['Plant', 'Kind of it', 'Spread', 'x', 'y', 'Count'],
    ['Sage', 'shrub', '4', '1', '2', ''],
    ['=cmd', 'statue', 'wide', '1', '', 'note'],
    ['Fig', 'tree', '9'],
    ['Elm', '', '9', '', '', ''],
  ];
  const mapping = { ...columnsByHeading(rows[1]!), plantClass: 1, count: null };
  const options = { headerRow: 1, unit: 'ft' } satisfies ReadOptions;
  const table = badRowsTable(readPlantRows(rows, mapping, options), rows, mapping, options);

  test('stand whole, with the reason behind them', () => {
    expect(table.slice(1).map((cells) => cells.slice(0, 6))).toEqual([rows[3], rows[5]]);
    expect(table[0]!.at(-1)).toBe('reason');
    expect(table[1]!.at(-1)).toMatch(/row 4, column B .*"statue".*\| .*"wide".*\| .*y is empty/);
  });

  test('are read the same way again once corrected, without setting a column', () => {
    const corrected = [
      table[0]!,
      ['Cmd', 'tree', '9', '1', '2', 'note', 'was wrong'],
      ['Elm', 'tree', '9', '', '', '', ''],
    ];
    const again = guessColumns(corrected);
    expect(again.headerRow).toBe(0);
    // In another unit of the screen: the headings say that these are feet.
    const list = readPlantRows(corrected, again.mapping, { headerRow: 0, unit: 'm' });
    expect(list.problems).toEqual([]);
    expect(list.plants).toMatchObject([{ name: 'Cmd', at: [expect.closeTo(0.3048, 9), expect.anything()] }]);
    expect(list.kinds).toMatchObject([
      { name: 'Elm', canopyMatureM: expect.closeTo(2.7432, 9), count: null },
    ]);
  });

  test('do not gather a second column of reasons', () => {
    const again = guessColumns(table);
    const opened = { headerRow: again.headerRow, unit: 'ft' } satisfies ReadOptions;
    const second = badRowsTable(readPlantRows(table, again.mapping, opened), table, again.mapping, opened);
    expect(second[0]!.filter((heading) => heading === 'reason')).toHaveLength(1);
    expect(second.slice(1).map((cells) => cells.slice(0, -1))).toEqual(
      table.slice(1).map((cells) => cells.slice(0, -1)),
    );
  });
});
