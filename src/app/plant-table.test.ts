import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { guessColumns, readPlantRows } from '../plan/plant-list/index.ts';
import { kindOfFile } from './files.ts';
import { createPlantImport } from './plant-import.ts';
import { MOST_ROWS, readPlantTable, rowsOfText, textOfBytes } from './plant-table.ts';

const fixture = (name: string) =>
  new File([readFileSync(new URL(`../../tests/fixtures/${name}`, import.meta.url))], name);
async function opened(file: File, delimiter: string | null = null) {
  const table = await readPlantTable(file, delimiter);
  if (!table.ok) throw new Error(table.problem.what);
  return table.value;
}
async function listOf(file: File, unit: 'ft' | 'm') {
  const { rows } = await opened(file);
  const { headerRow, mapping } = guessColumns(rows);
  return readPlantRows(rows, mapping, { headerRow, unit });
}
const refused = async (file: File) => {
  const table = await readPlantTable(file);
  return table.ok ? null : table.problem;
};

describe('files with a plant list', () => {
  test('commas, quotes, a title above the headings, units in headings and cells', async () => {
    const list = await listOf(fixture('plants-comma.csv'), 'm');
    expect(list.problems).toEqual([]);
    expect(list.plants.map(({ name, plantClass }) => [name, plantClass])).toEqual([
      ['Sage, white', 'shrub'],
      ['Sage, white', 'shrub'],
      ['Oak "Valley"', 'tree'],
      ['Deer grass', 'perennial'],
    ]);
    expect(list.kinds).toMatchObject([
      { name: 'Yarrow', count: 24, waterUse: 'moderate', canopyMatureM: expect.closeTo(0.762, 9) },
      {
        name: 'Creeping thyme',
        count: 60,
        plantClass: 'groundcover',
        canopyMatureM: expect.closeTo(0.4572, 9),
      },
    ]);
  });

  test('semicolons, decimal commas, Windows-1252 and CRLF', async () => {
    const table = await opened(fixture('plants-semicolon-1252.csv'));
    expect(table).toMatchObject({ encoding: 'Windows-1252', delimiter: ';', problems: [] });
    const list = await listOf(fixture('plants-semicolon-1252.csv'), 'm');
    expect(list.problems).toEqual([]);
    expect(list.kinds.map(({ name, canopyMatureM, rootBallM }) => [name, canopyMatureM, rootBallM])).toEqual([
      ['Piñón', 4.5, 0.6],
      ['Salvia roja', 1.2, 0.3],
      ['Orégano', 0.6, null],
    ]);
    // An empty line between keeps its number, as in a spreadsheet.
    expect(list.readings.map(({ row }) => row)).toEqual([2, 3, 5]);
  });

  test.each([
    ['tabs', 'name\tclass\tcanopy\nSage\tshrub\t3,5\n', '\t'],
    ['a delimiter that is named', 'sep=|\nname|class|canopy\nSage|shrub|3,5', '|'],
    ['a mark at the beginning', '\ufeffname;class;canopy\r\nSage;shrub;3,5\r\n', ';'],
  ])('%s', async (_what, text, delimiter) => {
    const table = await opened(new File([text], 'plants.csv'));
    expect(table.delimiter).toBe(delimiter);
    const { headerRow, mapping } = guessColumns(table.rows);
    const list = readPlantRows(table.rows, mapping, { headerRow, unit: 'm' });
    expect(list.kinds).toMatchObject([{ name: 'Sage', plantClass: 'shrub', canopyMatureM: 3.5 }]);
  });

  test('text in UTF-16, as spreadsheets save it', () => {
    const bytes = (text: string, big: boolean) => {
      const view = new DataView(new ArrayBuffer(2 * text.length));
      for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), !big);
      return new Uint8Array(view.buffer);
    };
    for (const big of [false, true]) {
      expect(textOfBytes(bytes('\ufeffPiñón\t1', big))).toEqual({ text: 'Piñón\t1', encoding: 'UTF-16' });
    }
  });

  test('one column, and another delimiter on demand', async () => {
    const file = new File(['class\nshrub\ntree, tall'], 'plants.csv');
    expect((await opened(file)).rows).toEqual([['class'], ['shrub'], ['tree', ' tall']]);
    expect((await opened(file, ';')).rows).toEqual([['class'], ['shrub'], ['tree, tall']]);
  });
});

describe('quotes', () => {
  test.each([
    ['that never closes', '"Sage,shrub', ['"Sage', 'shrub']],
    ['that closes within the cell', '"Sage" white,shrub', ['"Sage" white', 'shrub']],
  ])('one %s swallows nothing: its row is told, what is below is read', async (_what, line, row) => {
    const text = `name,class\n"two\nlines",shrub\n${line}\nElm,tree\n"Fig, blue",tree\n${line}`;
    const { rows, problems } = await rowsOfText(text);
    expect(rows).toEqual([
      ['name', 'class'],
      ['two\nlines', 'shrub'],
      row,
      ['Elm', 'tree'],
      ['Fig, blue', 'tree'],
      row,
    ]);
    expect(problems.map(({ where }) => where)).toEqual(['row 3', 'row 6']);
  });

  test('in the first row', async () => {
    const { rows } = await rowsOfText('"name,class\r\nElm,tree', ',');
    expect(rows).toEqual([
      ['"name', 'class'],
      ['Elm', 'tree'],
    ]);
  });

  test('faulty in every row of a long list are read in good time, and no row is lost', async () => {
    const { rows, problems } = await rowsOfText('"a" b,shrub\n'.repeat(19_000).trimEnd());
    expect(rows).toHaveLength(19_000);
    expect(rows.at(-1)).toEqual(['"a" b', 'shrub']);
    expect(problems.at(-1)!.todo).toContain('many such rows');
  });

  test('inches and feet are no quotes', async () => {
    const { rows, problems } = await rowsOfText(`name,canopy\nSage,3' 6"\nFig,18"\n`);
    expect(rows[1]).toEqual(['Sage', `3' 6"`]);
    expect(rows[2]).toEqual(['Fig', '18"']);
    expect(problems).toEqual([]);
  });
});

describe('refused', () => {
  test.each([
    ['a workbook', new File(['PK'], 'plants.xlsx'), /workbook/, /CSV/],
    ['nothing', new File([' \n'], 'plants.csv'), /empty/, /CSV/],
    [
      'bytes that are no text',
      new File([Uint8Array.of(80, 75, 3, 4, 0, 0, 8)], 'plants.csv'),
      /not text/,
      /CSV/,
    ],
    ['more than 10 MB', new File([new Uint8Array(10_000_001)], 'plants.csv'), /10\.0 MB.*10 MB/, /split/],
    ['too many rows', new File(['a;b\n'.repeat(MOST_ROWS + 1)], 'plants.csv'), /20,000 rows/, /Split/],
  ])('%s', async (_what, file, what, todo) => {
    expect(await refused(file)).toMatchObject({
      where: file.name,
      what: expect.stringMatching(what),
      todo: expect.stringMatching(todo),
    });
  });

  test('a file that is gone', async () => {
    const gone = { name: 'gone.csv', size: 9, arrayBuffer: () => Promise.reject(new Error('not found')) };
    expect(await refused(gone as unknown as File)).toMatchObject({
      what: expect.stringContaining('not found'),
    });
  });

  test('as many rows as the limit are read', async () => {
    const file = new File(['a;b\n'.repeat(MOST_ROWS).trimEnd()], 'plants.csv');
    expect((await opened(file)).rows).toHaveLength(MOST_ROWS);
  });
});

test('lists are told from plans and pictures', async () => {
  expect(await kindOfFile(new File(['name,class'], 'plants.CSV'))).toBe('plants');
  expect(await kindOfFile(new File(['a\tb'], 'plants.tsv'))).toBe('plants');
  expect(await kindOfFile(new File(['a,b'], 'plants', { type: 'text/csv' }))).toBe('plants');
  expect(await kindOfFile(new File(['PK'], 'plants.xlsx'))).toBe('plants');
  expect(await kindOfFile(new File(['{"format":1}'], 'plan.csv'))).toBe('plan');
  expect(await kindOfFile(new File(['name,class'], 'plan.json'))).toBe('plan');
  expect(await kindOfFile(new File([Uint8Array.of(0xff, 0xd8, 0xff, 0xe1)], 'photo.csv'))).toBe('picture');
});

test('the list under way: opened, cut anew, dropped; a bad file leaves it alone', async () => {
  const told: string[] = [];
  const list = createPlantImport(({ what }) => told.push(what));
  let changes = 0;
  const stop = list.subscribe(() => changes++);
  await list.open(new File(['name,class\na;b,tree'], 'plants.csv'));
  const first = list.table()!;
  expect(first.rows[1]).toEqual(['a;b', 'tree']);
  await list.separateBy(';');
  expect(list.table()!.rows[1]).toEqual(['a', 'b,tree']);
  await list.open(new File([''], 'empty.csv'));
  expect(told).toEqual(['The file is empty.']);
  expect(list.table()!.name).toBe('plants.csv');
  stop();
  list.close();
  expect(list.table()).toBeNull();
  expect(changes).toBe(2);
});
