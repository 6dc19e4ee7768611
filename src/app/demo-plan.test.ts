import { describe, expect, test } from 'vitest';
import { distance, type Point } from '../base/point.ts';
import { polygonContains, selfCrossings } from '../base/polygon.ts';
import { fitPhoto, photoToPlan } from '../derive/photo-fit.ts';
import { studyOf } from '../derive/study.ts';
import { readPlan, writePlan } from '../plan/file.ts';
import { followed } from '../layout/live/index.ts';
import { TABLES, type Plan } from '../plan/records.ts';
import { demoPlan } from './demo-plan.ts';
import { demoHeightM, demoPixel, WALK_BED } from './demo-site.ts';

const plan = demoPlan('picture');
const study = studyOf(plan);

describe('the demo plan', () => {
  test('has something in every table', () => {
    for (const table of TABLES) expect(plan[table].size, table).toBeGreaterThan(0);
    expect(new Set([...plan.plants].map((plant) => plant.plantClass)).size).toBe(4);
    expect([...plan.areas].some((area) => area.use === 'bed' && area.holes.length > 0)).toBe(true);
  });

  test('is a plan that a file holds without a remark, its picture apart', () => {
    const read = readPlan(writePlan(plan, { mediaType: 'image/jpeg', base64: 'AAAA' }));
    expect(read).toMatchObject({ ok: true, value: { notices: [] } });
    if (read.ok) expect(read.value.plan).toEqual(plan);
  });

  test('refers only to records that it has', () => {
    for (const emitter of plan.emitters) {
      expect(plan.runs.has(emitter.runId)).toBe(true);
      expect(plan.plants.has(emitter.plantId!)).toBe(true);
    }
    for (const pipe of plan.laterals) {
      for (const id of [pipe.from, pipe.to]) expect(plan.heads.has(id) || plan.supplies.has(id)).toBe(true);
    }
  });

  test('has sound outlines, and plants that stand in beds', () => {
    const beds = [...plan.areas].filter((area) => area.use === 'bed');
    for (const area of plan.areas) expect(selfCrossings(area.outline), area.name).toEqual([]);
    for (const plant of plan.plants) {
      expect(
        beds.some((bed) => polygonContains(bed.outline, bed.holes, plant.at)),
        plant.id,
      ).toBe(true);
    }
  });

  test('lies on its picture within 2 cm by its own measured lines, which agree within 1 percent', () => {
    const fit = fitPhoto(plan.photo!);
    expect(fit.scaled).toBe(true);
    expect(fit.warnings).toEqual([]);
    const check = fit.lines.find((line) => line.role === 'check')!;
    expect(Math.abs(check.residualPercent)).toBeGreaterThan(0);
    expect(Math.abs(check.residualPercent)).toBeLessThan(1);
    for (const area of plan.areas) {
      for (const corner of area.outline) {
        expect(distance(photoToPlan(plan.photo!, demoPixel(corner)), corner)).toBeLessThan(0.02);
      }
    }
  });

  test('falls by about 8 percent toward the street, its levels read to the centimetre', () => {
    for (const level of plan.levels) expect(Math.abs(level.zM - demoHeightM(level.at))).toBeLessThan(0.0051);
    const fall = demoHeightM([5, 13]) - demoHeightM([5, 3]);
    expect(fall / 10).toBeCloseTo(0.08, 9);
  });
});

describe('the study of the demo plan', () => {
  test('has neither errors nor warnings while it runs', () => {
    const grave = study.notices.filter((notice) => notice.severity !== 'info');
    const running = grave.filter(({ message }) => !message.startsWith('Flushing: '));
    expect(running.filter(({ waived }) => !waived)).toEqual([]);
    // One finding is accepted, with its reason.
    expect(running.map(({ rule }) => rule)).toEqual(['water-use-mixed']);
    expect(running[0]!.waived!.reason.length).toBeGreaterThan(40);
  });

  test('shows what only other situations bring to light', () => {
    const told = study.notices.filter(({ message }) => /^[A-Z][a-z -]+: /.test(message));
    expect(told.filter(({ severity }) => severity === 'warning').map(({ rule }) => rule)).toEqual([
      'flush-filter-flow-high',
    ]);
  });

  test('every outlet has water at a pressure within its range', () => {
    expect(study.results.outlets.length).toBeGreaterThan(80);
    expect(study.results.outlets.filter((outlet) => outlet.state !== 'good')).toEqual([]);
    expect(study.results.solution.converged).toBe(true);
  });

  test('its fills are what the aids lay on it now, so that they follow an edit', () => {
    expect([...plan.fills].map(({ kind, byHand }) => [kind, byHand])).toEqual([
      ['bed', false],
      ['tree', false],
    ]);
    for (const fill of plan.fills) {
      expect(fill.runIds.length).toBeGreaterThan(3);
      for (const id of fill.runIds) expect(plan.runs.has(id), id).toBe(true);
    }
    const { [0]: bed } = [...plan.fills];
    const dragged = {
      ...plan,
      areas: plan.areas.with({
        ...plan.areas.get('A6')!,
        outline: WALK_BED.map(([x, y]): Point => [x, y === 4.4 ? 5 : y]),
      }),
    };
    const after = followed(plan, dragged);
    const lowest = (of: Plan): number =>
      Math.min(
        ...[...of.fills.get(bed!.id)!.runIds].flatMap((id) => of.runs.get(id)!.path.map(([, y]) => y)),
      );
    expect(lowest(after)).toBeCloseTo(lowest(plan) + 0.6, 6);
  });

  test('has outlets of all three kinds: built in, on the tubing, at the end of a feeder', () => {
    const { outlets } = study.results;
    expect(outlets.some((outlet) => outlet.owner.table === 'runs')).toBe(true);
    expect(outlets.some((outlet) => outlet.owner.table === 'emitters' && outlet.feederM === 0)).toBe(true);
    expect(outlets.some((outlet) => outlet.owner.table === 'emitters' && outlet.feederM > 0.2)).toBe(true);
  });
});
