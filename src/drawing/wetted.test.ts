import { describe, expect, test } from 'vitest';
import { Table } from '../base/table.ts';
import { dripline } from '../derive/plan-for-tests.ts';
import { emptyPlan } from '../plan/empty.ts';
import type { Plan, Plant } from '../plan/records.ts';
import { planDrawer } from './draw-plan.ts';
import { DEFAULT_SHOW, SHEET_SHOW, SUBJECTS, type Subject } from './options.ts';
import {
  rootZoneMarks,
  ROOTS_MATURE,
  ROOTS_NOW,
  wettedMarks,
  wettingLegend,
  wettingOutlets,
} from './wetted.ts';

const plant = (id: string, canopyNowM: number | null): Plant => ({
  id,
  at: [2, 1],
  name: '',
  plantClass: 'shrub',
  canopyNowM,
  canopyMatureM: 2,
  rootBallM: null,
  waterUse: null,
});
const plan: Plan = {
  ...emptyPlan('test'),
  runs: Table.of([
    dripline('R', [
      [0, 0],
      [6, 0],
    ]),
    dripline('S', [
      [0, 9],
      [6, 9],
    ]),
  ]),
  plants: Table.of([plant('A', 1), plant('B', null)]),
};
const drawn = (...subjects: Subject[]) =>
  planDrawer()(plan, null, {
    units: 'us',
    show: new Set(subjects),
    colourRange: null,
    photoMetresPerPixel: 1,
  }).flatMap(({ marks }) => marks);

describe('wet soil', () => {
  test('overlapping outlets are one soft shape without an outline, rows apart are two', () => {
    const marks = wettedMarks(plan, wettingOutlets(plan, null));
    expect(marks).toHaveLength(2);
    for (const mark of marks) {
      expect(mark).toMatchObject({ kind: 'path', closed: true, fill: 'water' });
      expect(mark).not.toHaveProperty('pen');
      expect(mark.kind === 'path' && mark.fillOpacity! < 0.3).toBe(true);
    }
  });
  test('without outlets there is none', () => {
    expect(wettedMarks(plan, [])).toEqual([]);
    expect(wettingOutlets(emptyPlan('test'), null)).toEqual([]);
  });
  test('the list of outlets is the same for the same tables, so that nothing is reckoned twice', () => {
    expect(wettingOutlets(plan, null)).toBe(wettingOutlets({ ...plan }, null));
  });
});

describe('root zones', () => {
  test('now only where the canopy is measured, grown for all', () => {
    expect(rootZoneMarks(plan.plants, 'now')).toEqual([
      { kind: 'circle', owner: 'plants/A', at: [2, 1], radiusM: 0.5, pen: ROOTS_NOW },
    ]);
    expect(
      rootZoneMarks(plan.plants, 'mature').map((mark) => mark.kind === 'circle' && mark.radiusM),
    ).toEqual([1, 1]);
    expect([ROOTS_NOW.dashMm, ROOTS_MATURE.dashMm?.length]).toEqual([undefined, 2]);
  });
});

test('shown only when asked for, and never on sheets', () => {
  const asked = ['wetted', 'rootZonesNow', 'rootZonesMature'] as const;
  for (const subject of asked) {
    expect(SUBJECTS).toContain(subject);
    expect(SHEET_SHOW.has(subject)).toBe(false);
    expect(DEFAULT_SHOW.has(subject)).toBe(false);
    expect(wettingLegend(new Set([subject]))).toHaveLength(1);
  }
  expect(drawn()).toEqual([]);
  expect(drawn('wetted')).toHaveLength(2);
  expect(drawn('rootZonesNow')).toHaveLength(1);
  expect(drawn('rootZonesMature')).toHaveLength(2);
  expect(wettingLegend(DEFAULT_SHOW)).toEqual([]);
});
