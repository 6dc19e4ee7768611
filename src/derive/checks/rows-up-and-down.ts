import { formatQuantity } from '../../base/quantity.ts';
import type { Run } from '../../plan/records.ts';
import { called } from '../network/notices.ts';
import { agree, counted, listed } from '../wording.ts';
import type { Limit, Rule } from './check.ts';
import { rowsOf, type RowPlace } from './drip-rows.ts';
import { liveFills, setChoices } from './live-fills.ts';
import { isRound } from './run-shape.ts';

const SOURCE =
  'independent irrigation tutorials, drip on slopes, and Flagstaff AZ 13-19-001: lines across the slope; angle and slope: common practice';

const ANGLE: Limit = {
  key: 'rows-up-and-down.angle',
  label: 'Angle between rows and contour',
  kind: 'angle',
  usual: 15,
  least: 0,
  most: 90,
  source: 'common practice',
};
const SLOPE: Limit = {
  key: 'rows-up-and-down.slope',
  label: 'Slope from which rows follow the contour',
  kind: 'slope',
  usual: 8,
  least: 0,
  most: 100,
  source: 'common practice',
};

/** Rows of which more than half, on steep ground, run up and down it. Rings as wide as long run in no direction. */
export const rowsUpAndDown: Rule = {
  number: 24,
  title: 'Rows across the slope',
  says: ['rows-up-and-down'],
  severity: 'warning',
  limits: [ANGLE, SLOPE],
  source: SOURCE,
  check: ({ plan, units, limit }) => {
    if (plan.levels.size + plan.falls.size === 0) return [];
    const round = new Map<Run, boolean>();
    const roundOf = (run: Run): boolean => {
      const known = round.get(run) ?? isRound(run.path);
      round.set(run, known);
      return known;
    };
    const byRun = new Map<Run, { steepM: number; wrongM: number; worst: RowPlace | null }>();
    for (const place of rowsOf(plan)) {
      if (place.slopePercent <= limit(SLOPE) || roundOf(place.run)) continue;
      const sum = byRun.get(place.run) ?? { steepM: 0, wrongM: 0, worst: null };
      byRun.set(place.run, sum);
      sum.steepM += place.lengthM;
      if (place.toContourDeg <= limit(ANGLE)) continue;
      sum.wrongM += place.lengthM;
      if (!sum.worst || place.toContourDeg > sum.worst.toContourDeg) sum.worst = place;
    }
    const wrong = [...byRun].filter(([, { steepM, wrongM }]) => wrongM > steepM / 2);
    if (wrong.length === 0) return [];
    const worst = wrong.reduce((most, [, { worst: one }]) => Math.max(most, one!.toContourDeg), 0);
    const ids = new Set(wrong.map(([{ id }]) => id));
    const fills = liveFills(plan.fills).filter(
      (fill) =>
        fill.kind === 'bed' && fill.choices.pattern === 'straight' && fill.runIds.some((id) => ids.has(id)),
    );
    return [
      {
        rule: 'rows-up-and-down',
        severity: 'warning',
        message: `${counted(wrong.length, 'row')} (${listed(wrong.map(([run]) => called(run)))}) ${agree(wrong.length, 'runs', 'run')} up and down ground steeper than ${formatQuantity('slope', limit(SLOPE), units)}, at up to ${worst.toFixed(0)}° to the contour: pressure differs along them and they drain at their low ends. Lay rows along the contour, within ${limit(ANGLE)}°, and headers up and down.`,
        refs: wrong.map(([{ id }]) => ({ table: 'runs', id }) as const),
        places: wrong.map(([, { worst: one }]) => one!.at),
        source: SOURCE,
        ...(fills.length > 0
          ? {
              fix: {
                label: 'Lay rows along the contour',
                changes: setChoices(fills, { direction: 'contour' }),
              },
            }
          : {}),
      },
    ];
  },
};
