import { unitTyped } from '../../base/units.ts';
import { plantClassNamed, waterUseNamed } from './words.ts';

/** What a column of a plant list can mean, in the order in which a list is usually written. */
export const PLANT_FIELDS = [
  'name',
  'plantClass',
  'count',
  'canopyMature',
  'canopyNow',
  'rootBall',
  'waterUse',
  'x',
  'y',
] as const;
export type PlantField = (typeof PLANT_FIELDS)[number];

/** Units of bare lengths in a list. */
export const LENGTH_UNITS = ['ft', 'in', 'm', 'cm'] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

/** Index of the column that holds a field, from 0; `null` where no column does. */
export type ColumnMapping = Readonly<Record<PlantField, number | null>>;

const NOTHING: ColumnMapping = {
  name: null,
  plantClass: null,
  count: null,
  canopyMature: null,
  canopyNow: null,
  rootBall: null,
  waterUse: null,
  x: null,
  y: null,
};

/** Headings of the columns when the program writes a list; lengths get their unit behind them. */
export const HEADINGS: Readonly<Record<PlantField, string>> = {
  name: 'name',
  plantClass: 'class',
  count: 'count',
  canopyMature: 'mature canopy',
  canopyNow: 'canopy now',
  rootBall: 'root ball',
  waterUse: 'water use',
  x: 'x',
  y: 'y',
};

/** Fields that hold a length. */
export const LENGTH_FIELDS: ReadonlySet<PlantField> = new Set([
  'canopyMature',
  'canopyNow',
  'rootBall',
  'x',
  'y',
]);

/** Headings that name a field, the surest first, written as `plain` leaves them. */
const KNOWN: Readonly<Record<PlantField, readonly string[]>> = {
  name: [
    'name',
    'plantname',
    'species',
    'commonname',
    'botanicalname',
    'latinname',
    'plant',
    'plants',
    'plantspecies',
    'common',
    'botanical',
    'cultivar',
    'variety',
    'kind',
    'description',
    'key',
    'nombre',
    'especie',
    'planta',
  ],
  plantClass: [
    'class',
    'plantclass',
    'type',
    'planttype',
    'category',
    'plantcategory',
    'habit',
    'form',
    'clase',
    'tipo',
  ],
  count: [
    'count',
    'quantity',
    'qty',
    'plantcount',
    'numberofplants',
    'noofplants',
    'howmany',
    'amount',
    'number',
    'total',
    'cantidad',
  ],
  canopyMature: [
    'maturecanopy',
    'canopymature',
    'maturecanopydiameter',
    'maturespread',
    'maturewidth',
    'maturediameter',
    'maturesize',
    'canopy',
    'canopydiameter',
    'spread',
    'width',
    'diameter',
    'copa',
    'copamadura',
  ],
  canopyNow: [
    'canopynow',
    'canopytoday',
    'currentcanopy',
    'presentcanopy',
    'existingcanopy',
    'canopycurrent',
    'currentspread',
    'currentwidth',
    'widthnow',
    'now',
    'today',
  ],
  rootBall: ['rootball', 'rootballdiameter', 'rootballsize', 'ball', 'cepellon'],
  waterUse: [
    'wateruse',
    'wateruseclass',
    'water',
    'waterneed',
    'waterneeds',
    'waterclass',
    'hydrozone',
    'agua',
  ],
  x: ['x', 'xcoordinate', 'xcoord', 'east', 'easting', 'planx'],
  y: ['y', 'ycoordinate', 'ycoord', 'north', 'northing', 'plany'],
};

/** Looser signs of a field in a longer heading, tried once no heading is left that is known as it stands. */
const SIGNS: readonly (readonly [PlantField, RegExp])[] = [
  ['canopyNow', /(?=.*(?:now|today|current|present|existing|planting))(?=.*(?:canopy|spread|width|diam))/],
  ['canopyMature', /^(?!.*height)(?=.*(?:mature|canopy|spread|width))/],
  ['rootBall', /rootball/],
  ['waterUse', /^water|wateruse|waterneed|hydrozone/],
  ['count', /quantity|qty|count|numberof/],
  ['plantClass', /class|planttype|category/],
  ['name', /species|name|botanic|common|plant/],
];

/** Letters and digits only, in small letters, without a unit: `Mature canopy (ft)` gives `maturecanopy`. */
function plain(heading: string): string {
  return withoutUnit(heading)
    .normalize('NFD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}

const IN_BRACKETS = /[([]([^()[\]]*)[)\]]\s*$/;
const AT_THE_END = /(?:^|[\s_,:-])([a-z]+|['"])\.?\s*$/i;

function withoutUnit(heading: string): string {
  const brackets = IN_BRACKETS.exec(heading);
  if (brackets) return heading.slice(0, brackets.index);
  const last = AT_THE_END.exec(heading);
  return last && last.index > 0 && unitTyped('length', last[1]!) ? heading.slice(0, last.index) : heading;
}

/** The unit of length that a heading names, as shown (`ft`, `cm`): in brackets, or as its last word; else null. */
export function unitOfHeading(heading: string): string | null {
  const typed = IN_BRACKETS.exec(heading)?.[1] ?? AT_THE_END.exec(heading)?.[1];
  return (typed !== undefined && unitTyped('length', typed)?.label) || null;
}

/** Which column holds which field, by its headings; each column and each field at most once. */
export function columnsByHeading(headings: readonly string[]): ColumnMapping {
  const found: Record<PlantField, number | null> = { ...NOTHING };
  const plainOnes = headings.map(plain);
  const taken = new Set<number>();
  const give = (field: PlantField, column: number) => {
    if (column < 0 || found[field] !== null) return;
    found[field] = column;
    taken.add(column);
  };
  for (const field of PLANT_FIELDS) {
    for (const word of KNOWN[field]) {
      give(
        field,
        plainOnes.findIndex((heading, column) => heading === word && !taken.has(column)),
      );
    }
  }
  for (const [field, sign] of SIGNS) {
    give(
      field,
      plainOnes.findIndex((heading, column) => !taken.has(column) && heading !== '' && sign.test(heading)),
    );
  }
  return found;
}

const mapped = (mapping: ColumnMapping): number =>
  PLANT_FIELDS.filter((field) => mapping[field] !== null).length;

/** How many filled rows from the top may come before the headings, such as the title of a list. */
const ROWS_TO_LOOK_AT = 10;

/** Indices of the first filled rows, any of which may hold the headings. */
export function firstRows(rows: readonly (readonly string[])[]): number[] {
  const found: number[] = [];
  for (let i = 0; i < rows.length && found.length < ROWS_TO_LOOK_AT; i++)
    if (isFilled(rows[i]!)) found.push(i);
  return found;
}

export function isFilled(row: readonly string[]): boolean {
  return row.some((cell) => cell.trim() !== '');
}

/** What a list looks like before anybody has said how to read it. */
export interface GuessedColumns {
  /** Index of the row of headings; `null` when there is none. */
  readonly headerRow: number | null;
  readonly mapping: ColumnMapping;
}

/**
 * Finds the row of headings among the first rows, and the meaning of each column from it. A row is one of headings
 * when it names two fields or more, or one where it has one column only. Without headings class, water use and name
 * are told by what stands in the columns; figures are left to the person.
 */
export function guessColumns(rows: readonly (readonly string[])[]): GuessedColumns {
  let best: GuessedColumns | null = null;
  for (const index of firstRows(rows)) {
    const row = rows[index]!;
    const mapping = columnsByHeading(row);
    const cells = row.filter((cell) => cell.trim() !== '').length;
    if (mapped(mapping) >= Math.min(2, cells) && mapped(mapping) > (best ? mapped(best.mapping) : 0)) {
      best = { headerRow: index, mapping };
    }
  }
  return best ?? { headerRow: null, mapping: columnsByContent(rows) };
}

/** Share of the filled cells of a column that must be words of a class for the column to hold it. */
const MOST = 0.6;
const ROWS_TO_SAMPLE = 200;

function columnsByContent(rows: readonly (readonly string[])[]): ColumnMapping {
  const sample = rows.slice(0, ROWS_TO_SAMPLE);
  const width = Math.min(200, Math.max(0, ...sample.map((row) => row.length)));
  const taken = new Set<number>();
  const columnOf = (fits: (cell: string) => boolean): number | null => {
    for (let column = 0; column < width; column++) {
      const cells = sample.map((row) => (row[column] ?? '').trim()).filter((cell) => cell !== '');
      if (taken.has(column) || cells.length === 0) continue;
      if (cells.filter(fits).length < MOST * cells.length) continue;
      taken.add(column);
      return column;
    }
    return null;
  };
  const plantClass = columnOf((cell) => plantClassNamed(cell) !== undefined);
  const waterUse = columnOf((cell) => waterUseNamed(cell) !== undefined);
  const name = columnOf((cell) => /\p{L}{2}/u.test(cell) && !/^[-+]?\d/.test(cell));
  return { ...NOTHING, plantClass, waterUse, name };
}

/** Letters of a column as spreadsheets name it: A, B ... Z, AA. */
export function columnLetters(index: number): string {
  let letters = '';
  for (let left = index + 1; left > 0; left = Math.floor((left - 1) / 26)) {
    letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters;
  }
  return letters;
}
