import { describe, expect, test } from 'vitest';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../empty.ts';
import type { Plan, Plant, PlantKind } from '../records.ts';
import { columnsByHeading } from './columns.ts';
import { addKind, changeLine, countKind, importPlants, notStandingYet, removeLine } from './edits.ts';
import { plantLines, plantTotals } from './lines.ts';
import { readPlantRows } from './read-rows.ts';

const HEADINGS = ['name', 'class', 'count', 'canopy', 'water', 'x', 'y'];
const list = (...rows: string[][]) =>
  readPlantRows([HEADINGS, ...rows], columnsByHeading(HEADINGS), { headerRow: 0, unit: 'm' });
const kind = (name: string, fields: Partial<PlantKind> = {}): PlantKind => ({
  name,
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
  count: null,
  ...fields,
});
const plant = (id: string, name: string, x: number, fields: Partial<Plant> = {}): Plant => ({
  id,
  name,
  plantClass: 'shrub',
  canopyNowM: null,
  canopyMatureM: 1,
  rootBallM: null,
  waterUse: null,
  at: [x, 0],
  ...fields,
});
const planOf = (plants: Plant[], kinds: PlantKind[] = []): Plan => ({
  ...emptyPlan(),
  plants: Table.of(plants),
  planting: { kinds },
});
const REPLACE = { counts: 'replace', standing: 'skip' } as const;
const counts = (plan: Plan) => plan.planting.kinds.map(({ name, count }) => [name, count]);

describe('taking a list in', () => {
  test('plants get fresh ids, rows of one kind one line with the sum of their counts', () => {
    const plan = planOf([plant('P7', 'Old', 0)]);
    const next = importPlants(
      'Open',
      list(
        ['Sage', 'shrub', '', '1', '', '1', '1'],
        ['Sage', 'shrub', '5', '1'],
        [' sage', 'Shrubs', '7', '', 'low'],
        ['Sage', 'shrub', '', '1', '', '2', '1'],
      ),
      REPLACE,
    ).apply(plan);
    expect([...next.plants].map(({ id, at }) => [id, ...at])).toEqual([
      ['P7', 0, 0],
      ['P8', 1, 1],
      ['P9', 2, 1],
    ]);
    expect(next.planting.kinds).toEqual([kind('Sage', { waterUse: 'low', count: 12 })]);
    // Nothing else is touched, and the plan before is as it was.
    expect({ ...next, plants: null, planting: null }).toEqual({ ...plan, plants: null, planting: null });
    expect(plan.plants.size).toBe(1);
  });

  test.each([
    ['replace', 9],
    ['add', 12],
  ] as const)('counts of kinds in the plan: %s', (how, count) => {
    const plan = planOf([], [kind('Sage', { count: 3 }), kind('Fig', { count: 2 })]);
    const next = importPlants('Open', list(['SAGE', 'shrub', '9'], ['Fig', 'shrub', '']), {
      ...REPLACE,
      counts: how,
    }).apply(plan);
    expect(counts(next)).toEqual([
      ['Sage', count],
      ['Fig', 2],
    ]);
  });

  test('what the list leaves open stays as the plan has it, what it gives goes before', () => {
    const plan = planOf([], [kind('Sage', { canopyMatureM: 2, canopyNowM: 0.5, waterUse: 'low' })]);
    const open = importPlants('Open', list(['Sage', 'shrub', '4']), REPLACE).apply(plan);
    expect(open.planting.kinds).toEqual([{ ...plan.planting.kinds[0], count: 4 }]);
    const given = importPlants('Open', list(['Sage', 'shrub', '', '3', 'high']), REPLACE).apply(plan);
    expect(given.planting.kinds).toMatchObject([{ canopyMatureM: 3, canopyNowM: 0.5, waterUse: 'high' }]);
  });

  test('plants that stand already are left out, unless they are wanted twice', () => {
    const plan = planOf([plant('P1', 'Sage', 1)]);
    const read = list(
      ['sage', 'shrub', '', '', '', '1.004', '0'],
      ['Fig', 'shrub', '', '', '', '1', '0'],
      ['Sage', 'shrub', '', '', '', '1.02', '0'],
    );
    expect(notStandingYet(plan, read.plants).map(({ name, at }) => [name, at[0]])).toEqual([
      ['Fig', 1],
      ['Sage', 1.02],
    ]);
    expect(importPlants('Open', read, REPLACE).apply(plan).plants.size).toBe(3);
    expect(importPlants('Open', read, { ...REPLACE, standing: 'add' }).apply(plan).plants.size).toBe(4);
    // A list opened twice changes nothing the second time.
    const once = importPlants('Open', read, REPLACE).apply(plan);
    expect(importPlants('Open', read, REPLACE).apply(once).plants).toBe(once.plants);
  });

  test('20,000 plants are taken in at once', () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => ['Sage', 'shrub', '', '', '', String(i), '0']);
    expect(importPlants('Open', list(...rows), REPLACE).apply(emptyPlan()).plants.size).toBe(20_000);
  });
});

describe('lines of the plant list', () => {
  const plan = planOf(
    [
      plant('P1', 'Sage', 0, { waterUse: 'low' }),
      plant('P2', 'sage', 1, { waterUse: 'high' }),
      plant('P3', 'Sage', 2, { canopyMatureM: 2 }),
      plant('P4', 'Elm', 3, { plantClass: 'tree', canopyMatureM: 9 }),
    ],
    [
      kind('Sage', { count: 10, canopyMatureM: 2 }),
      kind('Fig', { count: 4, waterUse: 'moderate' }),
      kind('Elm', { plantClass: 'tree', count: 1, canopyMatureM: 12 }),
      kind('Ivy', { plantClass: 'groundcover' }),
    ],
  );
  const lines = plantLines(plan);

  test('go by name, class and size; a kind of the list stands on its own size or the first of its name', () => {
    expect(
      lines.map(({ kind: { name, canopyMatureM, count }, ids, listed, toPlace }) => [
        name,
        canopyMatureM,
        ids.join(' '),
        count,
        listed,
        toPlace,
      ]),
    ).toEqual([
      ['Elm', 9, 'P4', 1, true, 0],
      ['Fig', 1, '', 4, true, 4],
      ['Sage', 1, 'P1 P2', null, false, 0],
      ['Sage', 2, 'P3', 10, true, 7],
      ['Ivy', 1, '', null, true, 0],
    ]);
    expect(lines.filter(({ waterVaries }) => waterVaries).map(({ ids }) => ids)).toEqual([['P1', 'P2']]);
  });

  test('sums by class and water use', () => {
    expect(plantTotals(plan.plants, lines)).toEqual({
      all: { placed: 4, toPlace: 11 },
      byClass: [
        ['tree', { placed: 1, toPlace: 0 }],
        ['shrub', { placed: 3, toPlace: 11 }],
      ],
      byWaterUse: [
        ['high', { placed: 1, toPlace: 0 }],
        ['moderate', { placed: 0, toPlace: 4 }],
        ['low', { placed: 1, toPlace: 0 }],
        [null, { placed: 2, toPlace: 7 }],
      ],
    });
  });

  test('a change holds for all plants of the line and its kind, and for no others', () => {
    const next = changeLine('Change', lines[3]!, { name: 'White sage', waterUse: 'low' }).apply(plan);
    expect([...next.plants].map(({ name }) => name)).toEqual(['Sage', 'sage', 'White sage', 'Elm']);
    expect(next.planting.kinds[0]).toMatchObject({ name: 'White sage', waterUse: 'low', count: 10 });
    const other = changeLine('Change', lines[2]!, { rootBallM: 0.3 }).apply(plan);
    expect(other.planting).toBe(plan.planting);
    expect(other.plants.get('P3')!.rootBallM).toBeNull();
  });

  test('a name that another kind has joins the two, counts together', () => {
    const fig = lines.find(({ kind: { name } }) => name === 'Fig')!;
    const next = changeLine('Change', fig, { name: 'Sage' }).apply(plan);
    expect(counts(next)).toEqual([
      ['Sage', 14],
      ['Elm', 1],
      ['Ivy', null],
    ]);
  });

  test('counting a kind of which plants only are known gives it a line in the list', () => {
    const bare = planOf([plant('P1', 'Sage', 0, { waterUse: 'low' })]);
    const next = countKind('Count', plantLines(bare)[0]!.kind, 6).apply(bare);
    expect(next.planting.kinds).toEqual([kind('Sage', { waterUse: 'low', count: 6 })]);
    expect(counts(countKind('Count', plantLines(next)[0]!.kind, null).apply(next))).toEqual([['Sage', null]]);
  });

  test('adding and removing', () => {
    expect(addKind('Add', kind('SAGE')).apply(plan)).toBe(plan);
    expect(addKind('Add', kind('Moss')).apply(plan).planting.kinds).toHaveLength(5);
    const next = removeLine('Delete', lines[3]!).apply(plan);
    expect([...next.plants].map(({ id }) => id)).toEqual(['P1', 'P2', 'P4']);
    expect(next.planting.kinds.map(({ name }) => name)).toEqual(['Fig', 'Elm', 'Ivy']);
  });
});
