import { expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import type { OutletResult } from '../derive/results.ts';
import type { Head, Plant, PointEmitter } from '../plan/records.ts';
import type { TextMark } from './marks.ts';
import { DEFAULT_SHOW, SHEET_SHOW } from './options.ts';
import { emitterNumbers, headTags, plantTags } from './tags.ts';

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
