import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { distance, type Point, type Ring } from '../../base/point.ts';
import { distanceToRing, polygonContains } from '../../base/polygon.ts';
import { Table } from '../../base/table.ts';
import { FOOT_M, INCH_MM } from '../../base/units.ts';
import { buildPlanNetwork } from '../../derive/network/index.ts';
import { groundOf } from '../../derive/ground/index.ts';
import { control, level, supply } from '../../derive/plan-for-tests.ts';
import { emptyPlan } from '../../plan/empty.ts';
import { plantsOf } from '../../plan/emitter-plants.ts';
import type { Area, Plan, Plant, PlantClass } from '../../plan/records.ts';
import { layPoints, plantNumbers, pointsEdit, USUAL_POINTS, type PointChoices } from './index.ts';

/** Random plants on random ground: what must hold whatever is drawn. Read back without the module's own geometry. */

const box = (id: string, use: Area['use'], x: number, y: number, w: number, h: number): Area => ({
  id,
  use,
  name: '',
  outline: [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ],
  holes: [],
});
const num = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const CLASSES: readonly PlantClass[] = ['tree', 'shrub', 'perennial', 'groundcover'];

const sites = fc
  .record({
    width: num(4, 30),
    height: num(3, 14),
    slabs: fc.array(
      fc.record({ x: num(0, 1), y: num(0, 1), w: num(0.2, 3), h: num(0.2, 8), wall: fc.boolean() }),
      {
        maxLength: 3,
      },
    ),
    hole: fc.option(fc.record({ x: num(0.2, 0.6), y: num(0.2, 0.6) })),
    second: fc.boolean(),
    plants: fc.array(
      fc.record({
        x: num(0, 1),
        y: num(0, 1),
        plantClass: fc.constantFrom(...CLASSES),
        canopyM: num(0.2, 6),
        nowShare: fc.option(num(0.1, 1)),
      }),
      { minLength: 1, maxLength: 40 },
    ),
    tilt: fc.option(fc.record({ east: num(-0.6, 0.6), north: num(-0.6, 0.6) })),
    start: fc.record({ x: num(-5, 30), y: num(-5, 20) }),
    place: fc.constantFrom('now', 'mature'),
    limitM: fc.constantFrom(0.5, 1, 6 * FOOT_M, 3),
    share: fc.boolean(),
    emitterAt: fc.constantFrom('plant', 'run'),
  })
  .map(({ width, height, slabs, hole, second, plants, tilt, start, place, limitM, share, emitterAt }) => {
    const bed = box('A1', 'bed', 0, 0, width, height);
    const holes: Ring[] = hole
      ? [
          [
            [hole.x * width, hole.y * height],
            [hole.x * width + 1, hole.y * height],
            [hole.x * width + 1, hole.y * height + 0.8],
          ],
        ]
      : [];
    const areas = [
      { ...bed, holes },
      ...(second
        ? [box('A2', 'bed', width + 1.2, 0, 5, 4), box('A3', 'paving', width, -2, 1.2, height + 4)]
        : []),
      ...slabs.map(({ x, y, w, h, wall }, i) =>
        box(`S${i}`, wall ? 'building' : 'paving', x * width, y * height, w, Math.min(h, height * 0.8)),
      ),
    ];
    const hard = areas.filter(({ use }) => use === 'paving' || use === 'building');
    const spread: Plant[] = [];
    plants.forEach(({ x, y, plantClass, canopyM, nowShare }, i) => {
      const at: Point = [x * (second ? width + 6 : width), y * height];
      // Stems stand half a metre apart and off the paving, as planted.
      if (spread.some((other) => distance(other.at, at) < 0.5)) return;
      if (hard.some(({ outline }) => polygonContains(outline, [], at) || distanceToRing(outline, at) < 0.5))
        return;
      if (holes.some((ring) => polygonContains(ring, [], at) || distanceToRing(ring, at) < 0.5)) return;
      spread.push({
        id: `P${i}`,
        at,
        name: '',
        plantClass,
        canopyNowM: nowShare === null ? null : canopyM * nowShare,
        canopyMatureM: Math.max(canopyM, plantClass === 'tree' ? 3 : 0.9),
        rootBallM: null,
        waterUse: null,
      });
    });
    const plan: Plan = {
      ...emptyPlan('test'),
      areas: Table.of(areas),
      plants: Table.of(spread),
      levels: Table.of(
        tilt
          ? (
              [
                [0, 0],
                [30, 0],
                [0, 20],
              ] as const
            ).map(([x, y], i) => level(`Z${i}`, x, y, x * tilt.east + y * tilt.north))
          : [],
      ),
      supplies: Table.of([supply('V1', [start.x, start.y])]),
      controls: Table.of([control('C1', [start.x, start.y])]),
    };
    const choices: PointChoices = {
      ...USUAL_POINTS,
      place: place as PointChoices['place'],
      feederLimitM: limitM,
      share,
      emitterAt: emitterAt as PointChoices['emitterAt'],
    };
    return { plan, choices, hard, holes };
  });

const STEP_M = 0.02;
const RUNS = { seed: 20_240_611, numRuns: 150 };

describe('random plants on random ground', () => {
  test('every plant gets its number in its root zone, off stems and paving, uphill on slopes', () => {
    fc.assert(
      fc.property(sites, ({ plan, choices, hard, holes }) => {
        const plants = plan.plants.toArray();
        const { placed, notes } = layPoints(plan, plants, choices);
        const ground = groundOf(plan);
        const numbers = plantNumbers(plan, plants, choices);
        const excused = new Set(
          notes
            .filter(({ rule }) => rule === 'no-place' || rule === 'fewer')
            .flatMap(({ refs }) => refs.map(({ id }) => id)),
        );
        expect(excused.size).toBeLessThanOrEqual(plants.length * 0.25);
        for (const plant of plants) {
          const own = placed.filter((one) => plantsOf(one).includes(plant.id));
          if (!excused.has(plant.id)) expect(own.length).toBe(numbers.get(plant.id)!.count);
          const { percent, fallDeg } = ground.slopeAt(plant.at);
          for (const { at } of own) {
            expect(distance(at, plant.at)).toBeLessThanOrEqual(
              Math.max(plant.canopyMatureM / 2, 0.1524) + 1e-9,
            );
            for (const { outline } of hard) expect(polygonContains(outline, [], at)).toBe(false);
            for (const ring of holes) expect(polygonContains(ring, [], at)).toBe(false);
            for (const other of plants) {
              expect(distance(at, other.at)).toBeGreaterThanOrEqual((6 * INCH_MM) / 1000 - 1e-9);
            }
            if (percent >= 10) {
              const fall = (fallDeg * Math.PI) / 180;
              const down = (at[0] - plant.at[0]) * Math.cos(fall) + (at[1] - plant.at[1]) * Math.sin(fall);
              expect(down).toBeLessThanOrEqual(0);
            }
          }
        }
      }),
      RUNS,
    );
  });

  test('every emitter hangs on a run within the feeder limit; no run is loose once a control set stands at the start', () => {
    fc.assert(
      fc.property(sites, ({ plan, choices }) => {
        const plants = plan.plants.toArray();
        const next = pointsEdit(plan, plants, choices, 'Place').apply(plan);
        const layout = layPoints(plan, plants, choices);
        expect(next.emitters.size).toBe(layout.placed.length);
        if (next.emitters.size === 0) return;
        const { outlets, parts, notices } = buildPlanNetwork(next);
        expect(parts.apartRuns).toEqual([]);
        expect(parts.bareRuns).toEqual([]);
        expect(notices).toEqual([]);
        expect(outlets.length).toBe(next.emitters.size);
        for (const outlet of outlets) expect(outlet.feederM).toBeLessThanOrEqual(choices.feederLimitM + 1e-6);
        expect(layout.longestFeederM).toBeCloseTo(Math.max(...outlets.map(({ feederM }) => feederM)), 6);
      }),
      RUNS,
    );
  });

  test('tubing goes round buildings and what is left out of a bed, wherever it begins outside of them', () => {
    fc.assert(
      fc.property(sites, ({ plan, choices, hard, holes }) => {
        const start = [...plan.controls][0]!.at;
        const walls = [
          ...hard.filter(({ use }) => use === 'building').map(({ outline }) => outline),
          ...holes,
        ];
        fc.pre(!walls.some((ring) => polygonContains(ring, [], start) || distanceToRing(ring, start) < 0.3));
        const { route } = layPoints(plan, plan.plants.toArray(), choices);
        for (const path of route.runs) {
          for (const ring of walls) {
            let insideM = 0;
            path.slice(1).forEach((b, i) => {
              const a = path[i]!;
              const pieces = Math.ceil(distance(a, b) / STEP_M);
              for (let k = 0; k < pieces; k++) {
                const t = (k + 0.5) / pieces;
                const p: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
                if (polygonContains(ring, [], p)) insideM += distance(a, b) / pieces;
              }
            });
            // On the grid a corner may be cut by a hair.
            expect(insideM).toBeLessThan(0.05);
          }
        }
      }),
      RUNS,
    );
  });

  test('the same plan gives the same layout, and a second press draws no tubing', () => {
    fc.assert(
      fc.property(sites, ({ plan, choices }) => {
        const plants = plan.plants.toArray();
        const edit = pointsEdit(plan, plants, choices, 'Place');
        const once = edit.apply(plan);
        expect(JSON.stringify([...edit.apply(plan).runs, ...once.emitters])).toBe(
          JSON.stringify([...once.runs, ...once.emitters]),
        );
        const twice = pointsEdit(once, plants, choices, 'Place').apply(once);
        expect(twice.runs.size).toBe(once.runs.size);
        expect(twice.emitters.size).toBe(once.emitters.size);
      }),
      { ...RUNS, numRuns: 60 },
    );
  });
});
