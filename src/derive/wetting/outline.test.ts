import { describe, expect, test } from 'vitest';
import { ringArea } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { wettedAreas, wetOutline, type WetPatch } from './index.ts';

const plan = { ...emptyPlan('test'), soil: { ...emptyPlan('test').soil, texture: 'loam', rootDepthM: 0.3 } };
const areasAt = (places: readonly (readonly [number, number])[], flows: readonly number[] = []) =>
  wettedAreas(
    plan,
    places.map((at, i) => ({ at, ratedFlowLph: flows[i] ?? 2 })),
  );
const radius = areasAt([[0, 0]]).alongM[0]!;
const DISC = Math.PI * radius * radius;
const areaOf = (patches: readonly WetPatch[]) =>
  patches.reduce((sum, { rings }) => sum + rings.reduce((part, ring) => part + ringArea(ring), 0), 0);

describe('rim of the wet ground', () => {
  test('outlets apart are patches of their own', () => {
    const patches = wetOutline(
      areasAt([
        [0, 0],
        [10, 0],
      ]),
    );
    expect(patches).toHaveLength(2);
    expect(areaOf(patches) / (2 * DISC)).toBeCloseTo(1, 1);
  });
  test('two that overlap are one patch with the area of both less the lens', () => {
    const d = radius;
    const lens = radius * radius * ((2 * Math.PI) / 3 - Math.sqrt(3) / 2);
    const patches = wetOutline(
      areasAt([
        [0, 0],
        [d, 0],
      ]),
    );
    expect(patches).toHaveLength(1);
    expect(patches[0]!.rings).toHaveLength(1);
    expect(areaOf(patches) / (2 * DISC - lens)).toBeCloseTo(1, 1);
    expect(Math.abs(areaOf(patches) / (2 * DISC - lens) - 1)).toBeLessThan(0.03);
  });
  test('two at one place are one disc', () => {
    expect(
      areaOf(
        wetOutline(
          areasAt([
            [5000, -3000],
            [5000, -3000],
          ]),
        ),
      ) / DISC,
    ).toBeCloseTo(1, 1);
  });
  test('a ring of outlets leaves a dry island, which stays with its rim', () => {
    const ring = Array.from({ length: 40 }, (_, i) => {
      const angle = (i * Math.PI) / 20;
      return [7 * radius * Math.cos(angle), 7 * radius * Math.sin(angle)] as const;
    });
    const patches = wetOutline(areasAt(ring));
    expect(patches).toHaveLength(1);
    expect(patches[0]!.rings).toHaveLength(2);
    expect(patches[0]!.rings.map((r) => Math.sign(ringArea(r))).toSorted((a, b) => a - b)).toEqual([-1, 1]);
    // With a wet spot in the island there are two patches.
    expect(wetOutline(areasAt([...ring, [0, 0]]))).toHaveLength(2);
  });
  test('all places of a net are wet or dry as the ellipses say, but for those next to the rim', () => {
    const places = Array.from(
      { length: 60 },
      (_, i) => [((i * 37) % 60) / 12, ((i * 23) % 60) / 15] as const,
    );
    const areas = areasAt(
      places,
      places.map((_, i) => 1 + (i % 5)),
    );
    const rings = wetOutline(areas).flatMap((patch) => patch.rings);
    let looked = 0;
    for (let x = -1; x <= 6; x += 0.11) {
      for (let y = -1; y <= 5; y += 0.11) {
        let margin = -Infinity;
        for (let k = 0; k < areas.count; k++)
          margin = Math.max(margin, areas.alongM[k]! - Math.hypot(x - areas.x[k]!, y - areas.y[k]!));
        if (Math.abs(margin) < 0.12 * radius) continue;
        looked++;
        const inside = rings.reduce((odd, ring) => odd !== crossesOdd(ring, x, y), false);
        expect(inside).toBe(margin > 0);
      }
    }
    expect(looked).toBeGreaterThan(1500);
  });
  test('nothing wet has no rim', () => {
    expect(wetOutline(areasAt([]))).toEqual([]);
    expect(wetOutline(areasAt([[0, 0]], [0]))).toEqual([]);
    expect(wetOutline(areasAt([[NaN, 0]]))).toEqual([]);
    expect(wettedAreas({ ...plan, levels: Table.of([]) }, []).count).toBe(0);
  });
});

function crossesOdd(ring: readonly (readonly [number, number])[], x: number, y: number): boolean {
  let inside = false;
  ring.forEach(([xi, yi], i) => {
    const [xj, yj] = ring[(i + ring.length - 1) % ring.length]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  });
  return inside;
}
