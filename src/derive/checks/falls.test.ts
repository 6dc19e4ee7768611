import { describe, expect, test } from 'vitest';
import type { Point } from '../../base/point.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import type { Fall, Level, Plan } from '../../plan/records.ts';
import { studyOf } from '../study.ts';
import { groundNotices } from './falls-apart.ts';

const drop = (id: string, from: Point, to: Point, dropM: number): Fall => ({
  id,
  from,
  to,
  by: { kind: 'drop', dropM },
});
const site = (falls: readonly Fall[], levels: readonly Level[] = []): Plan => ({
  ...emptyPlan(),
  falls: Table.of(falls),
  levels: Table.of(levels),
});
const A: Point = [0, 0];
const B: Point = [4, 0];
const C: Point = [4, 3];
const ring = (last: number) => [drop('S1', A, B, 0.2), drop('S2', B, C, 0.3), drop('S3', C, A, last)];

describe('falls that do not come out', () => {
  test('are told over 2 cm, with all that take part, in the study too', () => {
    const plan = site(ring(-0.46));
    expect(groundNotices(plan, 'metric')).toEqual([
      expect.objectContaining({
        rule: 'fall-closure',
        severity: 'warning',
        message: expect.stringMatching(/^Falls S1, S2, S3 do not come out on the way round: 4(\.0)? cm off/),
        refs: ['S1', 'S2', 'S3'].map((id) => ({ table: 'falls', id })),
      }),
    ]);
    expect(studyOf(plan).notices.map(({ rule }) => rule)).toContain('fall-closure');
  });
  test('not up to 2 cm', () => {
    expect(groundNotices(site(ring(-0.482)), 'metric')).toEqual([]);
  });
  test('between levels the levels count', () => {
    const levels = [
      { id: 'Z1', at: A, zM: 1 },
      { id: 'Z2', at: B, zM: 0.5 },
    ];
    const [notice] = groundNotices(site([drop('S1', A, B, 0.6)], levels), 'us');
    expect(notice!.message).toMatch(/^Fall S1 does not come out with the levels.*the levels count\.$/);
  });
  test('the five worst one by one, the rest by number', () => {
    const falls = Array.from({ length: 14 }, (_, i) =>
      drop(
        `S${10 + i}`,
        [Math.floor(i / 2) * 20, 0],
        [Math.floor(i / 2) * 20 + 5, 0],
        i % 2 ? 0.4 + i / 50 : 0,
      ),
    );
    const told = groundNotices(site(falls), 'metric').filter(({ rule }) => rule === 'fall-closure');
    expect(told).toHaveLength(5);
    expect(told[0]!.refs.map(({ id }) => id)).toEqual(['S22', 'S23']);
    expect(told[4]!.message).toMatch(/2 more like this/);
  });
});

describe('falls that hang in the air', () => {
  test('are told, but not the one that is the datum', () => {
    const plan = site([drop('S1', A, B, 0.2), drop('S2', [0, 9], [4, 9], 0.3)]);
    expect(groundNotices(plan, 'metric').map(({ rule, refs }) => [rule, refs.map(({ id }) => id)])).toEqual([
      ['falls-apart', ['S2']],
    ]);
    expect(groundNotices(site([drop('S1', A, B, 0.2)]), 'metric')).toEqual([]);
  });
  test('with both ends at one place they are left out, and told', () => {
    expect(groundNotices(site([drop('S1', A, [0.01, 0], 0.2)]), 'us').map(({ rule }) => rule)).toEqual([
      'fall-without-length',
    ]);
  });
});

describe('checks that ask for heights know falls too', () => {
  test('a supply beyond a single fall is told to lie outside', () => {
    const plan: Plan = {
      ...site([drop('S1', A, B, 0.4)]),
      supplies: Table.of([
        {
          ...{ id: 'V1', name: 'Valve', at: [20, 0] as Point, zM: null, pressureKpa: 300 },
          valveSize: null,
          valveType: null,
          minFlowLph: null,
          maxFlowLph: null,
          runningFlowLph: null,
          runningFlowHow: null,
          watering: null,
          zone: null,
        },
      ]),
    };
    expect(studyOf(plan).notices.map(({ rule }) => rule)).toContain('outside-levels');
    const none = { ...plan, falls: Table.of<Fall>() };
    expect(studyOf(none).notices.map(({ rule }) => rule)).not.toContain('outside-levels');
  });
});
