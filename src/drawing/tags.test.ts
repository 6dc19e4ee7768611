import { describe, expect, test } from 'vitest';
import type { Point } from '../base/point.ts';
import { Table } from '../base/table.ts';
import type { OutletResult } from '../derive/results.ts';
import { UNMEASURED_HEAD, UNMEASURED_LATERAL } from '../plan/empty.ts';
import type { Head, LateralPipe, Plant, PointEmitter } from '../plan/records.ts';
import type { TextMark } from './marks.ts';
import { DEFAULT_SHOW, SHEET_SHOW } from './options.ts';
import { emitterNumbers, headTags, jointTags, plantTags } from './tags.ts';

const emitters = Table.of(
  (
    [
      ['e1', 'r1'],
      ['e2', 'r2'],
      ['e3', 'r1'],
    ] as const
  ).map(([id, runId], i): PointEmitter => ({
    id,
    runId,
    at: [i, 0],
    plantId: null,
    law: 'point-pc',
    ratedFlowLph: 4,
  })),
);

const words = (marks: ReturnType<typeof emitterNumbers>): string[] =>
  marks.map((mark) => (mark.kind === 'text' ? `${mark.owner} ${mark.text}` : ''));

test('plants and heads carry their ids', () => {
  const plant = { id: 'P6', at: [1, 2], name: 'sage' } as unknown as Plant;
  const head = { id: 'H3', at: [3, 4] } as unknown as Head;
  expect(words(plantTags(Table.of([plant])))).toEqual(['plants/P6 P6']);
  expect(words(headTags(Table.of([head])))).toEqual(['heads/H3 H3']);
});

test('only tags of trees are sure to stay', () => {
  const plants = (['tree', 'shrub', 'perennial', 'groundcover'] as const).map(
    (plantClass) => ({ id: plantClass, at: [0, 0], name: '', plantClass }) as unknown as Plant,
  );
  const tags = plantTags(Table.of(plants)) as TextMark[];
  expect(tags.filter((tag) => !tag.mayDrop).map(({ text }) => text)).toEqual(['tree']);
});

test('emitters are numbered along their own run', () => {
  expect(words(emitterNumbers(emitters, null))).toEqual(['emitters/e1 1', 'emitters/e2 1', 'emitters/e3 2']);
});

test('computed outlets give their numbers; an emitter without an outlet has none', () => {
  const outlets = [
    { owner: { table: 'emitters', id: 'e3' }, number: 1 },
    { owner: { table: 'runs', id: 'e1' }, number: 7 },
    { owner: { table: 'emitters', id: 'e1' }, number: 2 },
  ] as unknown as OutletResult[];
  expect(words(emitterNumbers(emitters, outlets))).toEqual(['emitters/e1 2', 'emitters/e3 1']);
});

test('tags and dimensions are on sheets and not on the screen', () => {
  for (const subject of ['dimensions', 'plantTags', 'headTags', 'emitterNumbers'] as const) {
    expect(SHEET_SHOW.has(subject)).toBe(true);
    expect(DEFAULT_SHOW.has(subject)).toBe(false);
  }
  for (const subject of DEFAULT_SHOW) expect(SHEET_SHOW.has(subject)).toBe(true);
});

describe('joints of old pipe', () => {
  const pipe = (
    id: string,
    from: string,
    to: string,
    a: Point,
    b: Point,
    fate: LateralPipe['fate'],
  ): LateralPipe => ({
    ...UNMEASURED_LATERAL,
    id,
    from,
    to,
    a,
    b,
    fate,
  });
  const heads = Table.of([{ ...UNMEASURED_HEAD, id: 'H1', at: [4, 0.1] as Point }]);
  const tagsOf = (...pipes: LateralPipe[]) =>
    jointTags(Table.of(pipes), heads, Table.of()).map((mark) => mark.kind === 'text' && mark.text);

  test('are named where something is cut off and neither head nor valve stands', () => {
    const live = pipe('L1', 'V', 'N1', [0, 0], [2, 0], 'live');
    const branch = pipe('L3', 'N1', 'N2', [2, 0], [2, 3], 'cut off');
    expect(tagsOf(live, pipe('L2', 'N1', 'T1', [2, 0], [4, 0], 'live'), branch)).toEqual(['V', 'N1', 'N2']);
    expect(tagsOf(live, { ...branch, fate: 'undecided' })).toEqual([]);
  });
  test('only in the zone in which something is cut off', () => {
    const other = { ...pipe('L9', 'A', 'B', [9, 9], [9, 12], 'undecided'), zone: '2' };
    expect(tagsOf({ ...pipe('L1', 'N1', 'N2', [0, 0], [2, 0], 'cut off'), zone: '1' }, other)).toEqual([
      'N1',
      'N2',
    ]);
  });
});
