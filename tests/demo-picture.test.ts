import { inflateSync } from 'node:zlib';
import { beforeAll, describe, expect, test } from 'vitest';
import { encodePng } from '../scripts/painting/png.mjs';
import { paintSite } from '../scripts/painting/scene.mjs';
import * as site from '../src/app/demo-site.ts';
import { polar } from '../src/base/point.ts';
import type { Point, Ring } from '../src/base/point.ts';
import { polygonContains } from '../src/base/polygon.ts';
import { nearestOnPath } from '../src/base/polyline.ts';

type Picture = ReturnType<typeof paintSite>;

const PIXELS_PER_METRE = 40;
let picture: Picture;
beforeAll(() => {
  picture = paintSite(site, PIXELS_PER_METRE);
});

function colourAt([x, y]: Point): readonly [number, number, number] {
  const column = Math.floor(x * PIXELS_PER_METRE);
  const row = Math.floor(picture.height - y * PIXELS_PER_METRE);
  const at = (row * picture.width + column) * 3;
  return [picture.pixels[at]!, picture.pixels[at + 1]!, picture.pixels[at + 2]!];
}

/** Grass is green, bark is brown, stone and concrete are grey. */
function groundAt(p: Point): 'green' | 'brown' | 'grey' {
  const [r, g, b] = colourAt(p);
  if (g > r + 3 && g > b + 10) return 'green';
  return r > b + 15 ? 'brown' : 'grey';
}

/** Places all over the picture, away from edges, plants and painted things. */
function* placesIn(outline: Ring, holes: readonly Ring[]): Generator<Point> {
  const edges = [
    ...[outline, ...holes],
    site.HOUSE_BED,
    site.WALK_BED,
    site.ROUND_BED,
    site.BASIN,
    site.HOUSE,
  ];
  for (let x = 0.15; x < 24; x += 0.31) {
    for (let y = 0.15; y < 18; y += 0.31) {
      const p: Point = [x, y];
      if (!polygonContains(outline, holes, p)) continue;
      const clearOf = (q: Point, far: number) => Math.hypot(q[0] - x, q[1] - y) > far;
      if (!edges.every((ring) => nearestOnPath([...ring, ring[0]!], p).distance > 0.15)) continue;
      if (!site.DEMO_PLANTS.every((plant) => clearOf(plant.at, plant.canopyNowM / 2 + 0.7))) continue;
      if (![...site.DEMO_HEADS, site.DEMO_VALVE].every((q) => clearOf(q, 0.4))) continue;
      yield p;
    }
  }
}

describe('the painted site shows what the demo plan traces', () => {
  test.each([
    ['house bed', site.HOUSE_BED, [], 'brown'],
    ['walk bed', site.WALK_BED, [], 'brown'],
    ['round bed', site.ROUND_BED, [site.BASIN], 'brown'],
    ['lawn', site.LAWN, [site.ROUND_BED], 'green'],
    ['walk', site.WALK, [], 'grey'],
    ['driveway', site.DRIVEWAY, [], 'grey'],
  ] as const)('%s, up to 15 cm from its edge', (_name, outline, holes, ground) => {
    // The shadow of the eaves lies on what is nearer than this to the house.
    const places = [...placesIn(outline, holes)].filter(([, y]) => y < 9.6 || ground !== 'grey');
    expect(places.length).toBeGreaterThan(25);
    const wrong = places.filter((p) => groundAt(p) !== ground);
    expect(wrong.map((p) => [p, colourAt(p)])).toEqual([]);
  });

  test('each plant is painted at its place', () => {
    for (const { at, canopyNowM } of site.DEMO_PLANTS) {
      const ring = [0, 60, 120, 180, 240, 300].map((turnDeg) => polar(at, canopyNowM * 0.3, turnDeg));
      const leaves = [at, ...ring].filter((p) => groundAt(p) !== 'brown');
      expect(leaves.length, `plant at ${at.join(', ')}`).toBeGreaterThanOrEqual(4);
    }
  });
});

describe('the picture file', () => {
  test('is the same at every run', () => {
    expect(Buffer.compare(encodePng(picture), encodePng(paintSite(site, PIXELS_PER_METRE)))).toBe(0);
  });

  test('is a PNG that holds the painted pixels', () => {
    const small = paintSite(site, 10);
    const { width, height, pixels } = small;
    const png = encodePng(small);
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([width, height]);
    const start = png.indexOf('IDAT');
    const data = inflateSync(png.subarray(start + 4, start + 4 + png.readUInt32BE(start - 4)));
    expect(unfiltered(data, width, height)).toEqual(Buffer.from(pixels));
  });
});

/** Undoes the row filters of the PNG specification, 9.2. */
function unfiltered(data: Buffer, width: number, height: number): Buffer {
  const stride = width * 3;
  const out = Buffer.alloc(stride * height);
  for (let y = 0; y < height; y++) {
    const type = data[y * (stride + 1)];
    for (let i = 0; i < stride; i++) {
      const left = i >= 3 ? out[y * stride + i - 3]! : 0;
      const up = y > 0 ? out[(y - 1) * stride + i]! : 0;
      const corner = i >= 3 && y > 0 ? out[(y - 1) * stride + i - 3]! : 0;
      const guess = left + up - corner;
      const nearest = [left, up, corner].reduce((a, b) =>
        Math.abs(guess - b) < Math.abs(guess - a) ? b : a,
      );
      const add = type === 0 ? 0 : type === 1 ? left : type === 2 ? up : nearest;
      out[y * stride + i] = data[y * (stride + 1) + 1 + i]! + add;
    }
  }
  return out;
}
