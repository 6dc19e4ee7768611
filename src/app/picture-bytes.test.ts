import { deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { pictureKindOf, readPictureHeader } from './picture-bytes.ts';

const text = (s: string) => [...s].map((c) => c.charCodeAt(0));
const u16 = (n: number) => [n >> 8, n & 255];
const u32 = (n: number) => [...u16(n >>> 16), ...u16(n & 0xffff)];
const le24 = (n: number) => [n & 255, (n >> 8) & 255, (n >> 16) & 255];
const read = (bytes: readonly number[], size = bytes.length) =>
  readPictureHeader(Uint8Array.from(bytes), size, 'yard.jpg');

const png = (w: number, h: number) => [
  ...[0x89, ...text('PNG'), 13, 10, 26, 10],
  ...u32(13),
  ...text('IHDR'),
  ...u32(w),
  ...u32(h),
  ...[8, 6, 0, 0, 0],
];
/** A JPEG as cameras write it: notes (with a thumbnail that has a frame of its own) before the frame header. */
const jpeg = (w: number, h: number, notes = 300) => [
  ...[0xff, 0xd8],
  ...[0xff, 0xe1, ...u16(notes + 2), ...new Array<number>(notes).fill(0xc0)],
  ...[0xff, 0xff, 0xdb, ...u16(4), 0, 0],
  ...[0xff, 0xc2, ...u16(17), 8, ...u16(h), ...u16(w), 3, ...new Array<number>(9).fill(0)],
  ...[0xff, 0xda],
];
const webp = (chunk: string, body: readonly number[]) => [
  ...text('RIFF'),
  ...[0, 0, 0, 0],
  ...text('WEBP'),
  ...text(chunk),
  ...[0, 0, 0, 0],
  ...body,
  ...new Array<number>(10).fill(0),
];

describe('pictures that are read', () => {
  test.each([
    ['png', png(2000, 1500)],
    ['jpeg', jpeg(2000, 1500)],
    ['webp', webp('VP8X', [0, 0, 0, 0, ...le24(1999), ...le24(1499)])],
    ['webp', webp('VP8 ', [0, 0, 0, 0x9d, 0x01, 0x2a, 2000 & 255, 2000 >> 8, 1500 & 255, 1500 >> 8])],
    ['webp', webp('VP8L', [0x2f, ...[0, 8, 16, 24].map((shift) => ((1999 | (1499 << 14)) >>> shift) & 255)])],
  ])('%s with its size', (kind, bytes) => {
    expect(read(bytes)).toEqual({ ok: true, value: { kind, stored: { widthPx: 2000, heightPx: 1500 } } });
  });

  test('a header cut short gives the kind without a size', () => {
    expect(read(jpeg(2000, 1500).slice(0, 40))).toEqual({ ok: true, value: { kind: 'jpeg', stored: null } });
    expect(read(png(1, 1).slice(0, 10))).toEqual({ ok: true, value: { kind: 'png', stored: null } });
  });

  test('no bytes whatever make it throw', () => {
    const openings = [[], [0xff, 0xd8, 0xff], png(1, 1).slice(0, 8), webp('VP8X', [])];
    fc.assert(
      fc.property(fc.constantFrom(...openings), fc.uint8Array({ maxLength: 200 }), (opening, rest) => {
        expect(() => read([...opening, ...rest])).not.toThrow();
      }),
      { seed: 20261125, numRuns: 2000 },
    );
  });
});

describe('files that are refused say what they are and what to do', () => {
  test.each([
    ['HEIC', [0, 0, 0, 24, ...text('ftypheic')], 'JPEG'],
    ['HEIC', [0, 0, 0, 24, ...text('ftypmif1')], 'JPEG'],
    ['AVIF', [0, 0, 0, 24, ...text('ftypavif')], 'JPEG'],
    ['film', [0, 0, 0, 24, ...text('ftypisom')], 'still picture'],
    ['TIFF', [0x49, 0x49, 0x2a, 0, 8, 0, 0, 0], 'JPEG'],
    ['TIFF', [0x4d, 0x4d, 0, 0x2a, 0, 0, 0, 8], 'JPEG'],
    ['GIF', text('GIF89a'), 'PNG'],
    ['BMP', text('BM......'), 'PNG'],
    ['PDF', text('%PDF-1.7'), 'PNG or JPEG'],
    ['SVG', text('<?xml version="1.0"?>\n<svg xmlns="x">'), 'PNG'],
    ['plan', text('{"format":"x"}'), 'Open'],
    ['not a picture', [...deflateSync('anything')], 'JPEG, PNG or WebP'],
  ])('%s', (what, bytes, todo) => {
    const answer = read(bytes);
    if (answer.ok) throw new Error('It was accepted.');
    expect(answer.problem.where).toBe('yard.jpg');
    expect(answer.problem.what).toContain(what);
    expect(answer.problem.todo).toContain(todo);
  });

  test('an empty file', () => {
    expect(read([])).toMatchObject({ ok: false, problem: { what: 'The file is empty.' } });
  });

  test('more pixels or bytes than a browser can hold, before it tries', () => {
    expect(read(png(20_000, 10_000))).toMatchObject({
      ok: false,
      problem: { what: expect.stringContaining('20000 by 10000') },
    });
    expect(read(png(100, 100), 101e6)).toMatchObject({
      ok: false,
      problem: { what: expect.stringContaining('101 MB') },
    });
  });
});

test('the file ending plays no part', () => {
  expect(pictureKindOf(Uint8Array.from(png(1, 1)))).toBe('png');
});
