import { describe, expect, test } from 'vitest';
import type { Head } from '../records.ts';
import { readSurveyValue } from '../survey.ts';

const FT = 0.3048;
const PSI = 6.894757293168361;

function read(parts: Record<string, unknown>) {
  const result = readSurveyValue({
    format: 'survey',
    version: 1,
    units: { length: 'ft', flow: 'gpm', pressure: 'psi' },
    ...parts,
  });
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
}

function headOf(fields: Record<string, unknown>): { head: Head; told: string[] } {
  const { plan, notices } = read({ heads: [{ id: 'H', x: 0, y: 0, ...fields }] });
  return { head: plan.heads.get('H')!, told: notices.map(({ where }) => where) };
}

describe('what is known of a head', () => {
  test('pressure, body, thread, blocked', () => {
    const { head, told } = headOf({
      gpm: 0.4,
      psi: 32,
      body: '4 in pop-up',
      thread: '1/2 in female',
      blocked: 'yes',
    });
    expect(head).toMatchObject({ body: '4 in pop-up', thread: '1/2 in female', blocked: true, note: '' });
    expect(head.pressureKpa).toBeCloseTo(32 * PSI, 9);
    expect(told).toEqual([]);
  });

  test('missing and unknown are not measured', () => {
    expect(headOf({ psi: 'unknown', body: null, blocked: '?' }).head).toMatchObject({
      pressureKpa: null,
      body: null,
      thread: null,
      blocked: null,
      fate: 'undecided',
    });
  });

  test.each([
    [false, false, ''],
    ['no', false, ''],
    [1, true, ''],
    ['by the juniper', true, 'blocked: by the juniper'],
  ])('blocked %j', (written, blocked, note) => {
    expect(headOf({ blocked: written }).head).toMatchObject({ blocked, note });
  });

  test('blockedBy with a word, and a value that says nothing', () => {
    expect(headOf({ blockedBy: 'hedge' }).head).toMatchObject({ blocked: true, note: 'blocked: hedge' });
    const { head, told } = headOf({ blocked: [1] });
    expect(head.blocked).toBeNull();
    expect(told).toEqual(['heads[0].blocked']);
  });

  test.each([
    ['keep', 'keep'],
    ['Capped', 'cap'],
    ['cut-off', 'cut off'],
    ['tie in', 'tie-in'],
  ])('fate %s', (written, fate) => {
    expect(headOf({ fate: written }).head.fate).toBe(fate);
  });

  test('a fate that is not known is told and kept as a note', () => {
    const { head, told } = headOf({ fate: 'explode' });
    expect(head).toMatchObject({ fate: 'undecided', note: 'fate: "explode"' });
    expect(told).toEqual(['heads[0].fate']);
  });

  test('a pressure below zero or out of all bounds is told and not taken', () => {
    for (const psi of [-3, 1e9]) {
      const { head, told } = headOf({ psi });
      expect(head.pressureKpa).toBeNull();
      expect(told).toHaveLength(1);
    }
  });
});

describe('buildings and walls', () => {
  test('a building by its outline', () => {
    const { plan } = read({
      buildings: [
        {
          id: 'House',
          outline: [
            [0, 0],
            [10, 0],
            [10, 5],
          ],
        },
      ],
    });
    expect(plan.areas.get('House')).toMatchObject({ use: 'building', name: 'House' });
  });

  test('a wall by its line and thickness, as a narrow building', () => {
    const { plan, notices } = read({
      walls: [
        {
          id: 'W',
          line: [
            [0, 0],
            [10, 0],
          ],
          thickness: 0.5,
        },
      ],
    });
    const { outline, use } = plan.areas.get('W')!;
    expect(use).toBe('building');
    expect(outline).toHaveLength(4);
    expect(Math.max(...outline.map(([x]) => x))).toBeCloseTo(10 * FT, 6);
    expect(Math.max(...outline.map(([, y]) => y))).toBeCloseTo(0.25 * FT, 6);
    expect(notices).toEqual([]);
  });

  test('a bent wall is one building with a full corner; one that closes has a hole', () => {
    const bent = read({
      walls: [
        {
          line: [
            [0, 0],
            [10, 0],
            [10, 10],
          ],
          thickness: 1,
        },
      ],
    }).plan.areas.toArray();
    expect(bent).toHaveLength(1);
    expect(bent[0]!.outline).toHaveLength(6);
    const ring = [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 0],
    ];
    const closed = read({ walls: [{ line: ring, thickness: 1 }] }).plan.areas.toArray();
    expect(closed).toHaveLength(1);
    expect(closed[0]!.holes).toHaveLength(1);
  });

  test('ends a and b, a bare line, and a list of bare lines', () => {
    expect(read({ walls: { id: 'W', a: [0, 0], b: [4, 0] } }).plan.areas.get('W')!.outline).toHaveLength(4);
    expect(
      read({
        walls: [
          [0, 0],
          [4, 0],
        ],
      }).plan.areas.size,
    ).toBe(1);
    const two = read({
      walls: [
        [
          [0, 0],
          [4, 0],
        ],
        [
          [0, 2],
          [4, 2],
        ],
      ],
    }).plan.areas.toArray();
    expect(two.map(({ id }) => id)).toEqual(['Wall 1', 'Wall 2']);
  });

  test('walls with an outline are read as buildings are', () => {
    const { plan } = read({
      walls: [
        {
          id: 'W',
          outline: [
            [0, 0],
            [10, 0],
            [10, 1],
            [0, 1],
          ],
        },
      ],
    });
    expect(plan.areas.get('W')).toMatchObject({ use: 'building' });
  });

  test.each([
    [[{ id: 'W', line: [[0, 0]] }]],
    [[{ id: 'W' }]],
    [
      [
        {
          id: 'W',
          line: [
            [0, 0],
            [0, 0],
          ],
        },
      ],
    ],
    [[{ id: 'W', line: 'along the fence' }]],
    [['a fence']],
  ])('%j is left out with a word of why', (walls) => {
    const { plan, notices } = read({ walls });
    expect(plan.areas.size).toBe(0);
    expect(notices.some(({ where }) => where.startsWith('walls'))).toBe(true);
  });
});
